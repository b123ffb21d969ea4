using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Measurement;

namespace BoardSim.Tests.Blocks;

/// <summary>Text-book rectifiers with capacitor input, ideal diodes, to periodic steady state.</summary>
public class CapacitorInputRectifierTests
{
    // D. W. Hart, Power Electronics, McGraw-Hill 2011, example 3-9: half-wave, 120 V rms 60 Hz, 500 ohm, 100 uF; the book gives
    // a ripple of 43 V and a diode peak of 4.50 A (numbers from memory; its angles worked out afresh give 43.13 V, 4.51 A and
    // a mean of 148.11 V).
    [Fact]
    public void Half_wave_rectifier_of_a_text_book()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "line", "0", Sine(120 * Math.Sqrt(2), 60)));
        circuit.Add(new Resistor("R_source", "line", "anode", 1e-3));
        circuit.Add(new Diode("D1", "anode", "out", IdealParts.Diode));
        circuit.Add(new Capacitor("C1", "out", "0", 100e-6));
        circuit.Add(new Resistor("R1", "out", "0", 500));
        var run = Bench.Run(circuit, ["out"], ["D1"], 10.0 / 60, 12.0 / 60);
        Near.Relative(43.13, run.V("out").PeakToPeak(), 0.005);
        Near.Relative(148.11, run.V("out").Mean(), 0.005);
        Near.Relative(4.51, run.I("D1").Maximum().Value, 0.005);
    }

    // The same circuit with a bridge: the angles of Hart's equations 3-49 ff. worked out for half the period give a ripple of
    // 21.88 V, a diode peak of 3.438 A and a mean of 159.24 V.
    [Fact]
    public void Full_wave_rectifier_of_a_text_book()
    {
        var run = FullWave(120 * Math.Sqrt(2), 60, 1e-3, 100e-6, 500, 10, 2);
        Near.Relative(21.88, run.V("out").PeakToPeak(), 0.005);
        Near.Relative(159.24, run.V("out").Mean(), 0.005);
        Near.Relative(3.438, run.I("R_source").Maximum().Value, 0.005);
    }

    // Sedra and Smith, Microelectronic Circuits, example on the peak rectifier: 100 V peak 60 Hz, 10 kohm; a ripple of 2 V asks
    // for 83.3 uF by the approximation, which promises a conduction of 0.2 rad and a peak of 638 mA (formulas from memory).
    // The exact solution of the circuit is 1.918 V, 0.1994 rad and 622.2 mA: the approximation is 2 to 4 % on the safe side.
    [Fact]
    public void Peak_rectifier_of_a_text_book_and_the_size_of_its_approximation()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "line", "0", Sine(100, 60)));
        circuit.Add(new Resistor("R_source", "line", "anode", 1e-3));
        circuit.Add(new Diode("D1", "anode", "out", IdealParts.Diode));
        circuit.Add(new Capacitor("C1", "out", "0", 83.333e-6));
        circuit.Add(new Resistor("R1", "out", "0", 10e3));
        var run = Bench.Run(circuit, ["out"], ["D1"], 6.0 / 60, 8.0 / 60, 1e-5);
        Near.Relative(1.918, run.V("out").PeakToPeak(), 0.005);
        Near.Relative(0.6222, run.I("D1").Maximum().Value, 0.01);

        // Counted from the valley to the crest, which is a quarter period after each full cycle.
        var valley = run.V("out").Slice(7 / 60.0, 7.25 / 60).Minimum();
        Near.Relative(0.1994, (7.25 / 60 - valley.Time) * 2 * Math.PI * 60, 0.02);
        Assert.InRange(run.V("out").PeakToPeak() / 2.0, 0.94, 1);
    }

    // O. H. Schade, Analysis of rectifier operation, Proc. IRE 31 (1943) 341: mean output over peak input, ripple, and diode rms
    // over mean current against wCR with Rs/R as parameter. The chart can be read to 2 %; the numbers here are an independent
    // solution of his circuit (full-wave), good to the last digit.
    [Theory]
    [InlineData(1, 0.01, 0.6719, 36.66, 1.87, 4.17)]
    [InlineData(4, 0.05, 0.7654, 14.95, 2.37, 7.17)]
    [InlineData(10, 0.001, 0.8972, 7.28, 3.24, 14.80)]
    [InlineData(10, 0.01, 0.8861, 7.14, 3.00, 11.71)]
    [InlineData(10, 0.10, 0.7445, 5.84, 2.28, 6.54)]
    [InlineData(40, 0.01, 0.9328, 1.87, 3.24, 13.18)]
    [InlineData(40, 0.35, 0.5429, 1.17, 1.95, 4.81)]
    public void Schades_curves_for_full_wave_rectifiers(
        double omegaCr, double sourceShare, double meanShare, double ripplePercent, double rmsOverMean, double peakOverMean)
    {
        const double load = 1000;
        var capacitance = omegaCr / (2 * Math.PI * 60 * load);

        // Long enough for the slowest case to settle: several time constants of source resistance and load with the capacitor.
        var cycles = (int)Math.Ceiling(6 + omegaCr);
        var run = FullWave(1000, 60, sourceShare * load, capacitance, load, cycles, 2);
        var mean = run.V("out").Mean();
        Near.Absolute(meanShare, mean / 1000, 0.003);
        Near.Relative(ripplePercent, 100 * run.V("out").AcRms() / mean, 0.01);

        // The source's current is both diodes' together: its rms over its mean is the single diode's over sqrt 2.
        var current = run.I("R_source");
        Near.Relative(rmsOverMean, Math.Sqrt(2) * current.Rms() / current.Mean(), 0.01);
        Near.Relative(peakOverMean, 2 * current.Maximum().Value / current.Mean(), 0.01);
    }

    // Schade's other family, half-wave: the same four numbers by the same independent solution of his circuit.
    [Theory]
    [InlineData(4, 0.01, 0.6142, 35.44, 2.24, 6.45)]
    [InlineData(10, 0.01, 0.7796, 15.53, 2.63, 8.98)]
    [InlineData(10, 0.05, 0.7057, 14.77, 2.26, 6.42)]
    [InlineData(40, 0.01, 0.8899, 4.03, 2.89, 10.52)]
    [InlineData(40, 0.10, 0.6439, 3.57, 2.09, 5.49)]
    public void Schades_curves_for_half_wave_rectifiers(
        double omegaCr, double sourceShare, double meanShare, double ripplePercent, double rmsOverMean, double peakOverMean)
    {
        const double load = 1000;
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "line", "0", Sine(1000, 60)));
        circuit.Add(new Resistor("R_source", "line", "anode", sourceShare * load));
        circuit.Add(new Diode("D1", "anode", "out", IdealParts.Diode));
        circuit.Add(new Capacitor("C1", "out", "0", omegaCr / (2 * Math.PI * 60 * load)));
        circuit.Add(new Resistor("R1", "out", "0", load));
        var cycles = (int)Math.Ceiling(8 + omegaCr);
        var run = Bench.Run(circuit, ["out"], ["D1"], cycles / 60.0, (cycles + 2) / 60.0);
        var mean = run.V("out").Mean();
        Near.Absolute(meanShare, mean / 1000, 0.003);
        Near.Relative(ripplePercent, 100 * run.V("out").AcRms() / mean, 0.01);
        Near.Relative(rmsOverMean, run.I("D1").Rms() / run.I("D1").Mean(), 0.01);
        Near.Relative(peakOverMean, run.I("D1").Maximum().Value / run.I("D1").Mean(), 0.01);
    }

    // The limit of a very large capacitor has a closed form: tan q - q = pi Rs / (2 R), mean = peak cos q (the classic small-angle
    // law of capacitor input, from memory). At Rs/R of 1, 5 and 10 % it gives 0.93764, 0.83221 and 0.75180.
    [Theory]
    [InlineData(0.01, 0.93764)]
    [InlineData(0.05, 0.83221)]
    [InlineData(0.10, 0.75180)]
    public void Very_large_capacitor_gives_the_classic_limit(double sourceShare, double meanShare)
    {
        const double load = 100;
        var run = FullWave(1000, 50, sourceShare * load, 0.1, load, 4, 2, start: 1000 * meanShare * 1.002);

        // Started a little above, so that it has to come down to it; what is left decays with the source resistance.
        Near.Relative(meanShare, run.V("out").Mean() / 1000, 0.003);
    }

    // AN-17 of a maker of off-line converters (6/96, p. 8): 85 V 60 Hz, 33 uF, 15 W at 80 %. Its formula says 93 V for the valley
    // because it takes 3.2 ms for the conduction; the ideal circuit with 18.75 W, solved independently, has 86.35 V and 2.04 ms.
    [Fact]
    public void Valley_of_a_bulk_capacitor_under_constant_power()
    {
        var circuit = Bridge(85 * Math.Sqrt(2), 60, 1e-3, 33e-6, null);
        circuit.Add(new ConstantPowerLoad("P1", "out", "0", 18.75, 40));
        var wave = Bench.Run(circuit, ["out"], [], 4.0 / 60, 6.0 / 60).V("out");
        var valley = wave.Slice(4.3 / 60, 4.8 / 60).Minimum();
        Near.Relative(86.35, valley.Value, 0.005);

        // The application note counts the conduction from the valley to the crest, 4.75 cycles after the start.
        Near.Relative(2.04e-3, 4.75 / 60 - valley.Time, 0.01);
    }

    private static Bench FullWave(
        double peak, double hertz, double source, double farads, double load, int settle, int record, double? start = null)
    {
        var circuit = Bridge(peak, hertz, source, farads, start);
        circuit.Add(new Resistor("R1", "out", "0", load));
        return Bench.Run(circuit, ["out"], ["R_source"], settle / hertz, (settle + record) / hertz);
    }

    /// <summary>Two sources in opposition with a diode each stand for the bridge: the source resistance then sits in one place.</summary>
    private static Circuit Bridge(double peak, double hertz, double source, double farads, double? start)
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "one", "0", Sine(peak, hertz)));
        circuit.Add(new VoltageSource("V2", "two", "0", Sine(-peak, hertz)));
        circuit.Add(new Diode("D1", "one", "both", IdealParts.Diode));
        circuit.Add(new Diode("D2", "two", "both", IdealParts.Diode));
        circuit.Add(new Resistor("R_source", "both", "out", source));
        circuit.Add(new Capacitor("C1", "out", "0", farads) { InitialVoltage = start });
        return circuit;
    }

    private static SineWaveform Sine(double peak, double hertz) => new() { Amplitude = peak, Frequency = hertz };
}
