namespace BoardSim.Scenarios.Text;

/// <summary>Finds the name that was probably meant.</summary>
internal static class Nearest
{
    /// <summary>Nobody misspells a name of this length; comparing such names takes its square in time and memory.</summary>
    private const int LongestName = 80;

    /// <summary>The nearest of the known names, or null when none is near: more than a third of the letters would have to change.</summary>
    public static string? To(string text, IEnumerable<string> known)
    {
        if (text.Length > LongestName)
        {
            return null;
        }

        var lower = text.ToLowerInvariant();
        var (best, least) = (default(string), Math.Max(2, text.Length / 3) + 1);
        var most = least;
        foreach (var name in known.Where(name => Math.Abs(name.Length - text.Length) < most))
        {
            var distance = Distance(lower, name.ToLowerInvariant());
            if (distance < least && distance < name.Length)
            {
                (best, least) = (name, distance);
            }
        }

        return best;
    }

    /// <summary>
    /// Letters to insert, delete, replace or swap with their neighbour to get from one text to the other
    /// (V. I. Levenshtein, Soviet Physics Doklady 10 (1966) 707; with swaps of neighbours: F. J. Damerau, Comm. ACM 7 (1964) 171).
    /// </summary>
    public static int Distance(string from, string to)
    {
        var rows = new int[from.Length + 1, to.Length + 1];
        for (var i = 0; i <= from.Length; i++)
        {
            rows[i, 0] = i;
        }

        for (var j = 0; j <= to.Length; j++)
        {
            rows[0, j] = j;
        }

        for (var i = 1; i <= from.Length; i++)
        {
            for (var j = 1; j <= to.Length; j++)
            {
                var replace = rows[i - 1, j - 1] + (from[i - 1] == to[j - 1] ? 0 : 1);
                var least = Math.Min(replace, 1 + Math.Min(rows[i - 1, j], rows[i, j - 1]));
                if (i > 1 && j > 1 && from[i - 1] == to[j - 2] && from[i - 2] == to[j - 1])
                {
                    least = Math.Min(least, rows[i - 2, j - 2] + 1);
                }

                rows[i, j] = least;
            }
        }

        return rows[from.Length, to.Length];
    }
}
