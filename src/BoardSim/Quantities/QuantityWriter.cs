using System.Globalization;

namespace BoardSim.Quantities;

/// <summary>Writes values for people: engineering prefix, significant digits, invariant culture.</summary>
internal static class QuantityWriter
{
    /// <summary>Powers of ten below the unit's smallest prefix beyond which a value counts as none.</summary>
    private const int LeastPlaces = 9;

    public static string Write(double si, Unit unit, int digits, bool trim)
    {
        ArgumentNullException.ThrowIfNull(unit);
        ArgumentOutOfRangeException.ThrowIfLessThan(digits, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(digits, 15);
        var value = (si - unit.Offset) / unit.ShownFactor * Math.Pow(10, -unit.ShownPower);
        var (number, prefix) = Split(value, unit.DisplayPrefixes, digits, trim);
        return $"{number} {prefix}{unit.Symbol}".TrimEnd();
    }

    private static (string Number, string Prefix) Split(double value, string prefixes, int digits, bool trim)
    {
        if (!double.IsFinite(value))
        {
            return (double.IsNaN(value) ? "undefined" : value > 0 ? "infinite" : "minus infinite", "");
        }

        // Scientific notation rounds first, so that 999.96 becomes 1.00 k and not 1000.
        var text = value.ToString($"E{digits - 1}", CultureInfo.InvariantCulture);
        var at = text.IndexOf('E', StringComparison.Ordinal);
        var exponent = int.Parse(text.AsSpan(at + 1), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture);
        var power = value == 0 || prefixes.Length == 0 ? 0 : 3 * (int)Math.Floor(exponent / 3.0);
        while (power != 0 && (SiPrefix.Symbol(power) is not { } symbol || !prefixes.Contains(symbol.Length == 0 ? " " : symbol, StringComparison.Ordinal)))
        {
            power += power > 0 ? -3 : 3;
        }

        if (power < 0 && exponent - power < -LeastPlaces)
        {
            // A current that rounding or an open contact has left over.
            return Split(0, prefixes, digits, trim);
        }

        var places = value == 0 ? digits - 1 : digits - 1 - (exponent - power);
        return (Digits(text[..at], exponent - power, places, trim), SiPrefix.Symbol(power)!);
    }

    /// <summary>Lays out rounded digits with the decimal point where the exponent puts it; far from the point, with an exponent.</summary>
    private static string Digits(string mantissa, int exponent, int places, bool trim)
    {
        if (exponent is > 8 or < -5)
        {
            return $"{(trim ? Trim(mantissa) : mantissa)}e{exponent.ToString(CultureInfo.InvariantCulture)}";
        }

        var value = decimal.Parse($"{mantissa}e{exponent.ToString(CultureInfo.InvariantCulture)}", NumberStyles.Float, CultureInfo.InvariantCulture);
        var text = value.ToString($"F{Math.Max(0, places)}", CultureInfo.InvariantCulture);
        return trim ? Trim(text) : text;
    }

    private static string Trim(string text) =>
        text.Contains('.', StringComparison.Ordinal) ? text.TrimEnd('0').TrimEnd('.') : text;
}
