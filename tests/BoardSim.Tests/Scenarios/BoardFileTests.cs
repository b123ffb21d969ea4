using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Scenarios;

namespace BoardSim.Tests.Scenarios;

public class BoardFileTests
{
    /// <summary>Two chambers that share a heater's surface through a wall of 10 K/W.</summary>
    private const string Text = """
        title: Two chambers
        about: One is heated by the other.
        zero-net: zero
        ambient: 20 degC
        blocks:
          warm:
            block: heated-chamber
            values: {room.temperature: 50 degC}
            wires: {heat: warm-heat, zero: zero}
          cold:
            block: heated-chamber
            values: {room.temperature: 10 degC, walls.conductance: 1 W/K}
            wires: {heat: cold-heat, zero: zero}
        parts:
          wall: {kind: resistor, value: 10 ohm, from: warm-heat, to: cold-heat}
        test-points:
          across: {net: warm-heat, against: cold-heat, reference: across-part, about: Across the wall.}
        """;

    [Fact]
    public void A_board_is_read_and_wired()
    {
        var plan = BoardFile.Parse(Text, "folder/two-chambers.yaml");
        Assert.Equal("two-chambers", plan.Id);
        Assert.Equal(293.15, plan.Ambient);
        var design = plan.Make();
        var board = design.Build();

        // 40 K over 1/3 + 1/3 + 10 + 1/3 + 1 K/W: the conductances of the walls (3 and 1 W/K) and of the elements (3 W/K each).
        var flow = 40 / (1.0 / 3 + 1.0 / 3 + 10 + 1.0 / 3 + 1);
        var solution = OperatingPoint.Solve(new CircuitSystem(board.Circuit));
        Assert.Equal(flow, solution.Current(board.CurrentPoint("wall.through").Part), 1e-4);
        var across = board.TestPoint("across");
        Assert.Equal(10 * flow, solution.Voltage(across.Node, across.ReferenceNode), 1e-3);
        Assert.Equal(10 + flow, solution.Voltage(board.Readout("cold.air-temperature").Node), 1e-3);
        Assert.Contains("wall.open", design.Faults.Select(f => f.Id));
        Assert.DoesNotContain("cold.heater.power", design.Values.Select(v => v.Key));
    }

    [Fact]
    public void Each_design_has_blocks_of_its_own()
    {
        var plan = BoardFile.Parse(Text, "a.yaml");
        var (one, other) = (plan.Make(), plan.Make());
        one.Value("cold.walls.conductance").Set(one, 2.0);
        Assert.Equal(1.0, other.Value("cold.walls.conductance").Get(other));
    }

    [Theory]
    [InlineData("block: heated-chamber\n    values: {room.temperature: 50", "block: heated-chambre\n    values: {room.temperature: 50", "8:12: \"heated-chambre\" is not a block; did you mean heated-chamber?")]
    [InlineData("heat: warm-heat", "heta: warm-heat", "10:13: \"heta\" is not a port of block heated-chamber; did you mean heat?")]
    [InlineData("heat: warm-heat", "heat: [a]", "10:19: heat takes the name of a net: lower case letters, digits and hyphens")]
    [InlineData("heat: warm-heat", "heat: Warm", "10:19: heat takes the name of a net: lower case letters, digits and hyphens")]
    [InlineData("heat: warm-heat, ", "", "7:3: warm: port heat is wired to nothing; name the net that it goes to (Surface of the heater: its temperature, and the heat that it gives)")]
    [InlineData("to: cold-heat", "to: cold-het", "6:1: net cold-heat has one end only, cold.heat; wire something else to it, or leave an optional port out")]
    [InlineData("zero-net: zero", "zero-net: null-net", "6:1: nothing is wired to null-net, the net that voltages are computed against")]
    [InlineData("against: cold-heat", "against: ice", "6:1: test point across: there is no net ice")]
    [InlineData("walls.conductance: 1 W/K", "heater.power: 5 W", "13:41: heater.power is a value of the bench of heated-chamber; on a board, what is wired to the block takes its place")]
    [InlineData("value: 10 ohm", "value: 10 V", "16:33: \"10 V\" is a voltage, not a resistance; write a resistance such as 4k7 or 4.7 kohm")]
    [InlineData("kind: resistor", "kind: transistor", "16:16: \"transistor\" is not a part on a board's kind; did you mean resistor?")]
    [InlineData("  wall: {kind", "  warm: {kind", "16:3: warm is the name of a block already; give the part a name of its own")]
    [InlineData("ambient: 20 degC", "ambient: 20", "5:10: ")]
    [InlineData("zero-net: zero\n", "", "2:1: the board has no \"zero-net\": the net that all voltages are computed against")]
    public void What_is_wrong_is_told_with_its_place(string right, string wrong, string expected)
    {
        Assert.Contains(right, Text, StringComparison.Ordinal);
        var refused = Assert.Throws<ScenarioException>(() => BoardFile.Parse("# A board\n" + Text.Replace(right, wrong, StringComparison.Ordinal), "a.yaml"));
        Assert.Contains(refused.Findings, f => f.ToString().StartsWith("a.yaml:" + expected, StringComparison.Ordinal));
    }

    [Fact]
    public void A_scenario_runs_on_a_board_by_the_path_from_its_own_folder()
    {
        var folder = Directory.CreateTempSubdirectory("board");
        try
        {
            Directory.CreateDirectory(Path.Combine(folder.FullName, "boards"));
            File.WriteAllText(Path.Combine(folder.FullName, "boards", "two.yaml"), Text);
            var file = Path.Combine(folder.FullName, "ajar.yaml");
            File.WriteAllText(file, """
                title: Door of the cold chamber ajar
                board: boards/two.yaml
                values: {warm.room.temperature: 60 degC}
                run: {compute: operating-point}
                conditions:
                  healthy: {label: Shut}
                  ajar: {label: Ajar, faults: {cold.door-ajar: 9 W/K}}
                observe:
                  cold: {label: Cold air, readout: cold.air-temperature}
                expect:
                  - that: cold of ajar < cold of healthy
                    why: More heat goes to the room.
                """);
            var result = ScenarioRunner.Run(ScenarioFile.Read(file));
            Assert.True(result.AllHold);

            // 50 K over 11 + 1 K/W, and over 11 + 0.1 K/W.
            Assert.Equal(10 + 50.0 / 12, result.Conditions[0].Readings.Single().Value, 0.01);
            Assert.Equal(10 + 0.1 * 50 / 11.1, result.Conditions[1].Readings.Single().Value, 0.01);
            Assert.Equal(["Door ajar (cold), 9 W/K"], result.Conditions[1].Faults);

            File.WriteAllText(file, File.ReadAllText(file).Replace("boards/two.yaml", "boards/three.yaml", StringComparison.Ordinal));
            var refused = Assert.Throws<ScenarioException>(() => ScenarioFile.Read(file));
            Assert.EndsWith("three.yaml: there is no such file", Assert.Single(refused.Findings).Message, StringComparison.Ordinal);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Fact]
    public void A_scenario_needs_a_block_or_a_board_and_not_both()
    {
        const string tail = "\nconditions: {healthy: }\nobserve: {a: {point: bulk}}\nexpect: [{that: a of healthy > 1 V, why: x}]";
        foreach (var head in new[] { "title: t", "title: t\nblock: bridge-bulk\nboard: b.yaml" })
        {
            var refused = Assert.Throws<ScenarioException>(() => ScenarioFile.Parse(head + tail, "a.yaml"));
            Assert.Contains(refused.Findings, f => f.Message.StartsWith("a scenario has either a \"block\"", StringComparison.Ordinal));
        }
    }
}
