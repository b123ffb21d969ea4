using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>A warm run leaves the garbage collector nothing to do, so that a thousand of them side by side do not stop each other.</summary>
public sealed class WarmStepTests
{
    private const int Warm = 600;
    private const int Measured = 2000;

    /// <summary>Points after which every length of a wide step that the ringing asks for has come up.</summary>
    private const int RungIn = 40_000;

    [Theory]
    [InlineData(1e-3)]
    [InlineData(1e-5)]
    public void Nonlinear_circuit_allocates_nothing(double accuracy)
    {
        using var run = Start(Rectifier(), accuracy, 100, RungIn);
        Assert.Equal(0, Allocated(run));
        Assert.Equal(RunStatus.Running, run.Status);
    }

    [Fact]
    public void Corners_of_a_pulse_allocate_nothing()
    {
        var pulse = new PulseWaveform { High = 5, Rise = 50e-9, Fall = 50e-9, Width = 3e-6, Period = 10e-6 };
        using var run = Start(
            Circuit(
                new VoltageSource("vp", "p", "0", pulse),
                new Resistor("rb", "p", "b", 1e3),
                new VoltageSource("vcc", "vcc", "0", 12),
                new Resistor("rc", "vcc", "c", 100),
                new Capacitor("cl", "c", "0", 1e-9),
                new BipolarTransistor("q", "c", "b", "0", new BipolarModel { ForwardTransitTime = 1e-9, BaseEmitterCapacitance = 10e-12, BaseCollectorCapacitance = 5e-12 })),
            1e-3,
            1,
            RungIn);
        Assert.Equal(0, Allocated(run));
    }

    // An event leaves an entry in the log: an object of four words beside its header, and a reference in a list that doubles
    // as it grows. Nothing else may be left.
    [Fact]
    public void Switching_circuit_allocates_its_log_only()
    {
        using var run = Start(Converter(), 1e-3, 1, RungIn);
        var before = run.Events.Count;
        var bytes = Allocated(run);
        var entries = run.Events.Count - before;
        Assert.True(entries > 30, $"{entries} events only");
        var entry = 5 * IntPtr.Size;
        var list = 4 * IntPtr.Size * run.Events.Count + 64;
        Assert.InRange(bytes, entries * entry, entries * entry + list);
    }

    [Fact]
    public void Interpolation_allocates_nothing()
    {
        using var run = Start(Rectifier(), 1e-3, 100);
        var x = new double[run.State.Length];
        run.Interpolate(run.Time, x);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var k = 0; k <= 100; k++)
        {
            run.Interpolate(run.PreviousTime + (run.Time - run.PreviousTime) * k / 100, x);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private static TransientRun Start(Circuit circuit, double accuracy, double stop, int warm = Warm)
    {
        var run = new TransientRun(new CircuitSystem(circuit), new TransientOptions { Stop = stop, Accuracy = accuracy });
        for (var k = 0; k < warm; k++)
        {
            Assert.True(run.Advance());
        }

        return run;
    }

    private static long Allocated(TransientRun run)
    {
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var k = 0; k < Measured; k++)
        {
            run.Advance();
        }

        return GC.GetAllocatedBytesForCurrentThread() - before;
    }

    private static Circuit Rectifier() => Circuit(
        new VoltageSource("v", "a", "b", new SineWaveform { Amplitude = 17, Frequency = 50 }),
        new Diode("d1", "a", "p", new DiodeModel { SeriesResistance = 0.05, JunctionCapacitance = 30e-12 }),
        new Diode("d2", "b", "p", new DiodeModel { SeriesResistance = 0.05, JunctionCapacitance = 30e-12 }),
        new Diode("d3", "0", "a", new DiodeModel { SeriesResistance = 0.05, JunctionCapacitance = 30e-12 }),
        new Diode("d4", "0", "b", new DiodeModel { SeriesResistance = 0.05, JunctionCapacitance = 30e-12 }),
        new Capacitor("c", "p", "0", 1e-3) { SeriesResistance = 0.1 },
        new Resistor("r", "p", "0", 100));

    private static Circuit Converter() => Circuit(
        new VoltageSource("vin", "in", "0", 24),
        new VoltageSource("vg", "g", "0", new PulseWaveform { High = 5, Rise = 100e-9, Fall = 100e-9, Width = 7e-6, Period = 20e-6 }),
        new VoltageSwitch("s", "in", "sw", "g", "0", new SwitchModel { Threshold = 2.5, Hysteresis = 0.5, OnResistance = 0.05, OffResistance = 1e6 }),
        new Diode("d", "0", "sw", new DiodeModel { SeriesResistance = 0.02, JunctionCapacitance = 200e-12 }),
        new Inductor("l", "sw", "out", 100e-6),
        new Capacitor("c", "out", "0", 100e-6) { SeriesResistance = 0.05 },
        new Resistor("r", "out", "0", 5));
}
