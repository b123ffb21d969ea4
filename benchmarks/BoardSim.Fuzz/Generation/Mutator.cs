using System.Text;

namespace BoardSim.Fuzz.Generation;

/// <summary>Damages a text: letters flipped, pieces deleted, doubled, moved, taken from another text, words that hurt put in.</summary>
internal static class Mutator
{
    private const int Longest = 400_000;

    /// <summary>A damaged copy.</summary>
    /// <param name="text">The text.</param>
    /// <param name="other">Another one that pieces are taken from.</param>
    /// <param name="dice">Chance.</param>
    public static string Mutate(string text, string other, Dice dice)
    {
        var result = new StringBuilder(text);
        for (var rounds = dice.Of(1, 1, 1, 2, 3, 8); rounds > 0 && result.Length < Longest; rounds--)
        {
            if (result.Length == 0)
            {
                result.Append('a');
            }

            Once(result, other, dice);
        }

        return result.ToString();
    }

    private static void Once(StringBuilder text, string other, Dice dice)
    {
        var at = dice.Next(text.Length);
        switch (dice.Next(13))
        {
            case 0:
                text[at] = (char)(text[at] ^ (1 << dice.Next(8)));
                break;
            case 1:
                text[at] = (char)dice.Between(1, 0x24F);
                break;
            case 2:
                text.Remove(at, Math.Min(dice.Of(1, 2, 5, 20, 200), text.Length - at));
                break;
            case 3:
                var piece = Piece(text, dice);
                text.Insert(at, piece);
                break;
            case 4:
                text.Insert(at, Cut(other, dice));
                break;
            case 5:
                text.Insert(at, dice.Of(Oddities.Numbers));
                break;
            case 6:
                text.Insert(at, dice.Of(Oddities.Texts));
                break;
            case 7:
                SwapLines(text, dice);
                break;
            case 8:
                DropLine(text, dice);
                break;
            case 9:
                text.Length = Math.Max(1, at);
                break;
            case 10:
                ReplaceWord(text, dice);
                break;
            case 11:
                // The same line many times over: duplicates by name, and lists that grow.
                var line = LineAt(text, at);
                var times = Math.Min(dice.Of(1, 1, 2, 10, dice.OneIn(20) ? 3000 : 30), Longest / line.Length);
                text.Insert(line.Start, string.Concat(Enumerable.Repeat(text.ToString(line.Start, line.Length), times)));
                break;
            default:
                text.Insert(at, dice.OneIn(40) ? Oddities.Huge(dice) : dice.Of(Oddities.Texts));
                break;
        }
    }

    private static string Piece(StringBuilder text, Dice dice)
    {
        var from = dice.Next(text.Length);
        return text.ToString(from, Math.Min(dice.Between(1, 60), text.Length - from));
    }

    private static string Cut(string text, Dice dice)
    {
        if (text.Length == 0)
        {
            return "";
        }

        var from = dice.Next(text.Length);
        return text.Substring(from, Math.Min(dice.Between(1, 300), text.Length - from));
    }

    private static (int Start, int Length) LineAt(StringBuilder text, int at)
    {
        var start = at;
        while (start > 0 && text[start - 1] != '\n')
        {
            start--;
        }

        var end = at;
        while (end < text.Length && text[end] != '\n')
        {
            end++;
        }

        return (start, Math.Min(end + 1, text.Length) - start);
    }

    private static void SwapLines(StringBuilder text, Dice dice)
    {
        var line = LineAt(text, dice.Next(text.Length));
        var moved = text.ToString(line.Start, line.Length);
        text.Remove(line.Start, line.Length);
        text.Insert(text.Length == 0 ? 0 : LineAt(text, dice.Next(text.Length)).Start, moved);
    }

    private static void DropLine(StringBuilder text, Dice dice)
    {
        var line = LineAt(text, dice.Next(text.Length));
        text.Remove(line.Start, line.Length);
    }

    private static void ReplaceWord(StringBuilder text, Dice dice)
    {
        var from = dice.Next(text.Length);
        while (from > 0 && !char.IsWhiteSpace(text[from - 1]))
        {
            from--;
        }

        var to = from;
        while (to < text.Length && !char.IsWhiteSpace(text[to]))
        {
            to++;
        }

        text.Remove(from, to - from).Insert(from, dice.OneIn(2) ? dice.Of(Oddities.Numbers) : dice.OneIn(30) ? Oddities.Huge(dice) : dice.Of(Oddities.Texts));
    }
}
