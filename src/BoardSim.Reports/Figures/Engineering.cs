using System.Globalization;
using System.Text.RegularExpressions;

namespace BoardSim.Reports.Figures;

/// <summary>
/// Engineering notation: values with SI prefixes in steps of a thousand (SI Brochure, 9th edition, table 7) and the symbols of
/// units as they are printed.
/// </summary>
public static partial class Engineering
{
    private static readonly (double Factor, string Symbol)[] Prefixes =
    [
        (1e-12, "p"), (1e-9, "n"), (1e-6, "µ"), (1e-3, "m"), (1, ""), (1e3, "k"), (1e6, "M"), (1e9, "G"), (1e12, "T"),
    ];

    // A prefix in front of a squared unit reads as the square of the prefixed unit, and nobody writes m°C or k%.
    private static readonly HashSet<string> Prefixable =
        ["V", "A", "W", "Ω", "F", "H", "s", "Hz", "J", "C", "S", "VA", "var", "N", "Wb", "T", "V/s", "A/s", "W/K", "J/K", "Bd", "bit/s"];

    /// <summary>The printed symbol of a unit: "ohm" becomes Ω, "degC" becomes °C, "^2" becomes ².</summary>
    /// <param name="unit">Unit as written in files; empty or "1" for a plain number.</param>
    public static string Symbol(string unit)
    {
        ArgumentNullException.ThrowIfNull(unit);
        return unit.Trim() switch
        {
            "ohm" or "Ohm" or "ohms" => "Ω",
            "degC" or "C°" or "celsius" => "°C",
            "deg" => "°",
            "percent" => "%",
            "A2s" => "A²s",
            "1" => "",
            var u => u.Replace("^2", "²", StringComparison.Ordinal).Replace("^3", "³", StringComparison.Ordinal)
                .Replace("ohm", "Ω", StringComparison.Ordinal).Replace("degC", "°C", StringComparison.Ordinal)
                .Replace("*", "·", StringComparison.Ordinal),
        };
    }

    /// <summary>The factor and prefixed symbol that suit the largest magnitude on an axis.</summary>
    /// <param name="magnitude">Largest magnitude, in the unit.</param>
    /// <param name="unit">Unit symbol without prefix.</param>
    /// <returns>Divide values by the factor to get numbers in the prefixed unit.</returns>
    public static (double Factor, string Symbol) Scale(double magnitude, string unit)
    {
        var symbol = Symbol(unit);
        if (!Prefixable.Contains(symbol) || magnitude == 0 || !double.IsFinite(magnitude))
            return (1, symbol);
        // A rounding guard: 999.9999 mV is 1 V to any reader.
        var size = Math.Abs(magnitude) * (1 + 1e-9);
        var best = Prefixes[0];
        foreach (var prefix in Prefixes)
            if (prefix.Factor <= size)
                best = prefix;
        return (best.Factor, best.Symbol + symbol);
    }

    /// <summary>A value as text with prefix and unit: 0.0283 V gives "28.3 mV".</summary>
    /// <param name="value">Value in the unit.</param>
    /// <param name="unit">Unit symbol without prefix.</param>
    /// <param name="digits">Significant digits, 1 to 15.</param>
    public static string Format(double value, string unit, int digits = 3)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(digits, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(digits, 15);
        if (double.IsNaN(value))
            return "not defined";
        if (double.IsInfinity(value))
            return value > 0 ? "infinite" : "−infinite";
        // Rounded first, so that 999.96 becomes 1.00 k and not 1000.
        var rounded = Round(value, digits);
        var (factor, symbol) = Scale(rounded, unit);
        var number = Number(rounded / factor, digits);
        return symbol.Length == 0 ? number : number + " " + symbol;
    }

    /// <summary>A value with up to six significant digits and no more than it needs: "20 ms" and not "20.0000 ms".</summary>
    internal static string Short(double value, string unit)
    {
        var parts = Format(value, unit, 6).Split(' ', 2);
        var number = parts[0].Contains('.', StringComparison.Ordinal) ? parts[0].TrimEnd('0').TrimEnd('.') : parts[0];
        return parts.Length == 1 ? number : $"{number} {parts[1]}";
    }

    /// <summary>The display of a meter or a plain-character value as print has it: "4.70 kohm" becomes "4.70 kΩ", "-5 V" "−5 V".</summary>
    /// <param name="text">A value with its unit.</param>
    public static string Print(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var parts = text.Split(' ', 2);
        if (parts.Length < 2 || !double.TryParse(parts[0], NumberStyles.Float, CultureInfo.InvariantCulture, out _))
            return text;
        var unit = parts[1];
        var micro = unit.Length > 1 && unit[0] == 'u' && Prefixable.Contains(Symbol(unit[1..]));
        return parts[0].Replace('-', '−') + " " + Symbol(micro ? "µ" + unit[1..] : unit);
    }

    /// <summary>A running text with the units of its values as print has them: "Damp plug, 20 kohm" becomes "Damp plug, 20 kΩ".</summary>
    /// <param name="text">Any text.</param>
    public static string PrintText(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return PlainUnit().Replace(text, match => $"{match.Groups[1].Value} {Print("1 " + match.Groups[2].Value)[2..]}");
    }

    [GeneratedRegex(@"(?<=^|[\s(=±-])(\d+(?:\.\d+)?) ([munpkMG]?ohm|u[FHAVs]|degC|A2s)\b")]
    private static partial Regex PlainUnit();

    /// <summary>A count with thin groups of three digits, as tables print it.</summary>
    internal static string Count(long count) =>
        count.ToString("#,0", CultureInfo.InvariantCulture).Replace(',', '\u00A0');

    /// <summary>What an axis in a unit is called, e.g. "Voltage" for V; the other name when the unit tells nothing.</summary>
    internal static string Quantity(string unit, string other) => unit switch
    {
        "V" => "Voltage",
        "A" => "Current",
        "ohm" => "Resistance",
        "F" => "Capacitance",
        "H" => "Inductance",
        "s" => "Time",
        "Hz" => "Frequency",
        "W" => "Power",
        "VA" => "Apparent power",
        "J" => "Energy",
        "degC" => "Temperature",
        "K" => "Temperature difference",
        "deg" => "Angle",
        "A2s" => "I²t",
        _ => other,
    };

    /// <summary>A plain number with the given significant digits and a true minus sign.</summary>
    internal static string Number(double value, int digits)
    {
        if (value == 0)
            return "0";
        var magnitude = Math.Abs(value);
        string text;
        if (magnitude >= 1e6 || magnitude < 1e-4)
        {
            var exponent = (int)Math.Floor(Math.Log10(magnitude));
            var mantissa = Round(magnitude / Math.Pow(10, exponent), digits);
            text = mantissa.ToString("F" + (digits - 1), CultureInfo.InvariantCulture) + "·10" + Superscript(exponent);
        }
        else
        {
            var before = (int)Math.Floor(Math.Log10(magnitude)) + 1;
            text = magnitude.ToString("F" + Math.Clamp(digits - before, 0, 15), CultureInfo.InvariantCulture);
        }

        return value < 0 ? "−" + text : text;
    }

    private static double Round(double value, int digits)
    {
        if (value == 0)
            return 0;
        return double.Parse(value.ToString("E" + (digits - 1), CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }

    // The font has only ¹²³ among the raised digits, so other exponents are written with a caret.
    private static string Superscript(int exponent) => exponent switch
    {
        1 => "¹",
        2 => "²",
        3 => "³",
        < 0 => "^−" + (-exponent).ToString(CultureInfo.InvariantCulture),
        _ => "^" + exponent.ToString(CultureInfo.InvariantCulture),
    };
}
