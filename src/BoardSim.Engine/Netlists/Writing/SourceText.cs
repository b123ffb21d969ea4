using System.Numerics;
using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Netlists.Writing;

/// <summary>What follows the nodes of an independent source.</summary>
internal static class SourceText
{
    /// <summary>Seconds that stand for never: no run is as long.</summary>
    private const double Never = 1e9;

    /// <summary>Writes value, phasor and waveform.</summary>
    /// <param name="waveform">Value over time.</param>
    /// <param name="dc">Value at direct current where it differs.</param>
    /// <param name="smallSignal">Phasor.</param>
    /// <param name="note">Receives what departs from the circuit, or needs a word.</param>
    public static string Write(SourceWaveform waveform, double? dc, Complex smallSignal, Action<string> note)
    {
        var ac = smallSignal == Complex.Zero ? "" : $" AC {N(smallSignal.Magnitude)} {N(Math.Round(smallSignal.Phase * (180 / Math.PI), 12))}";
        if (waveform is DcWaveform constant)
        {
            return dc is { } other && other != constant.Level
                ? $"DC {N(other)}{ac} PWL(0 {N(constant.Level)})"
                : $"DC {N(constant.Level)}{ac}";
        }

        return $"{(dc is { } value ? $"DC {N(value)}" : "")}{ac} {Function(waveform, note)}".Trim();
    }

    private static string Function(SourceWaveform waveform, Action<string> note) => waveform switch
    {
        SineWaveform sine => Sine(sine, note),
        PulseWaveform pulse => Pulse(pulse, note),
        ExponentialWaveform exp =>
            $"EXP({N(exp.Initial)} {N(exp.Pulsed)} {N(exp.RiseDelay)} {N(exp.RiseTime)} {N(NotZero(Finite(exp.FallDelay), exp.RiseTime, "fall delay", note))} {N(exp.FallTime)})",
        PiecewiseLinearWaveform pwl => $"PWL({string.Join(' ', pwl.Times.Zip(pwl.Values, (t, v) => $"{N(t)} {N(v)}"))})",
        _ => Unknown(waveform, note),
    };

    private static string Sine(SineWaveform s, Action<string> note)
    {
        var phase = s.PhaseDegrees % 360;
        phase = phase < 0 ? phase + 360 : phase;
        if (phase == 0)
        {
            return $"SIN({N(s.Offset)} {N(s.Amplitude)} {N(s.Frequency)} {N(s.Delay)} {N(s.Damping)})";
        }

        // Berkeley's SIN has no phase, but one that began earlier has one by now; its damping has then been at work as well.
        var lead = phase / (360 * s.Frequency);
        note(s.Delay > 0
            ? $"a phase of {phase:G6} deg after a delay of {s.Delay:G6} s cannot be stated; before the delay the source differs"
            : $"the phase of {phase:G6} deg is stated as a delay before time zero");
        return $"SIN({N(s.Offset)} {N(s.Amplitude * Math.Exp(s.Damping * lead))} {N(s.Frequency)} {N(s.Delay - lead)} {N(s.Damping)})";
    }

    private static string Pulse(PulseWaveform p, Action<string> note)
    {
        var width = NotZero(Finite(p.Width), p.Rise, "width", note);
        return $"PULSE({N(p.Low)} {N(p.High)} {N(Finite(p.Delay))} {N(p.Rise)} {N(p.Fall)} {N(width)} {N(Finite(p.Period))})";
    }

    private static string Unknown(SourceWaveform waveform, Action<string> note)
    {
        note($"a waveform of type {waveform.GetType().Name} cannot be expressed; its value at time zero stands in its place");
        return $"PWL(0 {N(waveform.Value(0))})";
    }

    /// <summary>Berkeley takes a written 0 for its default here, so nothing becomes next to nothing.</summary>
    private static double NotZero(double value, double scale, string what, Action<string> note)
    {
        if (value != 0)
        {
            return value;
        }

        note($"a {what} of 0 would be taken for the default; a billionth of the rise stands for it");
        return 1e-9 * scale;
    }

    private static double Finite(double seconds) => double.IsFinite(seconds) ? seconds : Never;

    private static string N(double value) => SpiceNumber.Format(value);
}
