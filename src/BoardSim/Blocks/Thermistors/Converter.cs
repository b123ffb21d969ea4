namespace BoardSim.Blocks.Thermistors;

/// <summary>
/// Ideal analogue-to-digital converter of the mid-tread kind: code k stands for <c>k LSB</c> and is given from half a step below
/// to half a step above, so the first step is half as wide as the others. <c>LSB = reference / 2^bits</c>.
/// </summary>
public sealed class Converter
{
    /// <summary>Creates the converter.</summary>
    /// <param name="bits">Number of bits, 4 to 24.</param>
    /// <param name="reference">Reference voltage in volts, positive.</param>
    public Converter(int bits, double reference)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(bits, 4);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(bits, 24);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(reference);
        (Bits, Reference) = (bits, reference);
    }

    /// <summary>Number of bits.</summary>
    public int Bits { get; }

    /// <summary>Reference voltage in volts.</summary>
    public double Reference { get; }

    /// <summary>Largest code.</summary>
    public int FullScale => (1 << Bits) - 1;

    /// <summary>Code of a voltage; what lies outside the range gives the first or the last code.</summary>
    /// <param name="volts">Voltage in volts.</param>
    public int Code(double volts) =>
        (int)Math.Clamp(Math.Floor(volts / Reference * (1 << Bits) + 0.5), 0, FullScale);
}
