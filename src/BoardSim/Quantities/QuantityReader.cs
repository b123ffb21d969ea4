using System.Globalization;

namespace BoardSim.Quantities;

/// <summary>Reads the text of a value; see <see cref="Quantity"/> for what is legal.</summary>
internal static class QuantityReader
{
    /// <summary>Longest text that is looked at, in characters: no value needs a third of it.</summary>
    private const int LongestText = 100;

    /// <summary>The value, or the sentence that says what is wrong.</summary>
    public static (double Value, string? Problem) Read(string? text, Unit expected)
    {
        var plain = Plain(text ?? "").Trim();
        if (plain.Length == 0)
        {
            return Wrong($"Nothing is given where a {expected.Kind} is wanted", expected);
        }

        if (plain.Length > LongestText)
        {
            return Wrong($"\"{plain[..LongestText]}...\" is too long for a value", expected);
        }

        var number = NumberLength(plain);
        var rest = plain[number..];
        var digits = plain[..number];
        if (rest.StartsWith(',') || rest.StartsWith('\''))
        {
            return Wrong($"\"{text}\" has the sign {rest[0]} in its number; the decimal sign is a point and thousands are not grouped", expected);
        }

        if (ReadLetterCode(plain, expected) is { } code)
        {
            return Finish(code.Digits, code.Spelling, code.Power, text, expected);
        }

        if (number == 0)
        {
            var why = IsNonFinite(plain) ? "is not a finite number" : "does not start with a number";
            return Wrong($"\"{text}\" {why}", expected);
        }

        var name = rest.Trim();
        if (Match(name, expected) is { } match)
        {
            return Finish(digits, match.Spelling, match.Power, text, expected);
        }

        return Wrong(Explain(text, digits, name, expected), expected);
    }

    /// <summary>The spelling and the prefix's power of ten that a unit text stands for, or null.</summary>
    private static (UnitSpelling Spelling, int Power)? Match(string name, Unit unit)
    {
        foreach (var spelling in unit.Spellings)
        {
            if (name == spelling.Text)
            {
                return (spelling, 0);
            }
        }

        foreach (var spelling in unit.Spellings)
        {
            if (spelling.Text.Length > 0 && name.Length == spelling.Text.Length + 1
                && name.EndsWith(spelling.Text, StringComparison.Ordinal) && spelling.Prefixes.Contains(name[0], StringComparison.Ordinal))
            {
                // IEC 60062 writes kilo as K for resistors, and so do many schematics.
                SiPrefix.TryPower(name[0] == 'K' ? 'k' : name[0], out var power);
                return (spelling, power);
            }
        }

        return null;
    }

    /// <summary>Reads a code such as 4k7, R47 or 10K, optionally with the unit behind it (4n7F); null when the text is none.</summary>
    private static (string Digits, UnitSpelling Spelling, int Power)? ReadLetterCode(string plain, Unit unit)
    {
        var start = plain[0] is '-' or '+' ? 1 : 0;
        var at = start;
        while (at < plain.Length && char.IsAsciiDigit(plain[at]))
        {
            at++;
        }

        if (at == plain.Length || !unit.Letters.Contains(plain[at], StringComparison.Ordinal))
        {
            return null;
        }

        var end = at + 1;
        while (end < plain.Length && char.IsAsciiDigit(plain[end]))
        {
            end++;
        }

        var (whole, fraction, tail) = (plain[start..at], plain[(at + 1)..end], plain[end..].Trim());
        var isCode = whole.Length + fraction.Length > 0 && (tail.Length == 0 || (fraction.Length > 0 && unit.Spellings.Any(spelling => spelling.Text == tail)));
        return isCode ? ($"{plain[..start]}{(whole.Length > 0 ? whole : "0")}.{fraction}0", unit.Spellings[0], LetterPower(plain[at])) : null;
    }

    /// <summary>IEC 60062: R and the unit's own letter mark the decimal point, L stands for milliohms.</summary>
    private static int LetterPower(char letter) =>
        letter switch
        {
            'L' => -3,
            'K' => 3,
            _ => SiPrefix.TryPower(letter, out var power) ? power : 0,
        };

