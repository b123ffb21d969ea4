using System.Collections;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Netlists;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>
/// An analysis that is cut short says so, what it gives is the beginning of the whole one to the last bit, and the compiled
/// circuit is as good as new afterwards. Callbacks make the cut fall in the middle, whatever the machine's speed.
/// </summary>
public sealed class RunLimitTests
{
    private static readonly TimeSpan Limit = TimeSpan.FromSeconds(1);
    private static readonly TransientOptions Options = new() { Stop = 0.2 };

    [Fact]
    public void Transient_out_of_time_is_the_beginning_of_the_whole()
    {
        var system = new CircuitSystem(Rectifier());
        var cut = Transient.Run(system, Options with { WallClockLimit = Limit }, [Probe.Voltage("a")], _ => Thread.Sleep(Limit));
        AssertBeginning(cut, RunStatus.TimedOut, system);
    }

    [Fact]
    public void Cancelled_transient_is_the_beginning_of_the_whole()
    {
        using var cancel = new CancellationTokenSource();
        var system = new CircuitSystem(Rectifier());
        var cut = Transient.Run(system, Options with { Cancellation = cancel.Token }, [Probe.Voltage("a")], _ => cancel.Cancel());
        AssertBeginning(cut, RunStatus.Cancelled, system);
    }

    [Fact]
    public void Transient_with_a_full_record_is_the_beginning_of_the_whole()
    {
        var system = new CircuitSystem(Rectifier());
        var cut = Transient.Run(system, Options with { MostValues = 100 }, [Probe.Voltage("a")]);
        Assert.InRange(cut.Times.Length, 100, 100 + 64);
        AssertBeginning(cut, RunStatus.RecordFull, system);
    }

    [Theory]
    [InlineData(true, RunStatus.Cancelled)]
    [InlineData(false, RunStatus.TimedOut)]
    public void Sweep_keeps_the_points_before_the_cut(bool cancels, RunStatus expected)
    {
        using var cancel = new CancellationTokenSource();
        var circuit = Rectifier();
        var system = new CircuitSystem(circuit);
        double[] values = [.. Enumerable.Range(0, 40).Select(k => 0.05 * k)];
        var limits = cancels ? new RunLimits { Cancellation = cancel.Token } : new RunLimits { WallClock = Limit };

        var cut = DcSweep.Run(system, values, Apply, [Probe.Voltage("a")], limits: limits);
        var whole = DcSweep.Run(system, values, v => Set(circuit, v), [Probe.Voltage("a")]);

        Assert.Equal(expected, cut.Status);
        var kept = cut.Swept.Length;
        Assert.InRange(kept, cancels ? 10 : 1, 10);
        Assert.Equal(values[..kept], cut.Swept);
        Assert.Equal(whole.Values(0)[..kept], cut.Values(0));
        Assert.Equal(kept, cut.Evidence.Points);
        Assert.Equal((RunStatus.Completed, 40), (whole.Status, whole.Swept.Length));

        void Apply(double value)
        {
            Set(circuit, value);
            if (value == values[10])
            {
                cancel.Cancel();
                Thread.Sleep(cancels ? TimeSpan.Zero : Limit);
            }
        }
    }

    [Fact]
    public void Sweep_keeps_what_fits_into_the_record()
    {
        var circuit = Rectifier();
        var sweep = DcSweep.Run(new CircuitSystem(circuit), [0, 1, 2, 3, 4], v => Set(circuit, v), [Probe.Voltage("a"), Probe.Voltage("in")], limits: new RunLimits { MostValues = 6 });
        Assert.Equal(RunStatus.RecordFull, sweep.Status);
        Assert.Equal([0, 1, 2], sweep.Swept);
    }

    [Fact]
    public void Small_signal_analysis_keeps_the_frequencies_before_the_cut()
    {
        using var cancel = new CancellationTokenSource();
        var system = new CircuitSystem(Filter());
        var whole = AcAnalysis.Run(system, [1, 10, 100, 1e3, 1e4], [Probe.Voltage("a")]);
        var cut = AcAnalysis.Run(system, new Watched([1, 10, 100, 1e3, 1e4], 2, cancel.Cancel), [Probe.Voltage("a")], new RunLimits { Cancellation = cancel.Token });
        Assert.Equal(RunStatus.Cancelled, cut.Status);
        Assert.Equal([1, 10, 100], cut.Frequencies);
        Assert.Equal(whole.Values(0)[..3], cut.Values(0));

        var full = AcAnalysis.Run(system, [1, 10, 100], [Probe.Voltage("a")], new RunLimits { MostValues = 4 });
        Assert.Equal((RunStatus.RecordFull, 2), (full.Status, full.Frequencies.Length));
    }

