using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>SPICE's SIN: offset until the delay, then a sine, damped if asked.</summary>
public sealed class SineWaveform : SourceWaveform
{
    /// <summary>Offset in volts or amperes.</summary>
    public double Offset { get; set; }

    /// <summary>Amplitude (peak) in volts or amperes.</summary>
    public double Amplitude { get; set; }

    /// <summary>Frequency in hertz, positive.</summary>
    public double Frequency { get; set; } = 50;

    /// <summary>Start of the sine in seconds, zero or more.</summary>
    public double Delay { get; set; }

    /// <summary>Damping factor in 1/s.</summary>
    public double Damping { get; set; }

    /// <summary>Phase at the start, in degrees.</summary>
    public double PhaseDegrees { get; set; }

    /// <inheritdoc/>
    public override double Value(double time)
    {
        var t = Math.Max(0, time - Delay);
        var decay = Damping == 0 ? 1 : Math.Exp(-Damping * t);
        return Offset + Amplitude * decay * Math.Sin(2 * Math.PI * Frequency * t + PhaseDegrees * (Math.PI / 180));
    }

    /// <inheritdoc/>
    public override double NextCorner(double time) => time < Delay * (1 - 1e-12) ? Delay : double.PositiveInfinity;

    /// <inheritdoc/>
    public override double LongestStep(double time) => Amplitude == 0 ? double.PositiveInfinity : 0.05 / Frequency;

    /// <inheritdoc/>
    public override Repetition RepetitionAt(double time) => time < Delay * (1 - 1e-12) ? new(0, Delay)
        : Amplitude == 0 ? Repetition.Constant
        : Damping == 0 ? new(1 / Frequency, double.PositiveInfinity)
        : Repetition.None;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        if (!(Frequency > 0 && double.IsFinite(Frequency)))
        {
            yield return $"frequency {Frequency} Hz; it must be positive and finite.";
        }

        if (!(Delay >= 0))
        {
            yield return $"delay {Delay} s; it must be zero or more.";
        }
    }
}
