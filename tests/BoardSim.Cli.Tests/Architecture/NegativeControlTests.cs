using BoardSim.Cli.Tests.Architecture.Samples.Low;

namespace BoardSim.Cli.Tests.Architecture;

/// <summary>The checker finds what is wrong with two folders that break the rules on purpose; without this, silence would prove nothing.</summary>
public class NegativeControlTests
{
    private const string Samples = "BoardSim.Cli.Tests/Architecture/Samples";

    private static readonly FolderGraph Graph = new(BuiltAssembly.Read("BoardSim.Cli.Tests"));

    [Fact]
    public void A_use_in_the_body_of_a_method_is_found()
    {
        // The offence is real code: it runs.
        Assert.Equal(2, new LowThing().Above());

        var uses = BuiltAssembly.Read("BoardSim.Cli.Tests").Uses;
        Assert.Contains(uses, use => use.From == "BoardSim.Cli.Tests.Architecture.Samples.Low.LowThing" && use.To == "BoardSim.Cli.Tests.Architecture.Samples.High.HighThing");
    }

    [Fact]
    public void A_circle_between_sibling_folders_is_found_and_told_with_both_types()
    {
        var circle = Assert.Single(Graph.Circles(), text => text.Contains(Samples, StringComparison.Ordinal));
        Assert.Contains($"{Samples}/High uses {Samples}/Low", circle, StringComparison.Ordinal);
        Assert.Contains($"{Samples}/Low uses {Samples}/High", circle, StringComparison.Ordinal);
    }

    [Fact]
    public void An_arrow_that_is_not_on_the_list_is_found()
    {
        var forbidden = ArchitectureTests.Whole.Forbidden(new Dictionary<string, string[]>());
        Assert.Contains(forbidden, text => text.StartsWith("BoardSim.Engine/Devices uses BoardSim.Engine/Circuits: ", StringComparison.Ordinal));
    }
}
