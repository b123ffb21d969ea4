namespace BoardSim.Scenarios;

/// <summary>Something that has to come out of a scenario.</summary>
/// <param name="Text">The expectation as the file says it.</param>
/// <param name="Why">The reason behind it, for the reader.</param>
public sealed record ExpectationSpec(string Text, string Why);
