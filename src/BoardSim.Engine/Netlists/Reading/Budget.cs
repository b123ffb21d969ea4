namespace BoardSim.Engine.Netlists.Reading;

/// <summary>What the expansion of calls may use up, in all: a few lines that call each other can stand for any number of parts.</summary>
internal sealed class Budget
{
    private const int MostParts = 100_000;

    /// <summary>Names within calls get the calls' names appended, so that deep nests of long names grow faster than the parts.</summary>
    private const long MostLetters = 5_000_000;

    private int parts;
    private long letters;

    /// <summary>Books a part or a call.</summary>
    /// <param name="card">Its line.</param>
    /// <param name="call">The expansion that it belongs to.</param>
    /// <exception cref="CardException">Too many.</exception>
    public void Book(Card card, Call call)
    {
        if (++parts > MostParts)
        {
            throw Card.Fault(card.Head, $"The circuit grows beyond {MostParts} parts here.");
        }

        letters += call.Suffix.Length;
        if (letters > MostLetters)
        {
            throw Card.Fault(card.Head, $"The names of parts within calls grow beyond {MostLetters} letters here; name the calls shorter, or nest them less.");
        }
    }

    public bool IsUsedUp => parts > MostParts || letters > MostLetters;
}
