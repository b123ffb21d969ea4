namespace BoardSim.Scenarios;

/// <summary>A scenario file cannot be used; it carries everything that was found wrong with it.</summary>
public sealed class ScenarioException : Exception
{
    /// <summary>Creates the exception.</summary>
    /// <param name="findings">At least one finding, in the order of the file.</param>
    public ScenarioException(IReadOnlyList<Finding> findings)
        : base(string.Join(Environment.NewLine, findings ?? throw new ArgumentNullException(nameof(findings)))) => Findings = findings;

    /// <summary>What was found, in the order of the file.</summary>
    public IReadOnlyList<Finding> Findings { get; }
}
