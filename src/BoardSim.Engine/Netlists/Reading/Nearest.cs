namespace BoardSim.Engine.Netlists.Reading;

/// <summary>Finds the valid word that a misspelt one was probably meant to be.</summary>
internal static class Nearest
{
    /// <summary>A clause such as <c>; did you mean cjo?</c>, or the empty text when nothing is near.</summary>
    /// <param name="word">The misspelt word.</param>
    /// <param name="valid">Valid words.</param>
    public static string Hint(string word, IEnumerable<string> valid)
    {
        var best = valid
            .Select(v => (Word: v, Distance: Distance(word.ToUpperInvariant(), v.ToUpperInvariant())))
            .OrderBy(v => v.Distance)
            .FirstOrDefault();
        return best.Word is not null && best.Distance <= Math.Max(1, word.Length / 3) ? $"; did you mean {best.Word}?" : "";
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
