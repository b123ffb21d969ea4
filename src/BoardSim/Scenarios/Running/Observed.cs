using System.Numerics;
using BoardSim.Ageing;
using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Measurement;
using BoardSim.Quantities;
using BoardSim.Scenarios.Expectations;

namespace BoardSim.Scenarios.Running;

/// <summary>An observation that is set up on a board: its instrument is connected and its probe is known.</summary>
internal sealed class Observed
{
    private readonly ObservationSpec spec;
    private readonly Func<Solution, double> atRest;

    private Observed(ObservationSpec spec, SignalInfo signal, Unit unit, Probe probe, Func<Solution, double> atRest)
    {
        (this.spec, this.atRest) = (spec, atRest);
        (Signal, Unit, Probe) = (signal, unit, probe);
    }

    /// <summary>What is observed.</summary>
    public SignalInfo Signal { get; }

    /// <summary>Unit of what is observed.</summary>
    public Unit Unit { get; }

    /// <summary>What is recorded.</summary>
    public Probe Probe { get; }

    /// <summary>Node of the red lead; empty for a current.</summary>
    public string Node { get; private init; } = "";

    /// <summary>The instrument; null when nothing is connected.</summary>
    public Connection? Instrument { get; private init; }

    /// <summary>What is made of a recorded voltage; null when it stays as it is.</summary>
    public Func<double, double>? Convert { get; private init; }

    /// <summary>Node of the black lead; empty for a current.</summary>
    public string ReferenceNode { get; private init; } = "";

    /// <summary>The capacitor whose current it is, as it is now; null for anything else.</summary>
    public ElectrolyticRating? Capacitor { get; private init; }

    /// <summary>Sets an observation up; an instrument becomes part of the board's circuit.</summary>
    public static Observed Connect(Board board, ObservationSpec spec, RunKind run)
    {
        var isReading = spec.GivesReading(run);
        return spec.Current is { } current ? OfCurrent(board, board.CurrentPoint(current), spec, isReading)
            : spec.State is { } state ? OfState(board.State(state), spec, isReading)
            : spec.Readout is { } readout ? OfReadout(board.Readout(readout), spec, isReading)
            : OfPoint(board, spec, isReading, run);
    }

    /// <summary>What an instrument shows at rest that is put on by itself, because it drives a current of its own; null for the others.</summary>
    /// <param name="circuit">The circuit with the other instruments; it is left as it is.</param>
    /// <param name="limits">What may end the computation early.</param>
    public Observation? TakeAlone(Circuit circuit, RunLimits limits) =>
        Instrument?.MeasureAtRest(circuit, Node, ReferenceNode, limits) is { } shown ? new Observation(spec, this, shown) : null;

    /// <summary>What the recorded small signal is divided by; null when by nothing.</summary>
    public Probe? Per { get; private init; }

    /// <summary>Sets up an observation of a frequency response.</summary>
    public static Observed OfResponse(Board board, ObservationSpec spec)
    {
        var unit = ResponseUnits.Of(spec);
        var (probe, point, about, reference) = spec.Current is { } current
            ? (Probe.Current(board.CurrentPoint(current).Part), current, board.CurrentPoint(current).Description, "")
            : OfLeads(board, spec);
        var divided = spec.PerPoint is not null || spec.PerCurrent is not null;
        var per = spec.PerPoint is { } other ? board.TestPoint(other) : null;
        var signal = new SignalInfo
        {
            Name = spec.Name,
            Label = spec.Label,
            Unit = unit.Symbol,
            Point = (spec.PerPoint ?? spec.PerCurrent) is { } divisor ? $"{point} / {divisor}" : point,
            PointDescription = about,
            Reference = divided ? "" : reference,
            Instrument = "computed",
        };
        return new Observed(spec, signal, unit, probe, _ => throw new InvalidOperationException("A frequency response is not taken at rest."))
        {
            Per = per is not null ? Probe.Voltage(per.Node, per.ReferenceNode)
                : spec.PerCurrent is { } amperes ? Probe.Current(board.CurrentPoint(amperes).Part) : null,
        };
    }

    /// <summary>What was computed over frequency.</summary>
    /// <param name="frequencies">Frequencies in hertz.</param>
    /// <param name="values">Phasors of the probe.</param>
    /// <param name="per">Phasors of <see cref="Per"/>.</param>
    public Observation Take(double[] frequencies, Complex[] values, Complex[]? per)
    {
        var phasors = per is null ? values : [.. values.Zip(per, (v, p) => v / p)];
        var shown = ResponseUnits.AspectOf(spec) switch
        {
            Aspect.Phase => Phase.Unwrapped(phasors),
            Aspect.Level => Array.ConvertAll(phasors, p => 20 * Math.Log10(p.Magnitude)),
            _ => Array.ConvertAll(phasors, p => p.Magnitude),
        };
        return new Observation(spec, this, frequencies, shown);
    }

