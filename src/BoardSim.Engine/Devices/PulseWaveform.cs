using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>SPICE's PULSE: two levels with straight edges, repeated with a period.</summary>
public sealed class PulseWaveform : SourceWaveform
{
    /// <summary>Level before the delay and between pulses.</summary>
    public double Low { get; set; }

    /// <summary>Level of the pulse.</summary>
    public double High { get; set; }

    /// <summary>Start of the first rise in seconds, zero or more.</summary>
    public double Delay { get; set; }

    /// <summary>Rise time in seconds, positive.</summary>
    public double Rise { get; set; }

    /// <summary>Fall time in seconds, positive.</summary>
    public double Fall { get; set; }

    /// <summary>Time at the high level in seconds, zero or more; infinite for a step.</summary>
    public double Width { get; set; } = double.PositiveInfinity;

    /// <summary>Period in seconds; infinite for a single pulse.</summary>
    public double Period { get; set; } = double.PositiveInfinity;

    /// <inheritdoc/>
    public override double Value(double time)
    {
        var t = Phase(time, out _);
        if (t <= 0)
        {
            return Low;
        }

        if (t < Rise)
        {
            return Low + (High - Low) * (t / Rise);
        }

        t -= Rise;
        if (t <= Width)
        {
            return High;
        }

        t -= Width;
        return t < Fall ? High + (Low - High) * (t / Fall) : Low;
    }

    /// <inheritdoc/>
    public override double NextCorner(double time)
    {
        var t = Phase(time, out var start);

        // A corner that lies within rounding of the present time has been served.
        var slack = 1e-13 * Math.Max(Math.Abs(time), Math.Abs(start)) + 1e-12 * (Rise + Fall);
        Span<double> corners = [0, Rise, Rise + Width, Rise + Width + Fall, Period];
        foreach (var corner in corners)
        {
            if (corner > t + slack && corner <= Period)
            {
                return start + corner;
            }
        }

        return double.IsFinite(Period) ? start + Period : double.PositiveInfinity;
    }

    /// <inheritdoc/>
    public override bool IsSteady(double from, double to) => Value(from) == Value(to);

    /// <inheritdoc/>
    public override Repetition RepetitionAt(double time)
    {
        var slack = 1e-13 * Math.Abs(time) + 1e-12 * (Rise + Fall);
        if (time + slack < Delay)
        {
            return new(0, Delay);
        }

        if (double.IsFinite(Period))
        {
            return new(Period, double.PositiveInfinity);
        }

        var (top, fall) = (Delay + Rise, Delay + Rise + Width);
        return time + slack < top ? Repetition.None
            : time + slack < fall ? new(0, fall)
            : time + slack < fall + Fall ? Repetition.None
            : Repetition.Constant;
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        if (!(Rise > 0 && Fall > 0))
        {
            yield return $"rise {Rise} s and fall {Fall} s; both must be positive.";
        }

        if (!(Delay >= 0 && Width >= 0))
        {
            yield return $"delay {Delay} s and width {Width} s; both must be zero or more.";
        }

        if (!(Period > 0))
        {
            yield return $"period {Period} s; it must be positive.";
        }
    }

    /// <summary>Time since the start of the present period, and that start.</summary>
    private double Phase(double time, out double start)
    {
        start = Delay;
        var t = time - Delay;
        if (t > 0 && double.IsFinite(Period))
        {
            // Rounding may leave t a hair below a full period; snap it so that corners stay on one grid.
            var n = Math.Floor(t / Period + 1e-12 * Math.Max(1, t / Period));
            start = Delay + n * Period;
            t = time - start;
        }

        return t;
    }
}
