using BoardSim.Blocks;
using BoardSim.Blocks.Rectifiers;
using BoardSim.Engine.Circuits;
using BoardSim.Measurement;

namespace BoardSim.Tests.Blocks;

/// <summary>The line rectifier as technicians know it.</summary>
public class BridgeBulkTests
{
    // Common practice, no source: the line's crest less two diode drops, so about 170 V from 120 V and about 320 V from 230 V.
    [Theory]
    [InlineData(MainsSupply.Mains120V, 170)]
    [InlineData(MainsSupply.Mains230V, 325)]
    public void Lightly_loaded_bulk_capacitor_charges_to_the_crest_of_the_line(MainsSupply supply, double volts)
    {
        var run = Bench.Run(new BridgeBulk { Supply = supply, LoadPower = 1 }.Build());
        Near.Relative(volts, run.V("bulk").Mean(), 0.03);
    }

    // Common practice, no source: a doubler makes of 120 V what a bridge makes of 230 V.
    [Fact]
    public void Doubler_gives_twice_the_crest_and_shares_it_between_its_capacitors()
    {
        var run = Bench.Run(new BridgeBulk { Arrangement = RectifierArrangement.Doubler, LoadPower = 1 }.Build());
        Near.Relative(2 * 170, run.V("bulk").Mean(), 0.03);
        Near.Relative(0.5, run.V("middle").Mean() / run.V("bulk").Mean(), 0.01);
    }

    // Common practice, no source: without a limiter the first charge draws tens of amperes; a 10 ohm NTC keeps it below 17 A when
    // cold (120 V crest over 10 ohm), a hot restart loses most of that.
    [Fact]
    public void First_charge_without_limiter_cold_and_hot()
    {
        var none = Inrush(new BridgeBulk { Limiter = InrushLimiter.None });
        var cold = Inrush(new BridgeBulk());
        var hot = Inrush(new BridgeBulk { LimiterStartTemperature = 273.15 + 150 });
        Assert.InRange(none, 30, 170);
        Assert.InRange(cold, 10, 17);
        Assert.InRange(hot, 2 * cold, none);
    }

    // The energy that a resistor takes while it charges a capacitor is C V^2 / 2 whatever the resistance, and the peak is V/R
    // (closed form; 230 V rms at its crest, 10 ohm, 100 uF: 32.53 A and 5.290 J).
    [Fact]
    public void Charging_through_a_resistor_costs_the_energy_that_is_stored()
    {
        var circuit = new Circuit();
        circuit.Add(new BoardSim.Engine.Devices.VoltageSource("V1", "a", "0", 230 * Math.Sqrt(2)));
        circuit.Add(new BoardSim.Engine.Devices.Resistor("R1", "a", "b", 10));
        circuit.Add(new BoardSim.Engine.Devices.Capacitor("C1", "b", "0", 100e-6));
        var current = Bench.Run(circuit, ["b"], ["R1"], 0, 20e-3).I("R1");
        Near.Relative(32.53, current.Maximum().Value, 0.001);
        Near.Relative(5.290, 10 * current.IntegralOfSquare(), 0.001);
    }

    // Hold-up is the energy between two voltages over the power, t = C (V1^2 - V2^2) / 2P (closed form); here from the voltage
    // at the instant of unplugging, with a capacitor of small series resistance.
    [Fact]
    public void Bulk_capacitor_carries_a_constant_power_for_as_long_as_its_energy_lasts()
    {
        const double off = 0.1;
        var block = new BridgeBulk { UnplugAt = off, BulkEsr = 0.01, BulkLeakage = 1e9, Supply = MainsSupply.Mains230V };
        var bulk = Bench.Run(block.Build(), off + 1e-3, 0.4).V("bulk");
        var start = bulk.At(off + 5e-3);
        const double end = 150;
        var expected = 68e-6 * (start * start - end * end) / (2 * 12.0);
        var measured = bulk.FirstCrossing(end)!.Value - (off + 5e-3);
        Near.Relative(expected, measured, 0.005);
    }

    // Common practice, no source: full-wave ripple has twice the line's frequency, and one open diode halves it.
    [Fact]
    public void Open_diode_halves_the_frequency_of_the_ripple_and_doubles_its_height()
    {
        var block = new BridgeBulk();
        var healthy = Bench.Run(block.Build()).V("bulk");
        var faulty = Bench.Run(block.Fault("diode-d2-open").Apply(block.Build())).V("bulk");
        Assert.Equal(120, Frequency(healthy), 0);
        Assert.Equal(60, Frequency(faulty), 0);
        Assert.InRange(faulty.PeakToPeak() / healthy.PeakToPeak(), 1.8, 2.6);
    }

    // Common practice, no source: the primary return is not earth; with one conductor of the line earthed it carries the line's
    // negative half-waves, so a meter's black lead on earth reads something, but not the bulk voltage.
    [Fact]
    public void Primary_return_swings_below_earth_with_every_other_half_wave()
    {
        var run = Bench.Run(new BridgeBulk().Build());
        var swing = run.V("return");
        Near.Relative(-170, swing.Minimum().Value, 0.06);
        Assert.InRange(swing.Mean(), -0.6 * run.V("bulk").Mean(), -0.4 * run.V("bulk").Mean());
    }

    // Cornell Dubilier, Aluminum Electrolytic Capacitor Application Guide (from memory): series resistance falls by 35 to 50 %
    // from 25 degC to hot, and rises 10 to 100 times at -40 degC.
    [Fact]
    public void Series_resistance_follows_temperature_within_the_makers_band()
    {
        Near.Relative(1, Electrolytic.SeriesResistanceFactor(298.15), 1e-12);
        Assert.InRange(Electrolytic.SeriesResistanceFactor(273.15 + 105), 0.50, 0.65);
        Assert.InRange(Electrolytic.SeriesResistanceFactor(273.15 - 40), 10, 100);
        var factors = Enumerable.Range(0, 30).Select(k => Electrolytic.SeriesResistanceFactor(233 + 5 * k)).ToArray();
        Assert.Equal(factors.OrderDescending(), factors);
        Assert.Throws<ArgumentOutOfRangeException>(() => Electrolytic.SeriesResistanceFactor(200));
    }

    // Two laws of one diode: near 1 A they are a hundredth of a volt apart, beside 165 V of bulk voltage (IEC 60747-2 defines threshold and slope from the
    // curve; the exponential is Shockley's).
    [Theory]
    [InlineData(RectifierArrangement.Bridge)]
    [InlineData(RectifierArrangement.Doubler)]
    public void Both_laws_of_the_diodes_say_the_same(RectifierArrangement arrangement)
    {
        var junction = Bench.Run(new BridgeBulk { Arrangement = arrangement }.Build());
        var threshold = Bench.Run(new BridgeBulk { Arrangement = arrangement, DiodeLaw = DiodeLaw.Threshold }.Build());
        Near.Relative(junction.V("bulk").Mean(), threshold.V("bulk").Mean(), 1e-3);
        Near.Relative(junction.V("bulk").PeakToPeak(), threshold.V("bulk").PeakToPeak(), 0.02);
        Near.Relative(junction.I("line").Rms(), threshold.I("line").Rms(), 0.02);
    }

    private static double Inrush(BridgeBulk block) => Bench.Run(block.Build(), 0, 0.02).I("line").Peak().Value;

    private static double Frequency(Waveform wave)
    {
        var crossings = wave.Crossings(wave.Mean(), Edge.Rising, 0.1 * wave.PeakToPeak());
        return (crossings.Count - 1) / (crossings[^1].Time - crossings[0].Time);
    }
}
