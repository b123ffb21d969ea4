using BoardSim.Cli.Tests.Architecture.Samples.High;

namespace BoardSim.Cli.Tests.Architecture.Samples.Low;

/// <summary>Breaks the rule on purpose, and only in the body of a method: no signature names the other folder.</summary>
internal sealed class LowThing
{
    public int Level { get; init; } = 1;

    public int Above() => new HighThing(this).Sum;
}
