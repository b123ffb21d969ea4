using BoardSim.Blocks;
using BoardSim.Faults;

namespace BoardSim.Tests.Faults;

/// <summary>Two faults at once either go together or are refused in words, in either order and under every choice of the block.</summary>
public class FaultPairTests
{
    public static TheoryData<string> Ids => [.. BlockCatalogue.All.Select(b => b.Id)];

    // Found by fuzzing: a shorted sensor is a resistor, and a drifted one was looked for in its place.
    [Theory]
    [MemberData(nameof(Ids))]
    public void Pairs_go_together_or_are_refused_in_words(string id)
    {
        var (together, refused) = (0, new List<string>());
        foreach (var block in Variants(id))
        {
            var board = block.Build();
            foreach (var first in block.Faults)
            {
                foreach (var second in block.Faults)
                {
                    try
                    {
                        second.Apply(first.Apply(board));
                        together++;
                    }
                    catch (FaultException fault)
                    {
                        refused.Add(fault.Message);
                    }
                }
            }
        }

        Assert.True(together > refused.Count, $"{together} pairs go together, {refused.Count} do not");
        Assert.All(refused, r => Assert.Contains("leave one of the two out", r, StringComparison.Ordinal));
    }

    private static IEnumerable<Block> Variants(string id)
    {
        yield return BlockCatalogue.Create(id);
        foreach (var choice in BlockCatalogue.Create(id).Values.Where(v => v.Kind == ValueKind.Choice))
        {
            foreach (var word in choice.Choices)
            {
                var block = BlockCatalogue.Create(id);
                choice.Set(block, word);
                if (block.Problems().Count == 0)
                {
                    yield return block;
                }
            }
        }
    }
}
