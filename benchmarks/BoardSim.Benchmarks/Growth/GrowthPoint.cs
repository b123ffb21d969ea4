using BoardSim.Benchmarks.WorkPrecision;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;

namespace BoardSim.Benchmarks.Growth;

/// <summary>What one length of a circuit costs. Times are processor time, the shortest of several rounds.</summary>
internal sealed class GrowthPoint
{
    private const double Stop = 1e-3;
    private const int WarmPoints = 40;
    private readonly Func<int, Circuit> make;
    private readonly Circuit circuit;

    /// <summary>Builds the circuit and weighs it.</summary>
    /// <param name="sections">Number of sections.</param>
    /// <param name="make">What builds it.</param>
    public GrowthPoint(int sections, Func<int, Circuit> make)
    {
        (Sections, this.make) = (sections, make);
        circuit = make(sections);
        var before = GC.GetTotalMemory(forceFullCollection: true);
        var run = new TransientRun(new CircuitSystem(circuit), new TransientOptions { Stop = Stop });
        run.Advance();
        Bytes = GC.GetTotalMemory(forceFullCollection: true) - before;
        run.Dispose();
    }

    /// <summary>Number of sections.</summary>
    public int Sections { get; }

    /// <summary>Memory in bytes that a compiled circuit and a run of it hold, the circuit itself left out.</summary>
    public long Bytes { get; }

    /// <summary>Time in seconds to build the circuit from parts.</summary>
    public double Build { get; private set; } = double.PositiveInfinity;

    /// <summary>Time in seconds to compile it: indices, matching, ordering.</summary>
    public double Compile { get; private set; } = double.PositiveInfinity;

    /// <summary>Time in seconds to the first instant: structural check, operating point, pivots.</summary>
    public double Begin { get; private set; } = double.PositiveInfinity;

    /// <summary>Time in seconds of one step, mean over the run.</summary>
    public double Step { get; private set; } = double.PositiveInfinity;

    /// <summary>Accepted points of the run.</summary>
    public long Points { get; private set; }

    /// <summary>Bytes that all steps together allocate once the first few are over.</summary>
    public long Allocated { get; private set; }

    /// <summary>Measures once more.</summary>
    public void Measure()
    {
        var begun = Timing.Now;
        make(Sections);
        Build = Math.Min(Build, Timing.Now - begun);

        begun = Timing.Now;
        var system = new CircuitSystem(circuit);
        Compile = Math.Min(Compile, Timing.Now - begun);

        begun = Timing.Now;
        using var run = new TransientRun(system, new TransientOptions { Stop = Stop });
        Begin = Math.Min(Begin, Timing.Now - begun);

        for (var k = 0; k < WarmPoints; k++)
        {
            run.Advance();
        }

        var bytes = GC.GetAllocatedBytesForCurrentThread();
        begun = Timing.Now;
        while (run.Advance())
        {
        }

        var seconds = Timing.Now - begun;
        Allocated = GC.GetAllocatedBytesForCurrentThread() - bytes;
        Points = run.Evidence.Points;
        Step = Math.Min(Step, seconds / (Points - WarmPoints));
    }
}
