namespace BoardSim.Measurement;

/// <summary>
/// Inside of a passive 10:1 probe: a resistor with a capacitor across it in the tip, and the cable with the oscilloscope's input behind it.
/// It divides alike at all frequencies when R1 C1 = R2 C2 (any textbook on oscilloscopes); with a larger tip capacitor edges overshoot, with a smaller one
/// they creep (values: common practice, no source).
/// </summary>
public sealed record PassiveDivider
{
    /// <summary>Resistance in the tip in ohms, positive; 9 Mohm.</summary>
    public double TipResistance { get; init; } = 9e6;

    /// <summary>Capacitance across it in farads, zero or more, as the trimmer is set; null for the right one.</summary>
    public double? TipCapacitance { get; init; }

    /// <summary>Input resistance of the oscilloscope in ohms, positive; 1 Mohm.</summary>
    public double InputResistance { get; init; } = 1e6;

    /// <summary>Capacitance of cable and oscilloscope's input together in farads, positive; 108 pF.</summary>
    public double CableCapacitance { get; init; } = 108e-12;

    /// <summary>Tip capacitance in farads that divides as the resistors do: R2 C2 / R1.</summary>
    public double RightTipCapacitance => InputResistance * CableCapacitance / TipResistance;

    /// <summary>What it divides by at direct voltage.</summary>
    public double Attenuation => (TipResistance + InputResistance) / InputResistance;
}