    // Nothing can be kept of an operating point that is not there yet.
    [Fact]
    public void Operating_point_out_of_time_says_what_it_was_at_and_leaves_the_circuit_as_it_was()
    {
        var system = new CircuitSystem(Rectifier());
        var limits = new RunLimits { WallClock = TimeSpan.Zero };
        var problem = Assert.Throws<SolverException>(() => OperatingPoint.Solve(system, new OperatingPointOptions { Limits = limits }));
        Assert.Equal(
            "Operating point: the time limit of 0 s ran out during newton, after 0 Newton iterations; no unknown stands out. "
            + "Allow more time, or start the run from initial conditions (UIC).",
            problem.Message);
        Assert.Throws<SolverException>(() => Transient.Run(system, Options with { WallClockLimit = TimeSpan.Zero }, []));
        Assert.Equal(OperatingPoint.Solve(new CircuitSystem(Rectifier())).X, OperatingPoint.Solve(system).X);
    }

    [Fact]
    public void Cancelled_operating_point_leaves_the_circuit_as_it_was()
    {
        using var cancel = new CancellationTokenSource();
        cancel.Cancel();
        var system = new CircuitSystem(Rectifier());
        var limits = new RunLimits { Cancellation = cancel.Token };
        Assert.Throws<OperationCanceledException>(() => OperatingPoint.Solve(system, new OperatingPointOptions { Limits = limits }));
        Assert.Throws<OperationCanceledException>(() => AcAnalysis.Run(system, [1], [], limits));
        Assert.Throws<OperationCanceledException>(() => Transient.Run(system, Options with { Cancellation = cancel.Token }, []));
        Assert.Equal(OperatingPoint.Solve(new CircuitSystem(Rectifier())).X, OperatingPoint.Solve(system).X);
    }

    // A sweep over two sources is one table; its limit counts through all rows of it.
    [Fact]
    public void Table_of_two_swept_sources_is_cut_as_a_whole()
    {
        var netlist = NetlistReader.Read("t\nV1 a 0 0\nI1 0 b 0\nR1 a b 1k\nR2 b 0 1k\n.dc V1 0 4 1 I1 0 3m 1m\n.print dc V(b)\n.end");
        var table = NetlistRunner.Run(netlist, netlist.Analyses[0], new NetlistRunOptions { MostValues = 7 });
        Assert.Equal((RunStatus.RecordFull, true, 7), (table.Status, table.IsPartial, table.Rows));
        Assert.Equal([0, 1, 2, 3, 4, 0, 1], table.Columns[0].Values);
        Assert.Equal([0, 0, 0, 0, 0, 1e-3, 1e-3], table.Columns[1].Values);

        // Half of V1 and 500 ohm times I1 (superposition).
        Assert.Equal(1.0, table.Columns[2].Values[6], 9);
        Assert.Equal(1, table.Reached);
        Assert.False(NetlistRunner.Run(netlist, netlist.Analyses[0]).IsPartial);
    }

    private static void AssertBeginning(TransientResult cut, RunStatus expected, CircuitSystem system)
    {
        var fresh = Transient.Run(new CircuitSystem(Rectifier()), Options, [Probe.Voltage("a")]);
        Assert.Equal(expected, cut.Status);
        Assert.InRange(cut.Times.Length, 2, fresh.Times.Length - 2);
        Assert.Equal(fresh.Times[..cut.Times.Length], cut.Times);
        Assert.Equal(fresh.Values(0)[..cut.Times.Length], cut.Values(0));

        var again = Transient.Run(system, Options, [Probe.Voltage("a")]);
        Assert.Equal(RunStatus.Completed, again.Status);
        Assert.Equal(fresh.Times, again.Times);
        Assert.Equal(fresh.Values(0), again.Values(0));
    }

    private static void Set(Circuit circuit, double volts) => circuit.Get<VoltageSource>("v").Waveform = new DcWaveform(volts);

    private static Circuit Rectifier() => Circuit(
        new VoltageSource("v", "in", "0", new SineWaveform { Amplitude = 10, Frequency = 50 }),
        new Diode("d", "in", "a", new DiodeModel { SeriesResistance = 0.1 }),
        new Capacitor("c", "a", "0", 100e-6),
        new Resistor("r", "a", "0", 220));

    private static Circuit Filter() => Circuit(
        new VoltageSource("v", "in", "0", 0) { SmallSignal = 1 }, new Resistor("r", "in", "a", 1e3), new Capacitor("c", "a", "0", 1e-6));

    /// <summary>A list that tells when one of its items is read.</summary>
    private sealed class Watched(double[] items, int at, Action whenRead) : IReadOnlyList<double>
    {
        public int Count => items.Length;

        public double this[int index]
        {
            get
            {
                if (index == at)
                {
                    whenRead();
                }

                return items[index];
            }
        }

        public IEnumerator<double> GetEnumerator() => ((IEnumerable<double>)items).GetEnumerator();

        IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
    }
}
