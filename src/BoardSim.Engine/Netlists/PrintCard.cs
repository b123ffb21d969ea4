namespace BoardSim.Engine.Netlists;

/// <summary><c>.print kind variable...</c>: what to show of an analysis.</summary>
/// <param name="Kind">The analysis meant.</param>
/// <param name="Variables">What to show, at least one.</param>
public sealed record PrintCard(AnalysisKind Kind, IReadOnlyList<OutputVariable> Variables);

/// <summary>Which part of a small-signal phasor is meant.</summary>
public enum PhasorPart
{
    /// <summary>The value itself; of a phasor, magnitude and phase.</summary>
    Whole,

    /// <summary>Real part (VR, IR).</summary>
    Real,

    /// <summary>Imaginary part (VI, II).</summary>
    Imaginary,

    /// <summary>Magnitude (VM, IM).</summary>
    Magnitude,

    /// <summary>Phase in degrees (VP, IP).</summary>
    Phase,

    /// <summary>20 log10 of the magnitude, in decibels (VDB, IDB).</summary>
    Decibels,
}

/// <summary>A quantity to show: a node voltage, a difference of two, or a part's current.</summary>
/// <param name="IsCurrent">True for a current, false for a voltage.</param>
/// <param name="First">Name of the node, or of the part.</param>
/// <param name="Second">Name of the node that the voltage is counted against; null for the ground.</param>
/// <param name="Part">Which part of a phasor; <see cref="PhasorPart.Whole"/> outside the small-signal analysis.</param>
public sealed record OutputVariable(bool IsCurrent, string First, string? Second = null, PhasorPart Part = PhasorPart.Whole)
{
    /// <summary>The quantity as Berkeley writes it: <c>V(a)</c>, <c>V(a,b)</c>, <c>I(V1)</c>, <c>VDB(out)</c>.</summary>
    public override string ToString() => Text(Part);

    /// <summary>The quantity with another part of the phasor, as Berkeley writes it.</summary>
    /// <param name="part">Which part.</param>
    public string Text(PhasorPart part)
    {
        var suffix = part switch
        {
            PhasorPart.Real => "R",
            PhasorPart.Imaginary => "I",
            PhasorPart.Magnitude => "M",
            PhasorPart.Phase => "P",
            PhasorPart.Decibels => "DB",
            _ => "",
        };
        return $"{(IsCurrent ? "I" : "V")}{suffix}({First}{(Second is null ? "" : "," + Second)})";
    }
}
