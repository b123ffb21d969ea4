namespace BoardSim.Engine.Netlists.Reading;

/// <summary>
/// Cuts a netlist into its title and cards: comment lines dropped, continuation lines joined, words separated at blanks,
/// commas, equals signs and parentheses (Berkeley SPICE3 User's Manual, section "Circuit description", from memory).
/// </summary>
internal sealed class LineSplitter
{
    /// <summary>Longest line that is read; longer ones are not netlists.</summary>
    private const int LongestLine = 100_000;

    private readonly List<NetlistFinding> findings;
    private readonly List<Card> cards = [];
    private List<Token>? open;
    private string before = "";

    private LineSplitter(List<NetlistFinding> findings) => this.findings = findings;

    /// <summary>Splits a text.</summary>
    /// <param name="text">The whole netlist.</param>
    /// <param name="findings">Receives what cannot be split.</param>
    /// <param name="title">The first line, without a leading comment star.</param>
    public static IReadOnlyList<Card> Split(string text, List<NetlistFinding> findings, out string title)
    {
        var splitter = new LineSplitter(findings);
        var number = 0;
        title = "";
        foreach (var raw in text.AsSpan().EnumerateLines())
        {
            number++;
            if (number == 1)
            {
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

        if (line.Length > LongestLine)
        {
            findings.Add(new NetlistFinding(number, 1, $"The line has {line.Length} characters; no netlist line has more than {LongestLine}."));
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
                before += c;
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
