namespace BoardSim.Engine.Devices;

/// <summary>SPICE's EXP: an exponential rise towards a second level and an exponential fall back.</summary>
public sealed class ExponentialWaveform : SourceWaveform
{
    /// <summary>Value before the rise.</summary>
    public double Initial { get; set; }

    /// <summary>Value that the rise tends to.</summary>
    public double Pulsed { get; set; }

    /// <summary>Start of the rise in seconds, zero or more.</summary>
    public double RiseDelay { get; set; }

    /// <summary>Time constant of the rise in seconds, positive.</summary>
    public double RiseTime { get; set; }

    /// <summary>Start of the fall in seconds, not before the rise.</summary>
    public double FallDelay { get; set; }

    /// <summary>Time constant of the fall in seconds, positive.</summary>
    public double FallTime { get; set; }

    /// <inheritdoc/>
    public override double Value(double time)
    {
        var v = Initial;
        if (time > RiseDelay)
        {
            v += (Pulsed - Initial) * -Expm1(-(time - RiseDelay) / RiseTime);
        }

        if (time > FallDelay)
        {
            v += (Initial - Pulsed) * -Expm1(-(time - FallDelay) / FallTime);
        }

        return v;
    }

    /// <inheritdoc/>
    public override double NextCorner(double time)
    {
        var slack = 1e-13 * Math.Abs(time);
        return time + slack < RiseDelay ? RiseDelay : time + slack < FallDelay ? FallDelay : double.PositiveInfinity;
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        if (!(RiseTime > 0 && FallTime > 0))
        {
            yield return $"time constants {RiseTime} s and {FallTime} s; both must be positive.";
        }

        if (!(RiseDelay >= 0 && FallDelay >= RiseDelay))
        {
            yield return $"delays {RiseDelay} s and {FallDelay} s; the rise must not start before zero nor the fall before the rise.";
        }
    }

    private static double Expm1(double x) => Math.Abs(x) < 1e-5 ? x * (1 + x * (0.5 + x / 6)) : Math.Exp(x) - 1;
}
