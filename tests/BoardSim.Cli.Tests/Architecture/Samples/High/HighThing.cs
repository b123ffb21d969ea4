using BoardSim.Cli.Tests.Architecture.Samples.Low;

namespace BoardSim.Cli.Tests.Architecture.Samples.High;

/// <summary>May use what is below it.</summary>
internal sealed class HighThing(LowThing below)
{
    public int Sum => below.Level + 1;
}
