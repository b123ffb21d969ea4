namespace BoardSim.Engine.Netlists.Reading;

/// <summary>A word of a netlist line with its place.</summary>
/// <param name="Text">The word as written.</param>
/// <param name="Line">Line number, from 1.</param>
/// <param name="Column">Column, from 1.</param>
/// <param name="Before">The delimiters (parentheses, commas, equals signs) between the word before and this one. They are white
/// space to SPICE; only output requests such as V(a,b) look at them.</param>
internal readonly record struct Token(string Text, int Line, int Column, string Before)
{
    public bool Is(string word) => Text.Equals(word, StringComparison.OrdinalIgnoreCase);

    public NetlistFinding Finding(string message) => new(Line, Column, message);
}
