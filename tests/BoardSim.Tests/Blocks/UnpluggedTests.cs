using BoardSim.Blocks;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Faults;

namespace BoardSim.Tests.Blocks;

/// <summary>A block that can be unplugged has no voltage left at rest: what an ohmmeter needs.</summary>
public class UnpluggedTests
{
    public static TheoryData<string> Ids => [.. BlockCatalogue.All.Where(b => b.SupplyParts.Count > 0).Select(b => b.Id)];

    [Theory]
    [MemberData(nameof(Ids))]
    public void An_unplugged_block_has_no_voltage_at_rest(string id)
    {
        var block = BlockCatalogue.Create(id);
        var board = block.Build();
        Assert.Contains(block.SupplyParts, p => board.Circuit.Find(p) is not null);
        PartEdits.Unplug(board, block.SupplyParts);
        var solution = OperatingPoint.Solve(new CircuitSystem(board.Circuit));
        Assert.All(board.TestPoints, p => Assert.Equal(0, solution.Voltage(p.Node, p.ReferenceNode), 1e-3));
    }

    // Sources of power that a plug or a bench supply stands behind; a chamber's heater and temperatures are none.
    [Fact]
    public void All_blocks_with_a_supply_of_their_own_can_be_unplugged()
    {
        string[] supplied = ["actuator-bridge", "bridge-bulk", "fan-drive", "flyback-output", "flyback-supply", "line-entry", "mains", "processor", "regulator-5v", "relay-driver", "selector-switches", "thermistor-input", "transformer-supply"];
        Assert.DoesNotContain(supplied, id => BlockCatalogue.Create(id).SupplyParts.Count == 0);
    }
}
