using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>A sine whose amplitude follows straight lines between points: dips, interruptions and slow ramps of the mains.</summary>
public sealed class EnvelopeSineWaveform : SourceWaveform
{
    private readonly PiecewiseLinearWaveform envelope;

    /// <summary>Creates the waveform.</summary>
    /// <param name="amplitude">Amplitude (peak) in volts or amperes where the envelope is 1.</param>
    /// <param name="frequency">Frequency in hertz, positive.</param>
    /// <param name="phaseDegrees">Phase at time zero in degrees.</param>
    /// <param name="envelope">Share of the amplitude over time.</param>
    public EnvelopeSineWaveform(double amplitude, double frequency, double phaseDegrees, PiecewiseLinearWaveform envelope)
    {
        ArgumentNullException.ThrowIfNull(envelope);
        (Amplitude, Frequency, PhaseDegrees, this.envelope) = (amplitude, frequency, phaseDegrees, envelope);
    }

    /// <summary>Amplitude (peak) in volts or amperes where the envelope is 1.</summary>
    public double Amplitude { get; }

    /// <summary>Frequency in hertz, positive.</summary>
    public double Frequency { get; }

    /// <summary>Phase at time zero in degrees.</summary>
    public double PhaseDegrees { get; }

    /// <inheritdoc/>
    public override double Value(double time)
    {
        var t = Math.Max(0, time);
        return envelope.Value(t) * Amplitude * Math.Sin(2 * Math.PI * Frequency * t + PhaseDegrees * (Math.PI / 180));
    }

    /// <inheritdoc/>
    public override double NextCorner(double time) => envelope.NextCorner(time);

    /// <inheritdoc/>
    public override double LongestStep(double time) => 0.05 / Frequency;

    /// <inheritdoc/>
    public override Repetition RepetitionAt(double time) => envelope.RepetitionAt(time) is { Period: 0 } steady ? new(1 / Frequency, steady.Until) : Repetition.None;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        if (!(Frequency > 0 && double.IsFinite(Frequency)))
        {
            yield return $"frequency {Frequency} Hz; it must be positive and finite.";
        }
    }
}
