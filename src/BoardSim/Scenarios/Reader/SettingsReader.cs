using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Running;

namespace BoardSim.Scenarios.Reader;

/// <summary>Reads the settings of an instrument, and sees that it has them.</summary>
internal static class SettingsReader
{
    private static readonly string[] OfTrigger = ["slope", "position", "time-base"];
    private static readonly string[] OfTime = ["connect-at", "disconnect-at", "trigger"];

    public static InstrumentSettings Read(Section observation, InstrumentKind instrument, RunSettings run, BlockInHand? block)
    {
        CheckInstrument(observation, instrument, run, block);
        if (observation.Node("settings") is not { } node || Section.Open(node, InstrumentFormat.Settings, observation.Findings) is not { } section)
        {
            return InstrumentSettings.Usual;
        }

        foreach (var (field, instruments) in InstrumentFormat.Keys.Where(k => section.Has(k.Field.Name)))
        {
            if (!instruments.Contains(instrument))
            {
                var which = string.Join(", ", Words.Instrument.Where(w => instruments.Contains(w.Value)).Select(w => w.Name));
                section.Note(field.Name, $"this instrument has no {field.Name}; it is a setting of {which}");
            }
        }

        var settings = new InstrumentSettings
        {
            Bandwidth = section.Quantity("bandwidth"),
            Counts = section.Count("counts"),
            AccuracyOfReading = section.Quantity("accuracy-of-reading"),
            AccuracyCounts = section.Count("accuracy-counts"),
            InputResistance = section.Quantity("input-resistance"),
            Threshold = section.Quantity("threshold"),
            Hysteresis = section.Quantity("hysteresis"),
            TestVoltage = section.Quantity("test-voltage"),
            TestResistance = section.Quantity("test-resistance"),
            TestFrequency = section.Quantity("test-frequency"),
            Detection = section.Choice("detection", InstrumentFormat.Detection)?.Value,
            ConnectAt = section.Quantity("connect-at"),
            DisconnectAt = section.Quantity("disconnect-at"),
            IsDirectProbe = section.Choice("probe", InstrumentFormat.Probe)?.Value,
            TipCapacitance = section.Quantity("tip-capacitance"),
            IsClipEarthed = section.Choice("clip", InstrumentFormat.Clip)?.Value,
            ClipResistance = section.Quantity("clip-resistance"),
            TriggerLevel = section.Quantity("trigger"),
            TriggerEdge = section.Choice("slope", InstrumentFormat.Slope)?.Value,
            TriggerPosition = section.Quantity("position"),
            TimeBase = section.Quantity("time-base"),
            Rejection = section.Quantity("rejection"),
            RejectionCorner = section.Quantity("rejection-corner"),
            Offset = section.Quantity("offset"),
            Range = section.Quantity("range"),
            Burden = section.Quantity("burden"),
        };
        Check(section, settings, run, block);
        if (instrument == InstrumentKind.Oscilloscope && settings.IsClipEarthed != true && section.Has("connect-at"))
        {
            section.Note("connect-at", "a floating oscilloscope changes next to nothing when it is put on; \"connect-at\" is for its earthed clip");
        }

        return settings;
    }

    private static void CheckInstrument(Section observation, InstrumentKind instrument, RunSettings run, BlockInHand? block)
    {
        if (instrument == InstrumentKind.EsrMeter && run.Kind != RunKind.OperatingPoint)
        {
            observation.Note("instrument", "an ESR meter measures at rest; give the run \"compute: operating-point\" and \"power: off\"");
        }

        if (instrument == InstrumentKind.DifferentialProbe && block?.Board is { } board && LeadPlaces.Earth(board) is null)
        {
            observation.Note("instrument", $"block {block.Id} has no protective earth, which the oscilloscope behind a differential probe is bonded to");
        }
    }

    private static void Check(Section section, InstrumentSettings set, RunSettings run, BlockInHand? block)
    {
        if (set.IsClipEarthed == true && block?.Board is { } board && LeadPlaces.Earth(board) is null)
        {
            section.Note("clip", $"block {block.Id} has no protective earth that a clip could be bonded to");
        }

        if (set.IsClipEarthed != true && section.Has("clip-resistance"))
        {
            section.Note("clip-resistance", "clip-resistance belongs to a clip that is earthed; add \"clip: earthed\"");
        }

        if (section.Has("probe") && set.IsDirectProbe == true && section.Has("tip-capacitance"))
        {
            section.Note("tip-capacitance", "a 1x probe has no trimmer in its tip");
        }

        foreach (var key in OfTrigger.Where(k => section.Has(k) && !section.Has("trigger")))
        {
            section.Note(key, $"{key} belongs to a trigger; add its level as \"trigger\"");
        }

        if (section.Has("trigger") && !section.Has("time-base"))
        {
            section.Note("trigger", "a triggered trace is one screen long; add its \"time-base\"");
        }

        if (set.DisconnectAt is { } off && !(set.ConnectAt < off))
        {
            section.Note("disconnect-at", set.ConnectAt is null ? "a lead that is taken off was put on before; add \"connect-at\"" : "the lead is put on no earlier than that; disconnect later");
        }

        if (run.Kind == RunKind.OperatingPoint)
        {
            foreach (var key in OfTime.Where(section.Has))
            {
                section.Note(key, $"an operating point has no time axis, so \"{key}\" means nothing here");
            }
        }
        else if (set.ConnectAt is { } at && (run.Stop ?? block?.Board?.SuggestedStop) is { } stop && at >= stop)
        {
            section.Note("connect-at", "the run has ended by then; connect earlier, or run longer");
        }
    }
}
