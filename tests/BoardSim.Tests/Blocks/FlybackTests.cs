using BoardSim.Blocks.Converters;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Measurement;

namespace BoardSim.Tests.Blocks;

/// <summary>Flyback converters of text books, out of ideal parts, and the block as technicians know it.</summary>
public class FlybackTests
{
    // D. W. Hart, Power Electronics, McGraw-Hill 2011, example 7-1: 24 V to 5 V, N1/N2 = 3, 500 uH, 5 ohm, 200 uF, 40 kHz. The book has
    // D = 0.385, a magnetising current of 540 mA between 310 and 770 mA, and a ripple of 0.96 %.
    [Fact]
    public void Continuous_conduction_of_a_text_book()
    {
        var run = Example71(5, 200, 4, 5, 0.31);
        Near.Relative(5, run.V("out").Mean(), 0.01);
        Near.Relative(0.770, run.I("L1").Maximum().Value, 0.01);
        Near.Relative(0.310, run.I("L1").Minimum().Value, 0.015);
        Near.Relative(0.540, run.I("L1").Mean(), 0.01);
        Near.Relative(0.0096, run.V("out").PeakToPeak() / 5, 0.03);
    }

    // The same converter at light load, D = 0.384615: below the boundary at 11.75 ohm Vo = Vs D sqrt(R / (2 L f)) in discontinuous
    // conduction (Hart, equations 7-18 to 7-20; Erickson and Maksimovic, Fundamentals of Power Electronics, chapter 5, from memory):
    // 9.240 V at 40 ohm, 14.610 V at 100 ohm.
    [Theory]
    [InlineData(40, 9.240)]
    [InlineData(100, 14.610)]
    public void Discontinuous_conduction_at_light_load(double load, double volts)
    {
        var run = Example71(load, 300, 10, volts, 0);

        // Where the free swing of the drain is met by the next turn-on shifts the stored energy by a per cent.
        Near.Relative(volts, run.V("out").Mean(), 0.02);
        Assert.InRange(run.I("L1").Minimum().Value, -0.01, 0.01);
    }

    // Hart, example 7-2: 3.3 V to 36 V, 0.1 A, N2/N1 = 16, 100 kHz, D = 0.405, 12.4 uH, 2.8 uF. A ripple of 2 % (0.72 V) allows a series
    // resistance of 3.56 ohm; the capacitor's own share is 0.145 V. An end of life at twice the series resistance (the usual
    // endurance clause, from memory) then makes 1.44 V.
    [Theory]
    [InlineData(3.56, 0.72)]
    [InlineData(7.12, 1.44)]
    [InlineData(1e-3, 0.145)]
    public void Series_resistance_sets_the_ripple_of_a_text_book(double ohms, double ripple)
    {
        var run = Flyback(3.3, 12.4e-6, 1.0 / 16, 360, 2.8e-6, ohms, 100e3, 0.4055, 200, 4, 36, 2.15);
        Near.Relative(36, run.V("out").Mean(), 0.02);
        Near.Relative(ripple, run.V("out").PeakToPeak(), 0.04);
    }

    // RCD clamp, P = 1/2 L I^2 f Vc / (Vc - nVo) (application notes on flyback design, from memory): 10 uH, 1 A, 65 kHz, a reflected
    // voltage of 100 V and 23.08 kohm settle at 150 V. The secondary is a source of 100 V on a one-to-one transformer here.
    [Fact]
    public void Clamp_settles_where_the_leakage_energy_is_burnt()
    {
        const double frequency = 65e3, primary = 1e-3, leakage = 10e-6, supply = 200;
        var duty = 1.0 * (primary + leakage) * frequency / supply;
        var circuit = Primary(supply, "winding", primary, 1, frequency, duty);
        circuit.Add(new Inductor("L_leak", "supply", "winding", leakage));
        circuit.Add(new Capacitor("C_drain", "drain", "0", 10e-12));
        circuit.Add(new Capacitor("C_winding", "winding", "0", 5e-12));
        var junction = new DiodeModel { SaturationCurrent = 1e-12, SeriesResistance = 0.05 };
        circuit.Add(new Diode("D_out", "sec", "out", junction));
        circuit.Add(new VoltageSource("V_out", "out", "0", 100));
        circuit.Add(new Diode("D_clamp", "drain", "clamp", junction));
        circuit.Add(new Capacitor("C_clamp", "clamp", "supply", 100e-9) { InitialVoltage = 140 });
        circuit.Add(new Resistor("R_clamp", "clamp", "supply", 23.08e3));
        var run = Bench.Run(circuit, ["clamp", "supply"], ["L_leak"], 300 / frequency, 310 / frequency, 1e-4);
        Near.Relative(1, run.I("L_leak").Maximum().Value, 0.02);
        Near.Relative(150, run.V("clamp").Mean() - supply, 0.05);
    }