    private static (double Value, string? Problem) Finish(string digits, UnitSpelling spelling, int prefix, string? text, Unit expected)
    {
        // The power of ten goes into the text, so that 470 uF is the very same number as 470e-6.
        var exponentAt = digits.IndexOfAny(['e', 'E']);
        var mantissa = exponentAt < 0 ? digits : digits[..exponentAt];
        var power = prefix + spelling.PowerOfTen;
        if (exponentAt >= 0)
        {
            if (!int.TryParse(digits[(exponentAt + 1)..], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var exponent) || Math.Abs(exponent) > 400)
            {
                return Wrong($"\"{text}\" is beyond the range of numbers", expected);
            }

            power += exponent;
        }

        var value = double.Parse($"{mantissa}e{power.ToString(CultureInfo.InvariantCulture)}", NumberStyles.Float, CultureInfo.InvariantCulture);
        if (!double.IsFinite(value) || (value == 0 && mantissa.AsSpan().IndexOfAnyInRange('1', '9') >= 0))
        {
            return Wrong($"\"{text}\" is beyond the range of numbers", expected);
        }

        value = value * spelling.Factor + spelling.Offset;
        return value < expected.Lowest ? Wrong($"\"{text}\" is below absolute zero", expected) : (value, null);
    }

    private static string Explain(string? text, string digits, string name, Unit expected)
    {
        if (name.Length == 0)
        {
            return $"\"{text}\" has no unit";
        }

        if (expected == Unit.Kelvin && name == "degC")
        {
            return $"\"{text}\" is a point on the temperature scale";
        }

        // "5 m" is a milli without its unit far more often than metres.
        var isPrefix = name.Length == 1 && expected.Spellings.Any(spelling => spelling.Prefixes.Contains(name[0], StringComparison.Ordinal));
        var prefix = $"\"{text}\" has a prefix but no unit ({digits} {name}{expected.Symbol}?)";
        if (isPrefix && name == "m")
        {
            return prefix;
        }

        foreach (var other in Unit.All)
        {
            if (other != expected && Match(name, other) is not null)
            {
                return $"\"{text}\" is a {other.Kind}, not a {expected.Kind}";
            }
        }

        if (isPrefix)
        {
            return prefix;
        }

        foreach (var other in Unit.All)
        {
            if (other != expected && ReadLetterCode(digits + name, other) is not null)
            {
                return $"\"{text}\" is the letter code of a {other.Kind}, not of a {expected.Kind}";
            }
        }

        var near = NearMiss(name, expected);
        return $"\"{text}\" has the unit \"{name}\", which is not known for a {expected.Kind}{(near is null ? "" : $" ({near}?)")}";
    }

    /// <summary>The legal unit that differs from the text in upper and lower case alone.</summary>
    private static string? NearMiss(string name, Unit expected)
    {
        foreach (var spelling in expected.Spellings)
        {
            foreach (var prefix in spelling.Prefixes.Select(symbol => symbol.ToString()).Prepend(""))
            {
                if (string.Equals(name, prefix + spelling.Text, StringComparison.OrdinalIgnoreCase))
                {
                    return prefix + spelling.Text;
                }
            }
        }

        return null;
    }

    private static (double Value, string? Problem) Wrong(string what, Unit expected) =>
        (0, $"{what}; write a {expected.Kind} such as {expected.Example}.");

    private static bool IsNonFinite(string plain)
    {
        var word = plain.TrimStart('+', '-');
        return word.StartsWith("nan", StringComparison.OrdinalIgnoreCase) || word.StartsWith("inf", StringComparison.OrdinalIgnoreCase) || word.StartsWith('∞');
    }

    /// <summary>Length of the decimal number at the start: sign, digits, point, exponent. An e that no digit follows is not an exponent.</summary>
    private static int NumberLength(string plain)
    {
        var at = plain[0] is '-' or '+' ? 1 : 0;
        var (digits, points) = (0, 0);
        for (; at < plain.Length && (char.IsAsciiDigit(plain[at]) || (plain[at] == '.' && points == 0)); at++)
        {
            (digits, points) = plain[at] == '.' ? (digits, 1) : (digits + 1, points);
        }

        if (digits == 0)
        {
            return 0;
        }

        if (at < plain.Length && plain[at] is 'e' or 'E')
        {
            var sign = at + 1 < plain.Length && plain[at + 1] is '-' or '+' ? 1 : 0;
            var end = at + 1 + sign;
            while (end < plain.Length && char.IsAsciiDigit(plain[end]))
            {
                end++;
            }

            at = end > at + 1 + sign ? end : at;
        }

        return at;
    }

    /// <summary>Replaces signs that have several code points or no key by plain characters.</summary>
    private static string Plain(string text) =>
        text.Replace('\u00B5', 'u').Replace('\u03BC', 'u')
            .Replace("\u03A9", "ohm", StringComparison.Ordinal).Replace("\u2126", "ohm", StringComparison.Ordinal)
            .Replace("\u2103", "degC", StringComparison.Ordinal).Replace("\u00B0", "deg", StringComparison.Ordinal)
            .Replace('\u00B2', '2').Replace('\u00B7', '.').Replace('\u2212', '-')
            .Replace('\u00A0', ' ').Replace('\u2009', ' ').Replace('\u202F', ' ');
}
