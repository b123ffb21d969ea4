namespace BoardSim.Engine.Devices.Converters;

/// <summary>The power stage of a flyback converter, seen from its primary, for the cycle-averaged model.</summary>
public sealed record FlybackStage
{
    /// <summary>Inductance of the primary in henries, positive.</summary>
    public double PrimaryInductance { get; init; } = 600e-6;

    /// <summary>Leakage inductance seen from the primary in henries, zero or more.</summary>
    public double LeakageInductance { get; init; } = 12e-6;

    /// <summary>Primary turns per secondary turn, positive.</summary>
    public double Ratio { get; init; } = 8;

    /// <summary>Auxiliary turns per secondary turn, positive.</summary>
    public double AuxiliaryRatio { get; init; } = 1.1;

    /// <summary>Resistance in ohms that the primary current passes while the switch is on: winding, switch and sense resistor, zero or more.</summary>
    public double PrimaryResistance { get; init; } = 3;

    /// <summary>Resistance in ohms of secondary winding and rectifier, zero or more.</summary>
    public double SecondaryResistance { get; init; } = 0.05;

    /// <summary>Forward voltage in volts of the output rectifier, zero or more.</summary>
    public double RectifierVoltage { get; init; } = 0.6;

    /// <summary>Forward voltage in volts of the auxiliary rectifier, zero or more.</summary>
    public double AuxiliaryVoltage { get; init; } = 0.7;

    /// <summary>Resistance in ohms in series with the auxiliary winding, positive.</summary>
    public double AuxiliaryResistance { get; init; } = 22;

    /// <summary>Sense resistor in ohms, positive.</summary>
    public double SenseResistance { get; init; } = 0.9;

    /// <summary>What is wrong, one sentence each.</summary>
    /// <param name="name">Name of the part.</param>
    internal IEnumerable<string> Problems(string name) =>
        Ranges.Positive(
            name,
            ("primary inductance", PrimaryInductance),
            ("turns ratio", Ratio),
            ("auxiliary ratio", AuxiliaryRatio),
            ("auxiliary resistance", AuxiliaryResistance),
            ("sense resistance", SenseResistance))
        .Concat(Ranges.NotNegative(
            name,
            ("leakage inductance", LeakageInductance),
            ("primary resistance", PrimaryResistance),
            ("secondary resistance", SecondaryResistance),
            ("rectifier voltage", RectifierVoltage),
            ("auxiliary rectifier voltage", AuxiliaryVoltage)));
}
