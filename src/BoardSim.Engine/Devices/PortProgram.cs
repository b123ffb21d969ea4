namespace BoardSim.Engine.Devices;

/// <summary>What a processor's program does with an output.</summary>
public enum PortMode
{
    /// <summary>Low.</summary>
    Off,

    /// <summary>High.</summary>
    On,

    /// <summary>High from one instant to another, again and again where a period is given.</summary>
    Schedule,

    /// <summary>Pulses of a period and a duty factor, from one instant to another.</summary>
    Pwm,

    /// <summary>High while the processor's thermostat asks for heat.</summary>
    Thermostat,
}

/// <summary>
/// What a processor's program does with an output, over program time: seconds since the program began, by the processor's own time base.
/// </summary>
public sealed record PortProgram
{
    // Part of a period by which an edge counts as passed, against rounding.
    private const double Passed = 1e-9;

    /// <summary>What is done.</summary>
    public required PortMode Mode { get; init; }

    /// <summary>Program time in seconds at which a schedule goes high and pulses begin, zero or more.</summary>
    public double OnAt { get; init; }

    /// <summary>Program time in seconds at which a schedule goes low and pulses end, later than <see cref="OnAt"/>; infinite for never.</summary>
    public double OffAt { get; init; } = double.PositiveInfinity;

    /// <summary>Period in seconds of a schedule that repeats and of pulses, positive; infinite for a schedule that does not.</summary>
    public double Period { get; init; } = double.PositiveInfinity;

    /// <summary>Share of the period that a pulse takes, 0 to 1.</summary>
    public double Duty { get; init; } = 0.5;

    /// <summary>True to put the mean of the pulses in the place of their edges: right for loads whose current hardly changes
    /// within a period, and the only way through hours of pulses.</summary>
    public bool IsMean { get; init; }

    /// <summary>Share of the time that the output is high while its level is.</summary>
    internal double High => Mode == PortMode.Pwm && IsMean ? Duty : 1;

    /// <summary>What is wrong, one sentence; null when nothing is.</summary>
    internal string? Problem
    {
        get
        {
            if (Mode is not (PortMode.Schedule or PortMode.Pwm))
            {
                return null;
            }

            return !(OnAt >= 0 && double.IsFinite(OnAt)) ? $"on at {OnAt} s; it must be zero or more and finite."
                : !(OffAt > OnAt) ? $"off at {OffAt} s; it must be later than on at {OnAt} s."
                : !(Period > 0) ? $"period {Period} s; it must be positive."
                : Mode == PortMode.Pwm && !double.IsFinite(Period) ? "pulses without a period."
                : Mode == PortMode.Pwm && !(Duty >= 0 && Duty <= 1) ? $"duty {Duty}; it must lie within 0 and 1."
                : Mode == PortMode.Schedule && double.IsFinite(Period) && !(OffAt <= Period) ? $"off at {OffAt} s; a schedule that repeats has to end within its period of {Period} s."
                : null;
        }
    }

    /// <summary>Period in seconds of program time with which the output repeats from an instant on; 0 when it stays as it is, infinite when it does neither.</summary>
    internal double Repeats(double time) => Mode switch
    {
        PortMode.Schedule when double.IsFinite(Period) => Period,
        PortMode.Pwm when time >= OnAt && !double.IsFinite(OffAt) => IsSteady ? 0 : Period,
        _ => double.IsFinite(NextEdge(time)) ? double.PositiveInfinity : 0,
    };

    private bool IsSteady => IsMean || Duty is 0 or 1;

    /// <summary>Level right after an instant.</summary>
    /// <param name="time">Program time in seconds.</param>
    /// <param name="heat">True while the thermostat asks for heat.</param>
    internal bool Level(double time, bool heat)
    {
        switch (Mode)
        {
            case PortMode.On:
                return true;
            case PortMode.Thermostat:
                return heat;
            case PortMode.Schedule:
                var at = double.IsFinite(Period) ? Within(time, Period) : time + Passed * Math.Max(1e-6, time);
                return at >= OnAt && at < OffAt;
            case PortMode.Pwm:
                var since = time - OnAt + Passed * Period;
                return since >= 0 && time + Passed * Period < OffAt && (IsMean || Within(time - OnAt, Period) < Duty * Period);
            default:
                return false;
        }
    }

    /// <summary>The next instant later than a program time at which the level may change by itself; infinite when there is none.</summary>
    /// <param name="time">Program time in seconds.</param>
    internal double NextEdge(double time)
    {
        switch (Mode)
        {
            case PortMode.Schedule when double.IsFinite(Period):
                var start = time - Within(time, Period) + Passed * Period;
                return Later(time, Passed * Period, start + OnAt, start + OffAt, start + Period + OnAt);
            case PortMode.Schedule:
                return Later(time, Passed * Math.Max(1e-6, time), OnAt, OffAt, double.PositiveInfinity);
            case PortMode.Pwm when time + Passed * Period < OnAt:
                return OnAt;
            case PortMode.Pwm when time + Passed * Period < OffAt && !IsSteady:
                var pulse = time - Within(time - OnAt, Period) + Passed * Period;
                return Math.Min(OffAt, Later(time, Passed * Period, pulse + Duty * Period, pulse + Period, double.PositiveInfinity));
            case PortMode.Pwm:
                return Later(time, Passed * Period, OffAt, double.PositiveInfinity, double.PositiveInfinity);
            default:
                return double.PositiveInfinity;
        }
    }

    /// <summary>Time since the last whole period; what is a rounding short of a period counts as its end.</summary>
    private static double Within(double time, double period)
    {
        var t = time + Passed * period;
        return t - Math.Floor(t / period) * period;
    }

    private static double Later(double time, double passed, double first, double second, double third) =>
        first > time + passed ? first : second > time + passed ? second : third;
}
