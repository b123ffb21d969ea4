using BoardSim.Boards;
using BoardSim.Measurement;
using BoardSim.Quantities;
using BoardSim.Scenarios.Expectations;
using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Running;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios.Reader;

/// <summary>Reads what is observed.</summary>
internal static class ObservationsReader
{
    private static readonly string[] Kinds = ["point", "current", "readout", "state"];

    public static IReadOnlyList<ObservationSpec> Read(Section root, BlockInHand? block, RunSettings run)
    {
        var observations = new List<ObservationSpec>();
        foreach (var (name, node) in root.Named("observe"))
        {
            if (Section.Open(node, ScenarioFormat.Observation, root.Findings) is { } section)
            {
                observations.Add(One(name, section, block, run));
            }
        }

        // At rest each is put on by itself; over time they would measure each other's current.
        if (run.Kind == RunKind.Transient && observations.Where(o => o.Instrument.DrivesCurrent()).Skip(1).FirstOrDefault() is { } second)
        {
            root.Note("observe", $"{second.Name} is a second instrument that drives a current of its own; a run over time takes one, an operating point any number, one after the other");
        }

        return observations;
    }

    /// <summary>Unit of the number that an observation gives; null when the block does not tell.</summary>
    public static Unit? ReadingUnitOf(ObservationSpec observation, BlockInHand? block, RunKind run) =>
        observation.Instrument == InstrumentKind.None ? UnitOf(observation, block, run) : observation.ReadingUnit();

    /// <summary>Unit of what is observed; null when the block does not tell.</summary>
    public static Unit? UnitOf(ObservationSpec observation, BlockInHand? block, RunKind run) =>
        run == RunKind.FrequencyResponse ? ResponseUnits.Of(observation)
            : observation.Readout is { } readout
            ? block?.Board?.Readouts.FirstOrDefault(r => r.Name == readout) is { } found ? UnitOf(found, observation.ShowsError) : null
            : observation.State is { } state
            ? block?.Board?.States.FirstOrDefault(s => s.Name == state) is { } point ? Unit.Find(point.Unit) : null
            : observation.Current is not null ? Unit.Ampere : Unit.Volt;

    private static Unit UnitOf(Readout readout, bool error)
    {
        var unit = Unit.Find(readout.Unit)!;
        return error ? ExpectationUnits.OfDifference(unit) : unit;
    }

    private static ObservationSpec One(TextNode name, Section section, BlockInHand? block, RunSettings run)
    {
        var given = Kinds.Where(section.Has).ToList();
        if (given.Count != 1)
        {
            var message = given.Count == 0
                ? "says not what to look at; give it a point, a current, a readout or a state"
                : $"has {string.Join(" and ", given)}; it can have only one of them";
            section.Findings.Add(name, $"the observation {name.Text} {message}");
        }

        var point = Known(section, "point", "test point", b => b.TestPoints.Select(p => p.Name), block);
        var instrument = section.Choice("instrument", Words.Instrument)?.Value
            ?? (point is null || run.Kind != RunKind.Transient ? InstrumentKind.None : InstrumentKind.Oscilloscope);
        Check(section, given, instrument, run);
        var settings = SettingsReader.Read(section, instrument, run, block);
        var observation = new ObservationSpec
        {
            Name = name.Text,
            Label = section.Text("label") ?? name.Text,
            TestPoint = point,
            Against = Known(section, "against", "test point or reference", b => LeadPlaces.Of(b).Select(p => p.Name), block),
            Current = Known(section, "current", "current", b => b.Currents.Select(p => p.Name), block),
            Readout = Known(section, "readout", "readout", b => b.Readouts.Select(p => p.Name), block),
            State = Known(section, "state", "state", b => b.States.Select(p => p.Name), block),
            Shows = section.Choice("show", Words.Shown)?.Value ?? Aspect.Usual,
            PerPoint = Known(section, "per-point", "test point", b => b.TestPoints.Select(p => p.Name), block),
            PerCurrent = Known(section, "per-current", "current", b => b.Currents.Select(p => p.Name), block),
            Instrument = instrument,
            AcCoupled = section.Choice("coupling", Words.Coupling)?.Value ?? false,
            Settings = settings,
            Window = WindowReader.Read(section, "over", RecordedTime.Of(run, block)),
        };
        ResponseCheck.Check(section, given, observation, run);
        CheckRms(section, observation, block is null ? [] : [.. block.Boards.Values, .. block.Board is { } usual ? [usual] : Array.Empty<Board>()]);
        return observation;
    }

