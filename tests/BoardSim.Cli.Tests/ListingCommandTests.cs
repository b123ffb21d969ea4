using System.Text.Json;

namespace BoardSim.Cli.Tests;

public class ListingCommandTests
{
    [Fact]
    public void All_blocks_are_listed()
    {
        var run = Shell.Run("blocks");

        Assert.Equal((0, ""), (run.Code, run.Error));
        Assert.Contains("bridge-bulk", run.Output);
        Assert.Contains("thermistor-input", run.Output);
    }

    [Fact]
    public void A_block_tells_its_values_points_and_cautions()
    {
        var run = Shell.Run("blocks", "bridge-bulk");

        Assert.Equal((0, ""), (run.Code, run.Error));
        Assert.Contains("bulk.esr", run.Output);
        Assert.Contains("primary return", run.Output);
        Assert.Contains("CAUTION", run.Output);
    }

    [Fact]
    public void The_faults_of_a_block_are_listed_with_their_severities()
    {
        var run = Shell.Run("faults", "thermistor-input");

        Assert.Equal((0, ""), (run.Code, run.Error));
        Assert.Contains("sensor-open", run.Output);
        Assert.Contains("connector-damp", run.Output);
        Assert.Contains("100 ohm to 1 Gohm", run.Output);
        Assert.DoesNotContain("bulk-open", run.Output);
    }

    [Fact]
    public void The_faults_of_all_blocks_are_listed()
    {
        var run = Shell.Run("faults");

        Assert.Contains("sensor-open", run.Output);
        Assert.Contains("bulk-open", run.Output);
    }

    [Theory]
    [InlineData("blocks")]
    [InlineData("faults")]
    public void A_block_that_is_not_there_is_told(string command)
    {
        var run = Shell.Run(command, "teleporter");

        Assert.Equal((2, ""), (run.Code, run.Output));
        Assert.Contains("no block 'teleporter'", run.Error);
        Assert.Contains("bridge-bulk", run.Error);
    }

    [Fact]
    public void The_schema_is_printed_as_json()
    {
        var run = Shell.Run("schema");

        Assert.Equal((0, ""), (run.Code, run.Error));
        using var schema = JsonDocument.Parse(run.Output);
        Assert.True(schema.RootElement.GetProperty("properties").TryGetProperty("conditions", out _));
    }
}
