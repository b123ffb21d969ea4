using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Faults;
using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Scenarios.Running;

/// <summary>An oscilloscope with its probe, its clip floating or earthed.</summary>
internal sealed class ScopeConnection : Connection
{
    private readonly Oscilloscope scope;
    private readonly EarthedClip? clip;
    private readonly InstrumentSettings settings;

    public ScopeConnection(ObservationSpec spec)
    {
        (scope, settings) = (Instruments.Scope(spec), spec.Settings);
        clip = settings.IsClipEarthed == true
            ? new EarthedClip { Resistance = settings.ClipResistance ?? new EarthedClip().Resistance }
            : null;
    }

    public override string Name =>
        $"{scope.Name}, {Quantity.FormatShort(scope.Probe.Resistance, Unit.Ohm)} probe{(settings.TipCapacitance is { } tip ? $" with {Quantity.FormatShort(tip, Unit.Farad)} in its tip" : "")}"
        + $"{(clip is null ? "" : ", clip earthed")}{(scope.AcCoupled ? ", AC coupled" : "")}";

    public override Tap Attach(Leads leads)
    {
        clip?.Attach(leads.Circuit, leads.Reference, leads.EarthOr(Name), leads.Name, settings.ConnectAt);
        return scope.Attach(leads.Circuit, leads.Node, leads.Reference, leads.Name);
    }

    public override Waveform Shape(Waveform wave)
    {
        var passed = scope.Pass(wave);
        if (settings.TriggerLevel is null)
        {
            return passed;
        }

        // Times stay those of the run, so that other traces can be drawn beside this one.
        var (from, to, _) = scope.Window(passed);
        return passed.Slice(from, to);
    }

    public override InstrumentReading? Read(Waveform wave, Waveform whole)
    {
        if (settings.TriggerLevel is not { } level)
        {
            return null;
        }

        var trigger = scope.Window(scope.Pass(whole)).Trigger;
        return new InstrumentReading
        {
            Instrument = scope.Name,
            Function = "instant of the trigger",
            TestPoint = wave.Name,
            Value = trigger,
            Unit = Unit.Second,
            Display = trigger is { } instant ? Quantity.Format(instant, Unit.Second) : "not triggered",
            Note = trigger is null ? $"The level of {Quantity.FormatShort(level, Unit.Volt)} is never crossed; the trace shows the start of the record." : "",
        };
    }
}

/// <summary>A differential probe on an oscilloscope.</summary>
internal sealed class DifferentialConnection(DifferentialProbe probe) : Connection
{
    public override string Name =>
        $"{probe.Name}, {Quantity.FormatShort(probe.Resistance, Unit.Ohm)}, {Quantity.FormatShort(probe.Rejection, Unit.Decibel)} of rejection{(probe.AcCoupled ? ", AC coupled" : "")}";

    public override Tap Attach(Leads leads) => probe.Attach(leads.Circuit, leads.Node, leads.Reference, leads.EarthOr(Name), leads.Name);

    public override Waveform Shape(Waveform wave) => probe.Pass(wave);
}

/// <summary>A multimeter; its waveform is the one at its leads, or the current that it interrupts.</summary>
internal sealed class MeterConnection(Multimeter meter, double? at, double? until) : Connection
{
    public override string Name => $"{meter.Name}, {meter.FunctionName}";

    public override Tap Attach(Leads leads) => meter.Attach(leads.Circuit, leads.Node, leads.Reference, leads.Name, at, until);

    public override void Insert(Board board, string part)
    {
        var device = board.Circuit[part];
        var (outer, inner) = (device.Nodes[0], $"{part}_ammeter");
        device.Rewire(0, inner);
        meter.Attach(board.Circuit, outer, inner, $"_ammeter_{part}");
    }

    public override InstrumentReading? Read(Waveform wave, Waveform whole) => meter.DrivesCurrent
        ? meter.ReadTest(wave.End < whole.End ? whole.Slice(whole.Start, wave.End) : whole, at)
        : meter.Read(wave);

    public override InstrumentReading? MeasureAtRest(Circuit circuit, string node, string reference, RunLimits limits) =>
        meter.DrivesCurrent ? meter.MeasureAtRest(circuit, node, reference, limits: limits) : null;
}

/// <summary>An ESR meter, which measures at rest alone.</summary>
internal sealed class EsrConnection(EsrMeter meter) : Connection
{
    public override string Name => $"{meter.Name}, {meter.FunctionName}";

    public override InstrumentReading? MeasureAtRest(Circuit circuit, string node, string reference, RunLimits limits) => meter.Measure(circuit, node, reference, limits: limits);
}

/// <summary>A current clamp, on an oscilloscope or as a meter.</summary>
internal sealed class ClampConnection(CurrentClamp clamp, bool isMeter) : Connection
{
    public override string Name => isMeter ? $"{clamp.Name} meter, {clamp.FunctionName}" : $"{clamp.Name} on an oscilloscope";

    public override Waveform Shape(Waveform wave) => isMeter ? wave : clamp.Pass(wave);

    public override InstrumentReading? Read(Waveform wave, Waveform whole) => isMeter ? clamp.Read(wave) : null;
}
