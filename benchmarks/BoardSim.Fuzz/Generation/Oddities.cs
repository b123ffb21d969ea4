namespace BoardSim.Fuzz.Generation;

/// <summary>Words that readers stumble over.</summary>
internal static class Oddities
{
    public static IReadOnlyList<string> Numbers { get; } =
    [
        "1e999", "-1e999", "1e308", "1.7976931348623157e308", "4.9e-324", "1e-999", "nan", "NaN", "-nan", "inf", "-inf", "Infinity", "+inf", "∞", "1e", "1e+", "e5", ".", "-", "+.",
        "0x10", "1_000", "1,5", "1e99999999999999999999", "-0", "00000000000000000000001", "0.1e-0000000000001", "1e12", "1e15", "1T", "1MEGMEG", "1mil", "2k2", "4µ", "١٢", "1e2e3", "--1", "1..2",
    ];

    public static IReadOnlyList<string> Texts { get; } =
    [
        "\u0000", "\uFEFF", "\uFFFD", "\u2028", "\u0085", "\u200B", "\u202E", "é", "日本", "\U0001F50C", "\uD800", "\t", "\r", "\r\n", "\u000B", "\f", "~", "null", "%", "@", "`", "\"", "'", "\\", "|", ">", ">-", "?", "---", "...", "!!binary", "&a", "*a", "<<", "#",
    ];

    /// <summary>A word of one kind of letter, long enough to hurt.</summary>
    public static string Huge(Dice dice)
    {
        var length = dice.Of(300, 3_000, 30_000, 120_000);
        return dice.Of("x", "9", "(", ",", "+", "[", "a ", "- ", "a: ", "?", "\n+ ", " to ", "..", "=", "{a: ", "'", "\"", "é", "\n", " of ") is var piece
            ? string.Concat(Enumerable.Repeat(piece, Math.Max(1, length / piece.Length)))
            : "";
    }
}