    private static void Check(Section section, List<string> given, InstrumentKind instrument, RunSettings run)
    {
        var ofPoint = given.Count != 1 || given[0] == "point";
        if (given is ["current"] && instrument != InstrumentKind.None && !instrument.IsOfCurrent())
        {
            section.Note("instrument", "a current is observed with nothing connected, with a clamp or with an ammeter");
        }
        else if (given is ["point"] && instrument.IsOfCurrent())
        {
            section.Note("instrument", "clamps and ammeters measure a current; a point is looked at with a voltmeter, an oscilloscope or a tester");
        }
        else if (given is ["readout" or "state"] && section.Has("instrument") && instrument != InstrumentKind.None)
        {
            section.Note("instrument", $"a {given[0]} is observed with nothing connected; leave the instrument out, or observe a point");
        }

        if (!ofPoint && section.Has("against"))
        {
            section.Note("against", $"a {given[0]} is not measured against anything; only a point is");
        }

        if (section.Has("coupling") && instrument is not (InstrumentKind.Oscilloscope or InstrumentKind.DifferentialProbe))
        {
            section.Note("coupling", "only an oscilloscope has a coupling to choose");
        }

        if (run.Kind == RunKind.OperatingPoint)
        {
            CheckAtRest(section, instrument);
        }
        else if (run.Kind == RunKind.Transient && section.Has("over") && given is not ["readout"] && !instrument.ShowsNumber())
        {
            section.Note("over", "only a reading is taken over a stretch of time; a metric or a figure has its own");
        }
    }

    /// <summary>Where the line is computed by its RMS value, an instrument would see a direct voltage and show nonsense.</summary>
    private static void CheckRms(Section section, ObservationSpec observation, IEnumerable<Board> boards)
    {
        if (boards.FirstOrDefault(b => b.LineByRms) is not { } board || observation.Instrument == InstrumentKind.None)
        {
            return;
        }

        var point = board.TestPoints.FirstOrDefault(p => p.Name == observation.TestPoint);
        var onLine = point is { LineSide: true, Reference: Reference.Neutral or Reference.ProtectiveEarth or Reference.AcrossPart }
            || board.Currents.Any(c => c.Name == observation.Current && c.LineSide);
        if (onLine || observation.Instrument.NeedsTime() || observation.AcCoupled)
        {
            section.Note("instrument", "the line is computed by its RMS value, so nothing alternates here and an instrument would show nonsense; observe it with instrument: none, which gives RMS values on the line side, or take detail: waveform");
        }
    }

    private static void CheckAtRest(Section section, InstrumentKind instrument)
    {
        if (section.Has("over"))
        {
            section.Note("over", "an operating point has no time axis, so nothing can be taken over a stretch of time");
        }

        if (instrument.NeedsTime())
        {
            section.Note("instrument", "at an operating point nothing alternates, so this instrument has nothing to show");
        }

        if (section.Choice("coupling", Words.Coupling)?.Value == true)
        {
            section.Note("coupling", "at an operating point nothing alternates, so nothing is left behind an AC coupling");
        }
    }

    private static string? Known(Section section, string key, string what, Func<Board, IEnumerable<string>> names, BlockInHand? block)
    {
        if (section.TextNode(key) is not { } node || block?.Board is not { } usual)
        {
            return section.TextNode(key)?.Text;
        }

        if (!names(usual).Contains(node.Text, StringComparer.Ordinal))
        {
            section.Findings.AddUnknown(node, $"{what} of block {block.Id} with these values", names(usual));
        }
        else if (block.Boards.FirstOrDefault(b => !names(b.Value).Contains(node.Text, StringComparer.Ordinal)) is { Key: { } condition })
        {
            section.Findings.Add(node, $"the board has no {what} {node.Text} under condition {condition}");
        }

        return node.Text;
    }
}
