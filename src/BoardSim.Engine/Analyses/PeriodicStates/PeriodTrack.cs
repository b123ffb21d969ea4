using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>An accepted point of a computed period.</summary>
/// <param name="Time">Instant in seconds.</param>
/// <param name="State">The unknowns there, before an event at that instant changes anything.</param>
/// <param name="Switched">Memory of the discrete devices after the event at that instant; null where there is none.</param>
/// <param name="Fired">Name of the device whose guard made the event.</param>
internal readonly record struct TrackPoint(double Time, double[] State, object[]? Switched, string? Fired);

/// <summary>The points of a computed period, from which follows what it makes of small deviations.</summary>
/// <param name="period">Length of the period in seconds.</param>
internal sealed class PeriodTrack(double period)
{
    /// <summary>
    /// Part of the period up to which steps that the run took in one smooth stretch count as one: half cycles of a ring, whose deviations are
    /// forgotten anyway, and through all of which the circuit hardly changes. Through a longer step it may (what a rectifier conducts falls), and all its stages count.
    /// </summary>
    private const double Stretch = 0.004;

    private readonly List<TrackPoint> points = [];
    private int events;
    private double began;
    private double start;

    /// <summary>The points, the period's start not among them.</summary>
    public IReadOnlyList<TrackPoint> Points => points;

    /// <summary>
    /// Charges and fluxes half way through the period. Against those at its start they are a deviation that keeps every sum of charges which nothing
    /// ever changes, and is no small one.
    /// </summary>
    public double[] HalfWay { get; private set; } = [];

    /// <summary>Begins a period.</summary>
    public void Begin(TransientRun run)
    {
        points.Clear();
        HalfWay = [];
        (began, start) = (double.NaN, run.Time);
        events = run.Events.Count;
    }

    /// <summary>Takes the point that the run has just accepted.</summary>
    public void Take(CircuitSystem system, TransientRun run)
    {
        var happened = run.Events.Count > events;
        var isLong = run.Time - run.PreviousTime > Stretch * period;
        for (var knot = 1; knot < run.Knots && isLong; knot++)
        {
            var inner = run.Knot(knot, out var time);
            points.Add(new TrackPoint(time, inner.ToArray(), null, null));
        }

        if (run.Knots > 1 && !happened && run.Time - began < Stretch * period)
        {
            points.RemoveAt(points.Count - 1);
        }
        else
        {
            began = run.Knots > 1 && !happened && !isLong ? run.PreviousTime : double.NaN;
        }

        points.Add(new TrackPoint(
            run.Time, [.. run.State], happened ? [.. system.Discrete.Select(d => d.Memory)] : null, happened ? run.Events[events].Part : null));
        events = run.Events.Count;
        if (HalfWay.Length == 0 && run.Time >= start + 0.5 * period)
        {
            HalfWay = run.Charges.ToArray();
        }
    }
}