    // Common practice, no source: high series resistance in the output capacitor shows as ripple at the switching frequency, and
    // the step in it is about the secondary's peak current times the resistance.
    [Fact]
    public void Aged_output_capacitor_shows_as_ripple_at_the_switching_frequency()
    {
        var healthy = Bench.Run(new FlybackOutput().Build());
        var aged = Bench.Run(new FlybackOutput { OutputEsr = 0.5 }.Build());
        Assert.True(aged.V("output").PeakToPeak() > 8 * healthy.V("output").PeakToPeak());
        var step = 0.5 * (aged.I("output-capacitor").Maximum().Value - aged.I("output-capacitor").Minimum().Value);
        Near.Relative(step, aged.V("output").PeakToPeak(), 0.05);
        var crossings = aged.V("output").Crossings(aged.V("output").Mean() + 0.5, Edge.Rising, 0.2);
        var frequency = (crossings.Count - 1) / (crossings[^1].Time - crossings[0].Time);
        Near.Relative(65e3, frequency, 0.001);
    }

    // The energy stored in each period is Lp Ip^2 / 2, and its flow is what the load and all losses take (energy balance). The
    // leakage inductance's share goes to the clamp.
    [Fact]
    public void Power_out_is_what_the_packets_carry_less_losses()
    {
        var block = new FlybackOutput();
        var run = Bench.Run(block.Build());
        var peak = run.I("primary").Maximum().Value;
        var packets = 0.5 * (block.PrimaryInductance + block.LeakageInductance) * peak * peak * block.Frequency;
        var volts = run.V("output");
        var delivered = volts.Rms() * volts.Rms() / block.LoadResistance;
        Assert.InRange(delivered / packets, 0.80, 0.95);
        Near.Relative(packets, run.I("input").Mean() * run.V("input").Mean(), 0.05);
    }

    // Common practice, no source: the drain sees the input plus the reflected output, with a spike that the clamp holds; without
    // the clamp the spike runs up far above, to the switch's breakdown at the latest.
    [Fact]
    public void Drain_spike_with_and_without_clamp()
    {
        var block = new FlybackOutput();
        var healthy = Bench.Run(block.Build()).V("drain").Maximum().Value;
        var open = Bench.Run(block.Fault("clamp-open").Apply(block.Build())).V("drain").Maximum().Value;
        Assert.InRange(healthy, 160 + 8 * 12, 400);
        Assert.InRange(open, healthy + 150, 700);
    }

    private static Bench Example71(double load, int settle, int record, double start, double amperes) =>
        Flyback(24, 500e-6, 3, load, 200e-6, 1e-4, 40e3, 0.384615, settle, record, start, amperes);

    private static Bench Flyback(
        double supply, double primary, double ratio, double load, double farads, double esr, double frequency, double duty, int settle, int record, double volts, double amperes)
    {
        var circuit = Primary(supply, "supply", primary, ratio, frequency, duty);
        circuit.Get<Inductor>("L1").InitialCurrent = amperes;
        circuit.Add(new Diode("D_out", "sec", "out", IdealParts.Diode));
        circuit.Add(new Capacitor("C1", "out", "0", farads) { SeriesResistance = esr, InitialVoltage = volts });
        circuit.Add(new Resistor("R1", "out", "0", load));

        // What swings freely once the secondary is empty; it costs a milliwatt.
        circuit.Add(new Capacitor("C_drain", "drain", "0", 20e-12));
        return Bench.Run(circuit, ["out"], ["L1"], settle / frequency, (settle + record) / frequency, 1e-4);
    }

    /// <summary>Source, switch, magnetising inductance and an ideal transformer: the secondary has the primary's voltage over the
    /// ratio, dots reversed, and sends its current back over the ratio.</summary>
    private static Circuit Primary(double supply, string winding, double primary, double ratio, double frequency, double duty)
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "supply", "0", supply));
        circuit.Add(new Inductor("L1", winding, "drain", primary));
        circuit.Add(new VoltageControlledVoltageSource("E1", "sec", "0", "drain", winding, 1 / ratio));
        circuit.Add(new CurrentControlledCurrentSource("F1", winding, "drain", "E1", 1 / ratio));
        circuit.Add(new VoltageSwitch("S1", "drain", "0", "gate", "0", IdealParts.Switch));
        circuit.Add(new VoltageSource("V_gate", "gate", "0", new PulseWaveform
        {
            High = 1,
            Rise = 1e-9,
            Fall = 1e-9,
            Width = duty / frequency - 1e-9,
            Period = 1 / frequency,
        }));
        return circuit;
    }
}
