using BoardSim.Quantities;

namespace BoardSim.Scenarios.Reader;

/// <summary>Checks what an observation says of a frequency response, and that others say nothing of one.</summary>
internal static class ResponseCheck
{
    private static readonly string[] Ratios = ["per-point", "per-current"];

    public static void Check(Section section, List<string> given, ObservationSpec observation, RunSettings run)
    {
        if (run.Kind == RunKind.FrequencyResponse)
        {
            OfResponse(section, given, observation);
            return;
        }

        foreach (var key in Ratios.Where(section.Has))
        {
            section.Note(key, $"only a frequency response is divided by another one; \"{key}\" belongs to \"compute: frequency-response\"");
        }

        if (observation.Shows is Aspect.Magnitude or Aspect.Level or Aspect.Phase)
        {
            section.Note("show", "magnitude, level and phase belong to \"compute: frequency-response\"");
        }
        else if (observation.Shows != Aspect.Usual && given is not ["readout"])
        {
            section.Note("show", "only a readout has a value and an error to choose from");
        }
    }

    private static void OfResponse(Section section, List<string> given, ObservationSpec observation)
    {
        if (given is ["state"] or ["readout"])
        {
            section.Note(given[0], $"a {given[0]} has no frequency response; observe a point or a current");
        }

        if (observation.PerPoint is not null && observation.PerCurrent is not null)
        {
            section.Note("per-current", "a response is divided by one quantity, a point's voltage or a current");
        }

        if (observation.Instrument != InstrumentKind.None)
        {
            section.Note("instrument", "a frequency response is what the circuit does by itself, with no instrument connected");
        }

        if (section.Has("over"))
        {
            section.Note("over", "a frequency response has no time axis, so nothing can be taken over a stretch of time");
        }

        if (observation.Shows is Aspect.Value or Aspect.Error)
        {
            section.Note("show", "of a frequency response magnitude, level or phase can be shown");
        }
        else if (observation.Shows == Aspect.Level && ResponseUnits.OfMagnitude(observation) is var unit && unit != Unit.Ratio)
        {
            section.Note("show", $"a level is that of a plain ratio, and this response is in {unit.Symbol}; divide it by another one of its kind, or show its magnitude");
        }
    }
}
