namespace BoardSim.Engine.Netlists.Reading;

/// <summary>
/// Cuts a netlist into its title and cards: comment lines dropped, continuation lines joined, words separated at blanks,
/// commas, equals signs and parentheses (Berkeley SPICE3 User's Manual, section "Circuit description", from memory).
/// </summary>
internal sealed class LineSplitter
{
    /// <summary>Longest line that is read; longer ones are not netlists.</summary>
    private const int LongestLine = 100_000;

    /// <summary>Longest word: the names of parts deep within calls stay far below.</summary>
    private const int LongestWord = 250;

    /// <summary>Most words of a netlist: a circuit of the largest size with several words a part.</summary>
    private const int MostWords = 1_000_000;

    private readonly Findings findings;
    private readonly List<Card> cards = [];
    private List<Token>? open;
    private string before = "";
    private int words;

    private LineSplitter(Findings findings) => this.findings = findings;

    /// <summary>Splits a text.</summary>
    /// <param name="text">The whole netlist.</param>
    /// <param name="findings">Receives what cannot be split.</param>
    /// <param name="title">The first line, without a leading comment star.</param>
    public static IReadOnlyList<Card> Split(string text, Findings findings, out string title)
    {
        var splitter = new LineSplitter(findings);
        var number = 0;
        title = "";
        foreach (var raw in text.AsSpan().EnumerateLines())
        {
            number++;
            if (number == 1)
            {
                splitter.IsTooLong(raw, number);
                title = raw.ToString().Trim().TrimStart('*').Trim();
                continue;
            }

            splitter.Take(raw, number);
        }

        splitter.Close();
        return splitter.cards;
    }

    private void Take(ReadOnlySpan<char> raw, int number)
    {
        var line = raw.TrimEnd();
        var start = line.Length - line.TrimStart().Length;
        if (start == line.Length || line[start] == '*')
        {
            return;
        }

        if (IsTooLong(line, number))
        {
            return;
        }

        if (line[start] == '+')
        {
            if (open is null)
            {
                findings.Add(new NetlistFinding(number, start + 1, "A continuation line, but there is no line before it to continue."));
                return;
            }

            start++;
        }
        else
        {
            Close();
            open = [];
            before = "";
        }

        Words(line, start, number);
    }

    private bool IsTooLong(ReadOnlySpan<char> line, int number)
    {
        if (line.Length <= LongestLine)
        {
            return false;
        }

        findings.Add(new NetlistFinding(number, 1, $"The line has {line.Length} characters; no netlist line has more than {LongestLine}."));
        return true;
    }

    private void Words(ReadOnlySpan<char> line, int at, int number)
    {
        while (at < line.Length)
        {
            var c = line[at];
            if (char.IsWhiteSpace(c))
            {
                at++;
            }
            else if (IsDelimiter(c))
            {
                // Only whether one is there is ever asked for; the hundred-thousandth parenthesis adds nothing.
                before = before.Contains(c) ? before : before + c;
                at++;
            }
            else if (c is ';' or '$')
            {
                findings.Add(new NetlistFinding(number, at + 1, $"Berkeley's netlists have no comments behind '{c}'; put it onto a line of its own that begins with *."));
                return;
            }
            else if (char.IsControl(c) || c == '\uFFFD')
            {
                findings.Add(new NetlistFinding(number, at + 1, $"The character U+{(int)c:X4} has no place in a netlist; is this a text file in UTF-8?"));
                return;
            }
            else
            {
                var from = at;
                while (at < line.Length && !char.IsWhiteSpace(line[at]) && !IsDelimiter(line[at]) && line[at] is not (';' or '$'))
                {
                    at++;
                }

                if (at - from > LongestWord)
                {
                    findings.Add(new NetlistFinding(number, from + 1, $"A word of {at - from} characters; no word of a netlist has more than {LongestWord}."));
                    return;
                }

                if (++words > MostWords)
                {
                    findings.Add(new NetlistFinding(number, from + 1, $"The netlist has more than {MostWords} words."));
                    throw new ReadingEndedException();
                }

                open!.Add(new Token(line[from..at].ToString(), number, from + 1, before));
                before = "";
            }
        }
    }

    private void Close()
    {
        if (open is { Count: > 0 })
        {
            cards.Add(new Card(open));
        }

        open = null;
    }

    private static bool IsDelimiter(char c) => c is ',' or '=' or '(' or ')';
}
