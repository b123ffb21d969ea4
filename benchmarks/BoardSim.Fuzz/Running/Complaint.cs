namespace BoardSim.Fuzz.Running;

/// <summary>What a reader answered is not what it promises.</summary>
internal sealed class ComplaintException(string message) : Exception(message)
{
    /// <summary>Longest message that anyone would read, in characters.</summary>
    private const int LongestMessage = 2_500;

    /// <summary>Most findings that are told at once.</summary>
    private const int MostFindings = 101;

    /// <summary>Checks findings: some, not too many, each within the text and of a length that can be read.</summary>
    public static void Check(IReadOnlyList<(int Line, int Column, string Message)> findings, string text, bool wholeFileAllowed)
    {
        if (findings.Count is 0 or > MostFindings)
        {
            throw new ComplaintException($"{findings.Count} findings");
        }

        var lines = 1 + text.AsSpan().Count('\n') + text.AsSpan().Count('\r') + text.AsSpan().Count('\f') + text.AsSpan().Count('\u0085') + text.AsSpan().Count('\u2028') + text.AsSpan().Count('\u2029');
        foreach (var (line, column, message) in findings)
        {
            if (line > lines || line < (wholeFileAllowed ? 0 : 1) || column < (line == 0 ? 0 : 1))
            {
                throw new ComplaintException($"a finding at line {line} of {lines}, column {column}: {message}");
            }

            if (message.Length is < 10 or > LongestMessage)
            {
                throw new ComplaintException($"a message of {message.Length} characters: {message[..Math.Min(200, message.Length)]}");
            }
        }

        if (findings.Distinct().Count() != findings.Count)
        {
            throw new ComplaintException($"the same finding twice: {findings.GroupBy(f => f).First(g => g.Count() > 1).Key.Message}");
        }
    }
}
