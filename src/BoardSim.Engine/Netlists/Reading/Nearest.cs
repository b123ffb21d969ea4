namespace BoardSim.Engine.Netlists.Reading;

/// <summary>Finds the valid word that a misspelt one was probably meant to be.</summary>
internal static class Nearest
{
    /// <summary>Nobody misspells a word of this length; comparing such words takes its square in time and memory.</summary>
    private const int LongestWord = 60;

    /// <summary>Words that are looked at: the hint is a comfort, and not worth seconds.</summary>
    private const int MostCandidates = 5_000;

    /// <summary>A clause such as <c> (did you mean cjo?)</c>, or the empty text when nothing is near.</summary>
    /// <param name="word">The misspelt word.</param>
    /// <param name="valid">Valid words.</param>
    public static string Hint(string word, IEnumerable<string> valid)
    {
        if (word.Length > LongestWord)
        {
            return "";
        }

        var most = Math.Max(1, word.Length / 3);
        var upper = word.ToUpperInvariant();
        var best = valid
            .Take(MostCandidates)
            .Where(v => Math.Abs(v.Length - word.Length) <= most)
            .Select(v => (Word: v, Distance: Distance(upper, v.ToUpperInvariant())))
            .OrderBy(v => v.Distance)
            .FirstOrDefault();
        return best.Word is not null && best.Distance <= most ? $" (did you mean {best.Word}?)" : "";
    }

    /// <summary>Number of letters to insert, drop, replace or swap (optimal string alignment).</summary>
    private static int Distance(string a, string b)
    {
        var rows = new int[a.Length + 1, b.Length + 1];
        for (var i = 0; i <= a.Length; i++)
        {
            for (var j = 0; j <= b.Length; j++)
            {
                if (i == 0 || j == 0)
                {
                    rows[i, j] = i + j;
                    continue;
                }

                var cost = a[i - 1] == b[j - 1] ? 0 : 1;
                rows[i, j] = Math.Min(Math.Min(rows[i - 1, j], rows[i, j - 1]) + 1, rows[i - 1, j - 1] + cost);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                {
                    rows[i, j] = Math.Min(rows[i, j], rows[i - 2, j - 2] + 1);
                }
            }
        }

        return rows[a.Length, b.Length];
    }
}
