using System.Globalization;

namespace BoardSim.Engine.Netlists;

/// <summary>
/// Numbers as SPICE writes them: a decimal number with an optional exponent, an optional scale letter, and further letters
/// that are ignored (T G MEG K MIL M U N P F; Berkeley SPICE3 User's Manual, section "Circuit description", from memory).
/// </summary>
public static class SpiceNumber
{
    private static readonly (string Suffix, int Exponent)[] Scales =
        [("MEG", 6), ("T", 12), ("G", 9), ("K", 3), ("M", -3), ("U", -6), ("N", -9), ("P", -12), ("F", -15)];

    /// <summary>One thousandth of an inch, in metres.</summary>
    private const double Mil = 25.4e-6;

    /// <summary>Reads a number.</summary>
    /// <param name="text">The word; its case does not matter.</param>
    /// <param name="value">The value, rounded once from its decimal text.</param>
    /// <param name="error">What is wrong with the word and what would be right; empty when it is a number.</param>
    /// <returns>Whether it is a number.</returns>
    public static bool TryParse(string text, out double value, out string error)
    {
        ArgumentNullException.ThrowIfNull(text);
        value = 0;
        var at = 0;
        Sign(text, ref at);
        var digits = Digits(text, ref at);
        if (at < text.Length && text[at] == '.')
        {
            at++;
            digits += Digits(text, ref at);
        }

        if (digits == 0)
        {
            error = $"'{text}' is not a number.";
            return false;
        }

        var mantissa = text[..at];
        var exponent = Exponent(text, ref at);
        var letters = text[at..];
        if (!letters.All(char.IsAsciiLetter))
        {
            error = Misfit(text, letters);
            return false;
        }

        error = "";
        if (letters.StartsWith("MIL", StringComparison.OrdinalIgnoreCase))
        {
            value = double.Parse(FormattableString.Invariant($"{mantissa}e{exponent}"), CultureInfo.InvariantCulture) * Mil;
            return true;
        }

        // The scale goes into the decimal exponent, so that 15u is the double nearest to 15e-6.
        foreach (var (suffix, scale) in Scales)
        {
            if (letters.StartsWith(suffix, StringComparison.OrdinalIgnoreCase))
            {
                exponent += scale;
                break;
            }
        }

        value = double.Parse(FormattableString.Invariant($"{mantissa}e{exponent}"), CultureInfo.InvariantCulture);
        if (!double.IsFinite(value))
        {
            error = $"'{text}' is beyond the largest number that can be computed with.";
            return false;
        }

        return true;
    }

    /// <summary>Writes a number so that <see cref="TryParse"/> reads back the same bits.</summary>
    /// <param name="value">A finite value.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is infinite or not a number; SPICE has no text for it.</exception>
    public static string Format(double value) =>
        double.IsFinite(value)
            ? value.ToString("R", CultureInfo.InvariantCulture)
            : throw new ArgumentOutOfRangeException(nameof(value), value, "A netlist holds finite numbers only.");

    /// <summary>Whether a word is meant as a number: it begins with a digit, a sign or a point.</summary>
    internal static bool LooksLikeOne(string text) => text.Length > 0 && (char.IsAsciiDigit(text[0]) || text[0] is '+' or '-' or '.');

    private static void Sign(string text, ref int at)
    {
        if (at < text.Length && text[at] is '+' or '-')
        {
            at++;
        }
    }

    private static int Digits(string text, ref int at)
    {
        var from = at;
        while (at < text.Length && char.IsAsciiDigit(text[at]))
        {
            at++;
        }

        return at - from;
    }

    private static int Exponent(string text, ref int at)
    {
        if (at >= text.Length || text[at] is not ('e' or 'E'))
        {
            return 0;
        }

        var end = at + 1;
        Sign(text, ref end);
        var from = end;
        if (Digits(text, ref end) == 0)
        {
            // An e without digits is a letter like any other.
            return 0;
        }

        var value = int.TryParse(text.AsSpan(at + 1, end - at - 1), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var exponent)
            ? exponent
            : text[at + 1] == '-' ? -9999 : 9999;
        at = end;
        return Math.Clamp(value, -9999, 9999);
    }

    private static string Misfit(string text, string letters)
    {
        if (letters.Contains('µ') || letters.Contains('μ') || letters.Contains('Ω'))
        {
            return $"'{text}' holds a sign that Berkeley's number syntax does not know; write u for micro, and no unit signs.";
        }

        return char.IsAsciiLetter(letters[0]) && letters.Any(char.IsAsciiDigit)
            ? $"'{text}' has digits after a letter; the scale letter comes last (2.2k, not 2k2)."
            : $"'{text}' is not a number.";
    }
}
