using System.Globalization;

namespace BoardSim.Quantities;

/// <summary>
/// The one reader of values that people write, and the one writer of values for people. Read are a number with SI prefix and
/// unit (<c>1.5 mH</c>, <c>470 µF</c>, <c>40 degC</c>) and, where the unit asked for has one, an IEC 60062 letter code
/// (<c>4k7</c>, <c>R47</c>). A point is the decimal sign; commas are refused, since they mean different things in different places.
/// </summary>
public static class Quantity
{
    /// <summary>Reads a value.</summary>
    /// <param name="text">What was written.</param>
    /// <param name="expected">Unit that is wanted.</param>
    /// <param name="si">The value in SI units (see <see cref="Unit"/>); 0 when it could not be read.</param>
    /// <param name="problem">What is wrong with the text and what would be right, one sentence; empty when there is nothing wrong.</param>
    /// <returns>True when the text is a finite value of that unit.</returns>
    public static bool TryParse(string? text, Unit expected, out double si, out string problem)
    {
        ArgumentNullException.ThrowIfNull(expected);
        (var value, var fault) = QuantityReader.Read(text, expected);
        (si, problem) = fault is null ? (value, "") : (0, fault);
        return fault is null;
    }

    /// <summary>Reads a value.</summary>
    /// <param name="text">What was written.</param>
    /// <param name="expected">Unit that is wanted.</param>
    /// <returns>The value in SI units.</returns>
    /// <exception cref="FormatException">The text is not such a value; the message says what is wrong and what would be right.</exception>
    public static double Parse(string? text, Unit expected) =>
        TryParse(text, expected, out var si, out var problem) ? si : throw new FormatException(problem);

    /// <summary>Writes a value with engineering prefix and a fixed number of significant digits: <c>7.53 V</c>, <c>470 uF</c>, <c>40.0 degC</c>. Plain characters, the same on every machine.</summary>
    /// <param name="si">The value in SI units; a value that is not finite comes out in words.</param>
    /// <param name="unit">Its unit.</param>
    /// <param name="digits">Significant digits, 1 to 15.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number of digits is out of range.</exception>
    public static string Format(double si, Unit unit, int digits = 3) => QuantityWriter.Write(si, unit, digits, trim: false);

    /// <summary>Writes a value as one would give it: trailing zeros dropped, <c>4.7 kohm</c> and not <c>4.70 kohm</c>.</summary>
    /// <param name="si">The value in SI units; a value that is not finite comes out in words.</param>
    /// <param name="unit">Its unit.</param>
    /// <param name="digits">Most significant digits, 1 to 15.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number of digits is out of range.</exception>
    public static string FormatShort(double si, Unit unit, int digits = 6) => QuantityWriter.Write(si, unit, digits, trim: true);

    /// <summary>Writes a bare number with the invariant culture and the fewest digits that read back to the same value.</summary>
    /// <param name="value">Any number.</param>
    public static string FormatNumber(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
