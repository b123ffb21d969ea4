using System.Text.Json;
using BoardSim.Scenarios;
using Json.Schema;

namespace BoardSim.Tests.Scenarios;

public class BoardSchemaTests
{
    [Fact]
    public void The_schema_is_a_schema()
    {
        using var text = JsonDocument.Parse(BoardSchema.ToJson());

        // The meta-schema of draft 2020-12 judges it.
        Assert.True(MetaSchemas.Draft202012.Evaluate(text.RootElement).IsValid);
    }

    [Fact]
    public void The_committed_schema_is_current()
    {
        var committed = File.ReadAllText(Path.Combine(Repository.Boards, "board.schema.json"));

        Assert.True(
            committed.ReplaceLineEndings("\n") == BoardSchema.ToJson(),
            "scenarios/boards/board.schema.json is out of date; write it anew with the command schema board.");
    }
}
