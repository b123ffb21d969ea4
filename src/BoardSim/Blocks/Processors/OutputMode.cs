namespace BoardSim.Blocks.Processors;

/// <summary>What the program does with an output.</summary>
public enum OutputMode
{
    /// <summary>The pin is not used: a leak to ground.</summary>
    Unused,

    /// <summary>Low from the program's beginning.</summary>
    Off,

    /// <summary>High from the program's beginning.</summary>
    On,

    /// <summary>High from on-at to off-at, again and again where a period is set.</summary>
    Schedule,

    /// <summary>Pulses of a period and a duty factor, from on-at to off-at.</summary>
    Pwm,

    /// <summary>High while the thermostat asks for heat.</summary>
    Thermostat,
}

/// <summary>How pulses of an output are computed.</summary>
public enum PulseDetail
{
    /// <summary>Edge by edge.</summary>
    Edges,

    /// <summary>By their mean, for runs over minutes and hours.</summary>
    Mean,
}
