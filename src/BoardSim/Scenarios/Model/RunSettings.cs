namespace BoardSim.Scenarios;

/// <summary>What kind of computation a scenario asks for.</summary>
public enum RunKind
{
    /// <summary>Voltages and currents over time.</summary>
    Transient,

    /// <summary>The circuit at rest: one value per test point, no time axis.</summary>
    OperatingPoint,

    /// <summary>How the circuit, linearised at rest, answers a small sine over frequency.</summary>
    FrequencyResponse,
}

/// <summary>Where a transient run starts.</summary>
public enum RunStart
{
    /// <summary>Capacitors empty (or at the voltage that the block states) when the source comes on.</summary>
    SwitchOn,

    /// <summary>From the operating point at time zero.</summary>
    Settled,

    /// <summary>From the state that repeats after each period of the sources.</summary>
    Periodic,
}

/// <summary>How the circuit of a scenario is computed.</summary>
public sealed record RunSettings
{
    /// <summary>Transient run or operating point.</summary>
    public RunKind Kind { get; init; }

    /// <summary>True when the board is unplugged: its supply leads hang open.</summary>
    public bool IsPowerOff { get; init; }

    /// <summary>Where a transient run starts; null for where the block usually starts.</summary>
    public RunStart? Start { get; init; }

    /// <summary>End of the run in seconds, positive; null takes the block's suggestion.</summary>
    public double? Stop { get; init; }

    /// <summary>Periods that a run from the periodic state takes, 1 or more; null takes as many as the block suggests.</summary>
    public int? Periods { get; init; }

    /// <summary>Time from which waveforms are recorded, in seconds; zero or more.</summary>
    public double RecordFrom { get; init; }

    /// <summary>First frequency of a frequency response in hertz, positive.</summary>
    public double FromFrequency { get; init; } = 10;

    /// <summary>Last frequency in hertz, above the first.</summary>
    public double ToFrequency { get; init; } = 1e6;

    /// <summary>Frequencies in each decade, 1 to 1000.</summary>
    public int PointsPerDecade { get; init; } = 50;

    /// <summary>Relative accuracy of the computation, 1e-8 to 0.1.</summary>
    public double Accuracy { get; init; } = 1e-3;

    /// <summary>True leaps over switching periods that are alike and interpolates their waveforms; null does so where a converter keeps its own clock.</summary>
    public bool? Leaps { get; init; }
}
