using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>The transformer against the laws of textbooks.</summary>
public sealed class TransformerTests
{
    private const double Omega = 2 * Math.PI * 60;

    // Transformer equation, V = 4.44 f N phi (any textbook on machines): 120 V at 60 Hz have a peak flux linkage of 0.45045 Vs; open voltages stand in the turns' ratio.
    [Fact]
    public void Flux_follows_the_transformer_equation_and_voltages_the_turns()
    {
        var core = Core(20, 1);
        var run = Run(Driven(core, 90, 10e6), new TransientOptions { Stop = 0.1, UseInitialConditions = true, Accuracy = 1e-5 }, Probe.Unknown("t#flux"), Probe.Voltage("s"));
        Near(0.45045, run.Values(0).Max(), 2e-3);
        Near(120 * Math.Sqrt(2) / 12, run.Values(1).Max(), 2e-3);
    }

    // Textbook value of the magnetising current, V / (omega Lm): 120 V, 20 H, 15.92 mA rms; with 28.8 kohm of core loss 4.17 mA in phase beside it.
    [Theory]
    [InlineData(double.PositiveInfinity, 15.92e-3)]
    [InlineData(28.8e3, 16.45e-3)]
    public void No_load_current_is_that_of_the_magnetising_branch(double coreOhms, double expected)
    {
        var core = Core(20, 10);
        core.CoreResistance = coreOhms;
        var source = new VoltageSource("v", "in", "0", 0) { SmallSignal = 120 };
        var circuit = Circuit(source, new Resistor("r", "in", "p", 1e-3), core, new Resistor("load", "s", "0", 1e9));
        Near(expected, AcAnalysis.Run(new CircuitSystem(circuit), [60], [Probe.Current("t")]).Values(0)[0].Magnitude, 2e-3);
    }

    // Equivalent circuit: with the secondary shorted the source sees both leakage inductances, referred by the square of the ratio: 0.1 H and 144 * 0.7 mH make
    // 75.7 ohm at 60 Hz beside 20 H in parallel.
    [Fact]
    public void Shorted_secondary_leaves_the_leakage_inductances()
    {
        var core = new SaturableTransformer("t", [new("p", "0", 1, 0.1), new("s", "0", 1 / 12.0, 0.7e-3)], 1e6) { SaturationFlux = 1e4 };
        var circuit = Circuit(new VoltageSource("v", "in", "0", 0) { SmallSignal = 1 }, new Resistor("r", "in", "p", 1e-3), core, new Resistor("short", "s", "0", 1e-6));
        Near(1 / 75.7, AcAnalysis.Run(new CircuitSystem(circuit), [60], [Probe.Current("t")]).Values(0)[0].Magnitude, 2e-3);
    }

    // Switched on at the zero of the voltage, the flux runs up to twice its peak (textbooks on transformers, inrush): 0.9003 Vs with no resistance. Beyond a knee at 0.7 Vs
    // the current is (0.9003 - 0.7) / 0.1 H + 0.7 / 20 H = 2.04 A; the knee is rounded. Switched on at the crest it stays below the knee.
    [Fact]
    public void Switched_on_at_the_wrong_instant_the_core_saturates()
    {
        var core = Core(20, 0.7);
        core.SaturatedInductance = 0.1;
        var run = Run(Driven(core, 0, 10e6), new TransientOptions { Stop = 1 / 60.0, UseInitialConditions = true, Accuracy = 1e-5 }, Probe.Current("t"));
        Near(2.04, run.Values(0).Max(), 0.03);
        var calm = Run(Driven((SaturableTransformer)core.Clone(), 90, 10e6), new TransientOptions { Stop = 1 / 60.0, UseInitialConditions = true, Accuracy = 1e-5 }, Probe.Current("t"));
        Assert.InRange(calm.Values(0).Max(), 0.02, 0.1);
    }

    // What a resistor takes at the secondary is seen by the source: P = V^2 / (n^2 R) by the turns' ratio, 100 W here, and the run's own power balance holds.
    [Fact]
    public void Power_goes_through_by_the_square_of_the_ratio()
    {
        var core = Core(200, 10);
        var circuit = Driven(core, 90, 1);
        var run = Run(circuit, new TransientOptions { Stop = 0.1, UseInitialConditions = true, Accuracy = 1e-5 }, Probe.Voltage("s"));
        Assert.True(run.Evidence.PowerBalance < 1e-4);
        Near(100 * 0.1, run.Evidence.SourceEnergy, 5e-3);
    }

    private static SaturableTransformer Core(double henries, double knee) =>
        new("t", [new("p", "0", 1, 1e-3), new("s", "0", 1 / 12.0, 1e-6)], henries) { SaturatedInductance = henries / 100, SaturationFlux = knee };

    private static Circuit Driven(SaturableTransformer core, double phase, double load) => Circuit(
        new VoltageSource("v", "in", "0", new SineWaveform { Amplitude = 120 * Math.Sqrt(2), Frequency = Omega / (2 * Math.PI), PhaseDegrees = phase }),
        new Resistor("r", "in", "p", 1e-3),
        core,
        new Resistor("load", "s", "0", load));
}
