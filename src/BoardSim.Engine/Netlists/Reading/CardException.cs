namespace BoardSim.Engine.Netlists.Reading;

/// <summary>Ends the reading of one card; the reader keeps the finding and goes on with the next card.</summary>
/// <param name="finding">The finding; null when the card only suffers from an error that is reported elsewhere.</param>
internal sealed class CardException(NetlistFinding? finding) : Exception(finding?.Message)
{
    public NetlistFinding? Finding { get; } = finding;

    /// <summary>Adds the finding, if there is one, to a list.</summary>
    public void Report(Findings findings)
    {
        if (Finding is not null)
        {
            findings.Add(Finding);
        }
    }
}
