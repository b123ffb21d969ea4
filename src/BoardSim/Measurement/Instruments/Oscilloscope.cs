using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Measurement;

/// <summary>
/// A digital oscilloscope with its probe. It loads the circuit while it measures (<see cref="Attach"/>) and shows the waveform
/// that the loaded circuit gives through its bandwidth and coupling (<see cref="Capture"/>). Ten divisions by eight.
/// </summary>
public sealed record Oscilloscope
{
    /// <summary>Divisions across the screen.</summary>
    public const int HorizontalDivisions = 10;

    /// <summary>Divisions up the screen.</summary>
    public const int VerticalDivisions = 8;

    /// <summary>What tables call it.</summary>
    public string Name { get; init; } = "oscilloscope";

    /// <summary>The probe.</summary>
    public ScopeProbe Probe { get; init; } = ScopeProbe.TenToOne;

    /// <summary>Frequency of 3 dB loss in hertz, one pole, positive; 100 MHz.</summary>
    public double Bandwidth { get; init; } = 100e6;

    /// <summary>True when a coupling capacitor keeps the mean away.</summary>
    public bool AcCoupled { get; init; }

    /// <summary>Frequency of 3 dB loss of the AC coupling in hertz, positive; 10 Hz (common practice, no source).</summary>
    public double AcCouplingCorner { get; init; } = 10;

    /// <summary>Deflection in the waveform's unit per division, positive; null sets it in steps of 1, 2 and 5 so that the trace and zero are on the screen.</summary>
    public double? PerDivision { get; init; }

    /// <summary>Value at the middle of the screen in the waveform's unit; null sets it to suit.</summary>
    public double? Middle { get; init; }

    /// <summary>Seconds per division, positive; null shows the whole waveform.</summary>
    public double? SecondsPerDivision { get; init; }

    /// <summary>The trigger; null starts the trace with the waveform.</summary>
    public ScopeTrigger? Trigger { get; init; }

    /// <summary>Gain error that the specification allows, as a share of the reading (common practice, no source).</summary>
    public double GainAccuracy { get; init; } = 0.03;

    /// <summary>Bits of the converter across the screen's height, which set its steps (common practice, no source).</summary>
    public int Bits { get; init; } = 8;

    /// <summary>Connects the probe: adds <c>R</c>name and <c>C</c>name; a probe with its inside (<see cref="ScopeProbe.Divider"/>) <c>R</c>name<c>_tip</c> and <c>C</c>name<c>_tip</c> before them.</summary>
    /// <param name="circuit">The circuit; it must not have parts of those names.</param>
    /// <param name="node">Node under the tip.</param>
    /// <param name="referenceNode">Node under the reference lead.</param>
    /// <param name="name">Name of the connection, without spaces.</param>
    /// <returns>Where the voltage is recorded that the oscilloscope draws.</returns>
    public Tap Attach(Circuit circuit, string node, string referenceNode, string name)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        if (Probe.Divider is not { } divider)
        {
            circuit.Add(new Resistor($"R{name}", node, referenceNode, Probe.Resistance));
            circuit.Add(new Capacitor($"C{name}", node, referenceNode, Probe.Capacitance));
            return new Tap(node, referenceNode);
        }

        var input = $"{name}_input";
        circuit.Add(new Resistor($"R{name}_tip", node, input, divider.TipResistance));
        circuit.Add(new Capacitor($"C{name}_tip", node, input, divider.TipCapacitance ?? divider.RightTipCapacitance));
        circuit.Add(new Resistor($"R{name}", input, referenceNode, divider.InputResistance));
        circuit.Add(new Capacitor($"C{name}", input, referenceNode, divider.CableCapacitance));
        return new Tap(input, referenceNode, divider.Attenuation);
    }

    /// <summary>What bandwidth and coupling leave of a waveform, before trigger and screen.</summary>
    /// <param name="wave">The waveform at the probe.</param>
    /// <param name="start">State of the coupling at the start: settled on the first value for an event, on the repetition for a steady state.</param>
    public Waveform Pass(Waveform wave, FilterStart start = FilterStart.FirstValue)
    {
        // Rise times of stages behind one another add as squares, and so do the inverses of their bandwidths.
        var both = double.IsFinite(Probe.Bandwidth) ? 1 / Math.Sqrt(1 / (Bandwidth * Bandwidth) + 1 / (Probe.Bandwidth * Probe.Bandwidth)) : Bandwidth;
        var passed = SinglePole.LowPass(wave, both, start);
        return AcCoupled ? SinglePole.HighPass(passed, AcCouplingCorner, start) : passed;
    }

    /// <summary>Draws a waveform: coupling and bandwidth, trigger, screen.</summary>
    /// <param name="wave">The waveform at the probe.</param>
    /// <param name="start">State of the coupling at the start, as for <see cref="Pass"/>.</param>
    public ScopeCapture Capture(Waveform wave, FilterStart start = FilterStart.FirstValue)
    {
        var passed = Pass(wave, start);
        var (from, to, trigger) = Window(passed);
        var span = SecondsPerDivision * HorizontalDivisions ?? passed.Duration;
        var shown = passed.Slice(from, to);

        var perDivision = PerDivision ?? Screen.PerDivision(shown.Minimum().Value, shown.Maximum().Value);
        var middle = Middle ?? Screen.Middle(shown.Minimum().Value, shown.Maximum().Value, perDivision);
        var half = perDivision * VerticalDivisions / 2;
        var clipped = shown.Minimum().Value < middle - half || shown.Maximum().Value > middle + half;
        return new ScopeCapture
        {
            Instrument = this,
            Trace = (clipped ? shown.Clipped(middle - half, middle + half) : shown).Shifted(-(trigger ?? 0)),
            PerDivision = perDivision,
            Middle = middle,
            SecondsPerDivision = span / HorizontalDivisions,
            TriggerTime = trigger,
            IsTriggered = Trigger is null || trigger is not null,
            IsClipped = clipped,
        };
    }

    /// <summary>The stretch of a waveform that a screen shows, and the instant of the trigger.</summary>
    /// <param name="passed">What bandwidth and coupling have left (<see cref="Pass"/>).</param>
    /// <returns>Start and end in the waveform's seconds; the trigger, null when there is none or its level is not crossed.</returns>
    public (double From, double To, double? Trigger) Window(Waveform passed)
    {
        ArgumentNullException.ThrowIfNull(passed);
        var span = SecondsPerDivision * HorizontalDivisions ?? passed.Duration;
        var before = (Trigger?.Position ?? 0) * span;
        // A trace that has no room before the trigger is shown from the start of what was recorded.
        var trigger = Trigger is { } t ? passed.FirstCrossing(t.Level, t.Slope, t.Position > 0 && SecondsPerDivision is not null ? passed.Start + before : null) : null;
        var from = SecondsPerDivision is null ? passed.Start : Math.Clamp((trigger ?? passed.Start + before) - before, passed.Start, passed.End);
        return (from, Math.Min(from + span, passed.End), trigger);
    }
}
