namespace BoardSim.Measurement;

/// <summary>An oscilloscope's probe together with the oscilloscope's input, as the circuit feels it (values: common practice, no source).</summary>
/// <param name="Name">What tables call it.</param>
/// <param name="Attenuation">Factor by which it divides; the oscilloscope multiplies by it again.</param>
/// <param name="Resistance">Input resistance in ohms, positive.</param>
/// <param name="Capacitance">Input capacitance in farads, zero or more.</param>
public sealed record ScopeProbe(string Name, double Attenuation, double Resistance, double Capacitance)
{
    /// <summary>Passive 10:1 probe: 10 Mohm and 12 pF.</summary>
    public static ScopeProbe TenToOne { get; } = new("10:1 probe, 10 Mohm", 10, 10e6, 12e-12);

    /// <summary>Passive 1:1 probe: the oscilloscope's own 1 Mohm, and 100 pF with its cable, which takes no more than 8 MHz.</summary>
    public static ScopeProbe OneToOne { get; } = new("1:1 probe, 1 Mohm", 1, 1e6, 100e-12) { Bandwidth = 8e6 };

    /// <summary>High-voltage differential probe, fit for points that are not referred to earth: 8 Mohm and 3.5 pF between its leads. Its rejection of what
    /// both leads have in common is perfect; <see cref="DifferentialProbe"/> has one that is not.</summary>
    public static ScopeProbe Differential { get; } = new("differential probe, 8 Mohm", 100, 8e6, 3.5e-12);

    /// <summary>Frequency of 3 dB loss of the probe in hertz, positive; infinite when the oscilloscope's own comes first.</summary>
    public double Bandwidth { get; init; } = double.PositiveInfinity;

    /// <summary>The probe's inside, for a compensation that may be off; null takes it as right, and as one resistance and one capacitance.</summary>
    public PassiveDivider? Divider { get; init; }

    /// <summary>A passive 10:1 probe with its inside, whose trimmer may be off.</summary>
    /// <param name="divider">The inside.</param>
    public static ScopeProbe TenToOneOf(PassiveDivider divider)
    {
        ArgumentNullException.ThrowIfNull(divider);
        var tip = divider.TipCapacitance ?? divider.RightTipCapacitance;
        return new ScopeProbe("10:1 probe, 10 Mohm", divider.Attenuation, divider.TipResistance + divider.InputResistance, tip * divider.CableCapacitance / (tip + divider.CableCapacitance))
        {
            Divider = divider,
        };
    }
}