    private static (Probe Probe, string Point, string About, string Reference) OfLeads(Board board, ObservationSpec spec)
    {
        var point = board.TestPoint(spec.TestPoint!);
        var (title, reference) = spec.Against is { } against
            ? LeadPlaces.Of(board).Where(p => p.Name == against).Select(p => (p.Title, p.Node)).First()
            : (point.ReferenceName, point.ReferenceNode);
        return (Probe.Voltage(point.Node, reference), point.Name, point.Description, title);
    }

    /// <summary>What was recorded over time.</summary>
    public Observation Take(double[] times, double[] values) => new(spec, this, times, values);

    /// <summary>What is there at rest: one sample at time zero.</summary>
    public Observation Take(Solution solution) => new(spec, this, [0], [atRest(solution)]);

    private static Observed OfPoint(Board board, ObservationSpec spec, bool isReading, RunKind run)
    {
        var point = board.TestPoint(spec.TestPoint!);
        var (title, reference) = spec.Against is { } against
            ? LeadPlaces.Of(board).Where(p => p.Name == against).Select(p => (p.Title, p.Node)).First()
            : (point.ReferenceName, point.ReferenceNode);
        var atRest = run == RunKind.OperatingPoint;
        var instrument = Connection.Make(spec);
        var places = new Leads(board.Circuit, point.Node, reference, LeadPlaces.Earth(board), $"_probe_{spec.Name}");
        var alone = atRest && spec.Instrument.DrivesCurrent();
        var tap = instrument is null || alone ? new Tap(point.Node, reference) : instrument.Attach(places);
        var unit = alone ? spec.ReadingUnit() : Unit.Volt;
        var signal = new SignalInfo
        {
            Name = spec.Name,
            Label = spec.Label,
            Unit = unit.Symbol,
            Point = point.Name,
            PointDescription = point.Description,
            Reference = title,
            IsWrongReference = reference != point.ReferenceNode && !spec.Instrument.DrivesCurrent(),
            Instrument = instrument?.Name ?? "computed",
            IsReading = isReading,
        };
        return new Observed(spec, signal, unit, Probe.Voltage(tap.Node, tap.ReferenceNode), s => s.Voltage(tap.Node, tap.ReferenceNode))
        {
            Node = point.Node,
            ReferenceNode = reference,
            Instrument = instrument,
            Convert = tap.Factor == 1 ? null : volts => tap.Factor * volts,
        };
    }

    private static Observed OfCurrent(Board board, CurrentPoint current, ObservationSpec spec, bool isReading)
    {
        var instrument = Connection.Make(spec);
        instrument?.Insert(board, current.Part);
        var signal = new SignalInfo
        {
            Name = spec.Name,
            Label = spec.Label,
            Unit = Unit.Ampere.Symbol,
            Point = current.Name,
            PointDescription = current.Description,
            Reference = "",
            Instrument = instrument?.Name ?? "computed",
            IsReading = isReading,
        };
        return new Observed(spec, signal, Unit.Ampere, Probe.Current(current.Part), s => s.Current(current.Part))
        {
            Instrument = instrument,
            Capacitor = current.CapacitorIn(board.Circuit),
        };
    }

    private static Observed OfState(StatePoint state, ObservationSpec spec, bool isReading)
    {
        var unit = Unit.Find(state.Unit) ?? throw new InvalidOperationException($"State {state.Name} has the unit {state.Unit}, which is not known.");
        var signal = new SignalInfo
        {
            Name = spec.Name,
            Label = spec.Label,
            Unit = unit.Symbol,
            Point = state.Name,
            PointDescription = state.Description,
            Reference = "",
            Instrument = "computed",
            IsReading = isReading,
        };
        return new Observed(spec, signal, unit, Probe.State(state.Part, state.State), s => s.State(state.Part, state.State));
    }

    private static Observed OfReadout(Readout readout, ObservationSpec spec, bool isReading)
    {
        var unit = Unit.Find(readout.Unit) ?? throw new InvalidOperationException($"Readout {readout.Name} has the unit {readout.Unit}, which is not known.");
        var truth = spec.ShowsError
            ? readout.TrueValue ?? throw new CircuitException($"readout {readout.Name}: what a perfect board would show is not known, so there is no error to show.")
            : 0;
        var shown = spec.ShowsError ? ExpectationUnits.OfDifference(unit) : unit;
        var signal = new SignalInfo
        {
            Name = spec.Name,
            Label = spec.Label,
            Unit = shown.Symbol,
            Point = readout.Name,
            PointDescription = readout.Description,
            Reference = "",
            Instrument = "computed",
            IsReading = isReading,
        };
        return new Observed(spec, signal, shown, Probe.Voltage(readout.Node, readout.ReferenceNode), s => s.Voltage(readout.Node, readout.ReferenceNode))
        {
            Node = readout.Node,
            Convert = volts => readout.Convert(volts) - truth,
        };
    }
}
