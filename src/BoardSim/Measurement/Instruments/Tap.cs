namespace BoardSim.Measurement;

/// <summary>Where the voltage lies that an attached instrument draws: between its leads, or behind its probe.</summary>
/// <param name="Node">Node that is recorded.</param>
/// <param name="ReferenceNode">Node that it is recorded against.</param>
/// <param name="Factor">What the instrument multiplies the voltage by to undo its probe's division.</param>
public readonly record struct Tap(string Node, string ReferenceNode, double Factor = 1);
