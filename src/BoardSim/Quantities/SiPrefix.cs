namespace BoardSim.Quantities;

/// <summary>SI prefixes in steps of a thousand, in plain characters (SI Brochure, 9th edition, table 7; <c>u</c> stands for micro).</summary>
internal static class SiPrefix
{
    private const string Symbols = "fpnum kMGT";
    private const int Lowest = -15;

    /// <summary>Power of ten of a prefix.</summary>
    public static bool TryPower(char symbol, out int power)
    {
        var at = symbol == ' ' ? -1 : Symbols.IndexOf(symbol, StringComparison.Ordinal);
        power = Lowest + 3 * at;
        return at >= 0;
    }

    /// <summary>Prefix of a power of ten that is a multiple of three; empty for 0; null when there is none.</summary>
    public static string? Symbol(int power)
    {
        var at = (power - Lowest) / 3;
        return power < Lowest || at >= Symbols.Length ? null : Symbols[at] == ' ' ? "" : Symbols[at].ToString();
    }
}
