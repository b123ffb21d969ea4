using BoardSim.Quantities;
using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios.Reader;

/// <summary>Reads the figures.</summary>
internal static class FiguresReader
{
    public static IReadOnlyList<FigureSpec> Read(
        Section root, BlockInHand? block, RunSettings run, IReadOnlyList<string> observations, IReadOnlyList<string> conditions, SweepSpec? sweep, ToleranceSpec? tolerance, Outputs outputs)
    {
        var figures = new List<FigureSpec>();
        foreach (var (name, node) in root.Named("figures"))
        {
            if (Section.Open(node, ScenarioFormat.Figure, root.Findings) is not { } section)
            {
                continue;
            }

            var kind = section.Choice("kind", Words.Figure)?.Value;
            var show = section.Texts("show");
            CheckShown(section, kind, show, run, observations, sweep, outputs, root.Has("sweep"));
            CheckHistogram(section, kind, show, tolerance, root.Has("tolerance"));
            figures.Add(new FigureSpec
            {
                Id = name.Text,
                Kind = kind ?? FigureKind.Waveforms,
                Title = section.Text("title") ?? name.Text,
                Show = [.. show.Select(s => s.Text)],
                Conditions = kind == FigureKind.Sweep && sweep is not null
                    ? Conditions(section, sweep.Conditions, "condition that is swept")
                    : kind == FigureKind.Histogram && tolerance is not null
                    ? Conditions(section, tolerance.Conditions, "condition of the tolerance run")
                    : Conditions(section, conditions, "condition of this scenario"),
                Window = WindowReader.Read(section, "over", RecordedTime.Of(run, block)),
                CallOuts = CallOuts(section, kind, sweep, show, outputs),
            });
        }

        return figures;
    }

    private static void CheckShown(
        Section section, FigureKind? kind, IReadOnlyList<TextNode> show, RunSettings run, IReadOnlyList<string> observations, SweepSpec? sweep, Outputs outputs, bool hasSweep)
    {
        if (kind == FigureKind.Waveforms && run.Kind == RunKind.OperatingPoint)
        {
            section.Note("kind", "an operating point has no waveforms; draw a sweep or bars");
        }

        if (kind == FigureKind.Waveforms && run.Kind == RunKind.FrequencyResponse)
        {
            section.Note("kind", "a frequency response has no waveforms; draw a response");
        }

        if (kind == FigureKind.Response && run.Kind != RunKind.FrequencyResponse)
        {
            section.Note("kind", "only a run with \"compute: frequency-response\" has a response to draw");
        }

        if (kind == FigureKind.Sweep && !hasSweep)
        {
            section.Note("kind", "the scenario has no sweep to draw");
        }

        if (kind is not null and not FigureKind.Waveforms && section.Has("over"))
        {
            section.Note("over", "only waveforms are drawn over a stretch of time");
        }

        foreach (var shown in show)
        {
            switch (kind)
            {
                case FigureKind.Waveforms or FigureKind.Response when !observations.Contains(shown.Text):
                    section.Findings.AddUnknown(shown, "observation of this scenario", observations);
                    break;
                case FigureKind.Sweep when sweep is not null && !sweep.Record.Contains(shown.Text):
                    section.Findings.AddUnknown(shown, "metric or reading that the sweep records", sweep.Record);
                    break;
                case FigureKind.Bars:
                    outputs.Check(shown, section.Findings);
                    break;
                default:
                    break;
            }
        }
    }

    private static void CheckHistogram(Section section, FigureKind? kind, IReadOnlyList<TextNode> show, ToleranceSpec? tolerance, bool hasTolerance)
    {
        if (kind != FigureKind.Histogram)
        {
            return;
        }

        if (!hasTolerance)
        {
            section.Note("kind", "the scenario has no tolerance run to draw");
        }
        else if (tolerance is { Samples: 0 })
        {
            section.Note("kind", "the tolerance run draws no boards, so there is nothing to count");
        }

        if (show.Count > 1)
        {
            section.Note("show", "a histogram has one horizontal axis; draw one number, and another figure for the next");
        }

        foreach (var shown in show.Where(s => tolerance is not null && !tolerance.Record.Contains(s.Text)))
        {
            section.Findings.AddUnknown(shown, "metric or reading that the tolerance run records", tolerance!.Record);
        }
    }

    private static IReadOnlyList<string> Conditions(Section section, IReadOnlyList<string> conditions, string conditionsAre)
    {
        if (!section.Has("conditions"))
        {
            return conditions;
        }

        var named = section.Texts("conditions");
        foreach (var unknown in named.Where(n => !conditions.Contains(n.Text)))
        {
            section.Findings.AddUnknown(unknown, conditionsAre, conditions);
        }

        return [.. named.Select(n => n.Text)];
    }

    private static List<CallOutSpec> CallOuts(Section section, FigureKind? kind, SweepSpec? sweep, IReadOnlyList<TextNode> show, Outputs outputs)
    {
        var callOuts = new List<CallOutSpec>();
        foreach (var item in section.Has("call-outs") ? section.List("call-outs") : [])
        {
            if (Section.Open(item, ScenarioFormat.CallOut, section.Findings) is not { } callOut)
            {
                continue;
            }

            if (callOut.Has("metric") == callOut.Has("note"))
            {
                section.Findings.Add(callOut.Place, "", "a call-out has either a metric or a note");
            }

            if (callOut.TextNode("metric") is { } metric)
            {
                outputs.Check(metric, section.Findings);
                if (callOut.Has("at"))
                {
                    callOut.Note("at", "only a note has a place; a metric is written at the edge of the figure");
                }
            }

            callOuts.Add(new CallOutSpec(callOut.Text("metric"), callOut.Text("note"), At(callOut, kind, sweep, show, outputs)));
        }

        return callOuts;
    }

    private static double? At(Section callOut, FigureKind? kind, SweepSpec? sweep, IReadOnlyList<TextNode> show, Outputs outputs)
    {
        if (callOut.TextNode("at") is not { } node || kind is null)
        {
            return null;
        }

        switch (kind)
        {
            case FigureKind.Waveforms:
                return QuantityText.Read(node, Unit.Second, callOut.Findings);
            case FigureKind.Response:
                return QuantityText.Read(node, Unit.Hertz, callOut.Findings);
            case FigureKind.Sweep when sweep is not null:
                var unit = Unit.Find(sweep.Unit)!;
                return QuantityText.Read(node, unit, callOut.Findings) is { } value ? unit.Shown(value) : null;
            case FigureKind.Histogram when show.Count > 0 && outputs.UnitOf(show[0].Text) is { } shown:
                return QuantityText.Read(node, shown, callOut.Findings) is { } place ? shown.Shown(place) : null;
            case FigureKind.Bars:
                callOut.Note("at", "bars have no axis that a note could stand at");
                return null;
            default:
                return null;
        }
    }
}
