using BoardSim.Blocks;
using BoardSim.Reports.Catalogue;

namespace BoardSim.Reports.Tests.Catalogue;

public class CataloguePageTests
{
    [Fact]
    public void The_committed_page_is_current()
    {
        var committed = File.ReadAllText(Path.Combine(Root(), "scenarios", "catalogue.md"));
        Assert.True(
            committed.ReplaceLineEndings("\n") == CataloguePage.ToMarkdown(),
            "scenarios/catalogue.md is out of date; write it anew with the catalogue command of the command line.");
    }

    [Fact]
    public void Everything_of_every_block_is_on_it()
    {
        var page = CataloguePage.ToMarkdown();
        foreach (var block in BlockCatalogue.All)
        {
            Assert.Contains($"\n## {block.Id}\n", page, StringComparison.Ordinal);
            var names = block.Values.Select(v => v.Key).Concat(block.Faults.Select(f => f.Id)).Concat(block.Ports.Select(p => p.Name)).Concat(block.Build().TestPoints.Select(p => p.Name));
            Assert.All(names, name => Assert.Contains($"| `{name}` |", page, StringComparison.Ordinal));
            Assert.All(block.Faults, f => Assert.Contains(f.Mechanism, page, StringComparison.Ordinal));
        }
    }

    private static string Root()
    {
        for (var folder = AppContext.BaseDirectory; folder is not null; folder = Path.GetDirectoryName(folder))
        {
            if (File.Exists(Path.Combine(folder, "BoardSim.sln")))
            {
                return folder;
            }
        }

        throw new DirectoryNotFoundException($"No folder above {AppContext.BaseDirectory} holds BoardSim.sln.");
    }
}
