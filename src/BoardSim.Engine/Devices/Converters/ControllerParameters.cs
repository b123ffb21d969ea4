namespace BoardSim.Engine.Devices.Converters;

/// <summary>
/// What a current-mode controller of a flyback converter is set to. The peak of the primary current follows the feedback pin:
/// the sense voltage is compared with <c>(v_fb - FeedbackOffset) / FeedbackDivider</c>, with the soft start's ramp and with <see cref="SenseLimit"/>,
/// whichever is least. Source of the scheme: Erickson and Maksimovic, Fundamentals of Power Electronics, 2nd edition, chapter 12.
/// </summary>
public sealed record ControllerParameters
{
    /// <summary>Supply voltage in volts at which the controller starts, above <see cref="StopVoltage"/>.</summary>
    public double StartVoltage { get; init; } = 16;

    /// <summary>Supply voltage in volts below which it stops (under-voltage lock-out), positive.</summary>
    public double StopVoltage { get; init; } = 9.5;

    /// <summary>Supply current in amperes at <see cref="StartVoltage"/> while it has not started, positive; it goes with the voltage.</summary>
    public double StartCurrent { get; init; } = 20e-6;

    /// <summary>Supply current in amperes at <see cref="StartVoltage"/> while it runs, positive; it goes with the voltage.</summary>
    public double RunCurrent { get; init; } = 3e-3;

    /// <summary>Switching frequency in hertz, positive.</summary>
    public double Frequency { get; init; } = 65e3;

    /// <summary>Largest share of the period that the switch is on, between 0 and 1.</summary>
    public double MaximumDuty { get; init; } = 0.72;

    /// <summary>Time in seconds that the soft start takes from nothing to the full current, positive.</summary>
    public double SoftStart { get; init; } = 6e-3;

    /// <summary>Time in seconds after turn-on during which the sense voltage is not looked at, zero or more: the switch discharges the drain then.</summary>
    public double Blanking { get; init; } = 300e-9;

    /// <summary>Highest peak of the sense voltage in volts, positive: the cycle-by-cycle current limit.</summary>
    public double SenseLimit { get; init; } = 0.8;

    /// <summary>Voltage in volts behind the feedback pin's pull-up, positive.</summary>
    public double FeedbackSupply { get; init; } = 5;

    /// <summary>Pull-up of the feedback pin in ohms, positive.</summary>
    public double FeedbackPullUp { get; init; } = 8e3;

    /// <summary>Feedback voltage in volts at which the current is zero, zero or more.</summary>
    public double FeedbackOffset { get; init; } = 0.9;

    /// <summary>Volts at the feedback pin per volt of sense voltage, positive.</summary>
    public double FeedbackDivider { get; init; } = 3;

    /// <summary>Rise in volts per second that is added to the sense voltage while the switch is on (slope compensation), zero or more.</summary>
    public double Slope { get; init; } = 10e3;

    /// <summary>Sense voltage in volts below which a cycle is left out, zero or more.</summary>
    public double SkipLevel { get; init; } = 0.03;

    /// <summary>Time in seconds that the current limit may be asked for without a break before the controller stops and waits for its supply to
    /// fall and rise again, positive.</summary>
    public double OverloadDelay { get; init; } = 40e-3;

    /// <summary>Feedback voltage in volts from which on the limit decides.</summary>
    public double FeedbackAtLimit => FeedbackOffset + FeedbackDivider * SenseLimit;

    /// <summary>What is wrong, one sentence each.</summary>
    /// <param name="name">Name of the part.</param>
    internal IEnumerable<string> Problems(string name)
    {
        foreach (var problem in Ranges.Positive(
                name,
                ("stop voltage", StopVoltage),
                ("start current", StartCurrent),
                ("run current", RunCurrent),
                ("frequency", Frequency),
                ("soft start", SoftStart),
                ("sense limit", SenseLimit),
                ("feedback supply", FeedbackSupply),
                ("feedback pull-up", FeedbackPullUp),
                ("feedback divider", FeedbackDivider),
                ("overload delay", OverloadDelay))
            .Concat(Ranges.NotNegative(name, ("blanking", Blanking), ("feedback offset", FeedbackOffset), ("slope", Slope), ("skip level", SkipLevel))))
        {
            yield return problem;
        }

        if (!(StartVoltage > StopVoltage))
        {
            yield return $"{name}: start voltage {StartVoltage} V; it must be above the stop voltage of {StopVoltage} V.";
        }

        if (!(MaximumDuty > 0 && MaximumDuty < 1))
        {
            yield return $"{name}: maximum duty {MaximumDuty}; it must lie between 0 and 1.";
        }

        if (Blanking * Frequency >= MaximumDuty)
        {
            yield return $"{name}: blanking of {Blanking} s; it must be shorter than the longest on time of {MaximumDuty / Frequency} s.";
        }

        if (FeedbackSupply <= FeedbackAtLimit)
        {
            yield return $"{name}: feedback supply {FeedbackSupply} V; it must be above {FeedbackAtLimit} V, where the current limit begins, or the limit is never reached.";
        }
    }
}
