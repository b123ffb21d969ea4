namespace BoardSim.Engine.Netlists.Reading;

/// <summary>One logical line (continuations joined), read word by word. Each thing that is missing or does not fit ends the card with a finding.</summary>
internal sealed class Card(IReadOnlyList<Token> tokens)
{
    private int at;

    /// <summary>The first word: a part's name or a dot word.</summary>
    public Token Head => tokens[0];

    public bool AtEnd => at >= tokens.Count;

    public Token Current => tokens[at];

    /// <summary>Starts again after the first word, so that a card can be read once per call of its subcircuit.</summary>
    public Card Rewind()
    {
        at = 1;
        return this;
    }

    /// <summary>The word that many places ahead, or null.</summary>
    public Token? Ahead(int distance) => at + distance < tokens.Count ? tokens[at + distance] : null;

    /// <summary>The next word, which must be there.</summary>
    /// <param name="what">What it is, with its article: "the second node".</param>
    public Token Next(string what)
    {
        if (AtEnd)
        {
            var last = tokens[^1];
            throw new CardException(new NetlistFinding(last.Line, last.Column + last.Text.Length, $"{Head.Text} ends where {what} should follow."));
        }

        return tokens[at++];
    }

    /// <summary>The next word as a number.</summary>
    /// <param name="what">What it is, with its article and unit: "the resistance in ohms".</param>
    public double Number(string what) => Number(Next(what), what);

    public static double Number(Token token, string what) =>
        SpiceNumber.TryParse(token.Text, out var value, out var error)
            ? value
            : throw new CardException(token.Finding($"{error} Here stands {what}."));

    /// <summary>Takes the next word if it is a number.</summary>
    public bool TryNumber(out double value)
    {
        value = 0;
        if (AtEnd || !SpiceNumber.LooksLikeOne(Current.Text))
        {
            return false;
        }

        var token = tokens[at++];
        value = Number(token, "a number");
        return true;
    }

    /// <summary>Takes the next word if it is that one.</summary>
    public bool TryWord(string word)
    {
        if (AtEnd || !Current.Is(word))
        {
            return false;
        }

        at++;
        return true;
    }

    /// <summary>Refuses what is left over.</summary>
    /// <param name="form">The form of the card.</param>
    public void End(string form)
    {
        if (!AtEnd)
        {
            throw new CardException(Current.Finding($"'{Current.Text}' has no place on this line; its form is: {form}."));
        }
    }

    /// <summary>Ends the card with a finding at a word.</summary>
    public static CardException Fault(Token token, string message) => new(token.Finding(message));
}
