using BoardSim.Blocks;
using BoardSim.Engine.Circuits;
using BoardSim.Faults;
using BoardSim.Quantities;

namespace BoardSim.Tests.Blocks;

/// <summary>What holds for every block: keys, ranges, points that exist, faults that apply under every choice.</summary>
public class CatalogueTests
{
    public static TheoryData<string> Ids => [.. BlockCatalogue.All.Select(b => b.Id)];

    [Fact]
    public void Blocks_are_found_by_name_and_unknown_ones_are_not()
    {
        Assert.Equal(BlockCatalogue.All.Count, BlockCatalogue.All.Select(b => b.Id).Distinct(StringComparer.OrdinalIgnoreCase).Count());
        Assert.Equal(["bridge-bulk", "flyback-output", "thermistor-input", "relay-driver"], BlockCatalogue.All.Select(b => b.Id).Intersect(["bridge-bulk", "flyback-output", "thermistor-input", "relay-driver"]));
        Assert.Null(BlockCatalogue.Find("bridge"));
        Assert.Contains("bridge-bulk", Assert.Throws<KeyNotFoundException>(() => BlockCatalogue.Create("bridge")).Message, StringComparison.Ordinal);
        Assert.NotSame(BlockCatalogue.Create("bridge-bulk"), BlockCatalogue.Create("bridge-bulk"));
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void Values_have_keys_units_and_defaults_within_their_range(string id)
    {
        var block = BlockCatalogue.Create(id);
        Assert.NotEmpty(block.Values);
        Assert.Equal(block.Values.Count, block.Values.Select(v => v.Key).Distinct(StringComparer.OrdinalIgnoreCase).Count());
        Assert.All(block.Values, v =>
        {
            Assert.Matches("^[a-z][a-z0-9]*([.-][a-z0-9]+)*$", v.Key);
            Assert.EndsWith(".", v.Description, StringComparison.Ordinal);
            Assert.Null(v.Default is null ? null : v.Problem(v.Default));
            Assert.True(v.Kind == ValueKind.Choice ? v.Choices.Count > 1 : Unit.Find(v.Unit) is not null && v.Minimum < v.Maximum);
        });
        Assert.Empty(block.Problems());
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void Values_read_back_what_was_set_and_refuse_what_is_out_of_range(string id)
    {
        foreach (var value in BlockCatalogue.Create(id).Values)
        {
            var block = BlockCatalogue.Create(id);
            object set = value.Kind == ValueKind.Choice ? value.Choices[^1] : value.Maximum;
            value.Set(block, set);
            Assert.Equal(set, value.Get(block));

            object wrong = value.Kind == ValueKind.Choice ? "no-such-word" : Math.BitIncrement(value.Maximum);
            Assert.Contains(value.Key, Assert.Throws<BlockException>(() => value.Set(block, wrong)).Message, StringComparison.Ordinal);
            Assert.Throws<BlockException>(() => value.Set(block, value.Kind == ValueKind.Choice ? 1.0 : double.NaN));
            Assert.Throws<BlockException>(() => value.Set(block, value.Kind == ValueKind.Choice ? "" : "12 V"));
        }
    }

    [Fact]
    public void All_wrong_values_are_told_at_once_in_their_units()
    {
        var block = new BoardSim.Blocks.Rectifiers.BridgeBulk { BulkCapacitance = -68e-6, Ambient = 500 };
        var findings = Assert.Throws<BlockException>(block.Build).Findings;
        Assert.Equal(2, findings.Count);
        Assert.Contains(findings, f => f.StartsWith("bulk.capacitance: -68 uF; it must lie between 1 uF and 10 mF", StringComparison.Ordinal));
        Assert.Contains(findings, f => f.StartsWith("ambient: 226.85 degC; it must lie between -40 degC and 105 degC", StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void Boards_compile_and_their_points_exist_under_every_choice(string id)
    {
        foreach (var block in EveryChoice(id))
        {
            var board = block.Build();
            var system = new CircuitSystem(board.Circuit);
            Assert.All(board.TestPoints, p =>
            {
                Assert.Contains(p.Node, system.NodeNames);
                Assert.True(p.ReferenceNode == "0" || system.NodeNames.Contains(p.ReferenceNode));
                Assert.EndsWith(".", p.Description, StringComparison.Ordinal);
            });
            Assert.All(board.Currents, c => Assert.IsAssignableFrom<ICurrent>(board.Circuit[c.Part]));
            Assert.All(board.Readouts, r => Assert.NotNull(Unit.Find(r.Unit)));
            Assert.Equal(block.LineSide, board.LineSide);
            Assert.Equal(block.LineSide, board.TestPoints.Any(p => p.LineSide));
            Assert.All(board.Circuit.Devices, d => Assert.Matches("^[A-Za-z][A-Za-z0-9_.]*$", d.Name));
        }
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void Every_fault_applies_under_every_choice_and_leaves_the_healthy_board_alone(string id)
    {
        foreach (var block in EveryChoice(id))
        {
            var board = block.Build();
            var healthy = Describe(board);
            Assert.Equal(block.Faults.Count, block.Faults.Select(f => f.Id).Distinct().Count());
            foreach (var fault in block.Faults)
            {
                var faulty = board.With(fault);
                Assert.Equal(healthy, Describe(board));
                Assert.NotSame(board.Circuit, faulty.Circuit);
                Assert.True(healthy != Describe(faulty) || !faulty.Readouts.SequenceEqual(board.Readouts), $"{fault.Id} changes nothing.");
                Assert.True(new CircuitSystem(faulty.Circuit).Size > 0);
                Assert.All(faulty.Currents, c => Assert.IsAssignableFrom<ICurrent>(faulty.Circuit[c.Part]));
                Assert.Matches("^[a-z][a-z0-9]*(-[a-z0-9]+)*$", fault.Id);
                Assert.EndsWith(".", fault.Mechanism, StringComparison.Ordinal);
                Assert.True(fault.Part == "program" || board.Circuit.Find(fault.Part) is not null);
            }
        }
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void Severities_are_checked(string id)
    {
        var block = BlockCatalogue.Create(id);
        var board = block.Build();
        foreach (var fault in block.Faults)
        {
            if (fault.Severity is { } s)
            {
                Assert.InRange(s.Default, s.Minimum, s.Maximum);
                Assert.NotNull(Unit.Find(s.Unit));
                Assert.Contains(fault.Id, Assert.Throws<FaultException>(() => board.With(fault, Math.BitIncrement(s.Maximum))).Message, StringComparison.Ordinal);
                Assert.Throws<FaultException>(() => board.With(fault, Math.BitDecrement(s.Minimum)));
                Assert.Throws<FaultException>(() => board.With(fault, double.NaN));
            }
            else
            {
                Assert.Contains("no severity", Assert.Throws<FaultException>(() => board.With(fault, 1)).Message, StringComparison.Ordinal);
            }
        }
    }

    /// <summary>The block with its defaults, then with each word of each choice in turn.</summary>
    private static IEnumerable<Block> EveryChoice(string id)
    {
        yield return BlockCatalogue.Create(id);
        foreach (var value in BlockCatalogue.Create(id).Values.Where(v => v.Kind == ValueKind.Choice))
        {
            foreach (var word in value.Choices)
            {
                var block = BlockCatalogue.Create(id);
                value.Set(block, word);
                yield return block;
            }
        }
    }

    private static string Describe(BoardSim.Boards.Board board) => string.Join('\n', board.Circuit.Devices.Select(d =>
        $"{d.GetType().Name} {d.Name} {string.Join(' ', d.Nodes)} {string.Join(' ', d.GetType().GetProperties().Where(p => p.GetIndexParameters().Length == 0 && p.Name is not ("Links" or "Nodes" or "Resistance" or "Law" or "Waveform")).Select(p => $"{p.Name}={p.GetValue(d)}"))} {(d as BoardSim.Engine.Devices.Resistor)?.Resistance} {(d as BoardSim.Engine.Devices.VoltageSource)?.Waveform.Value(0)} {(d as BoardSim.Engine.Devices.MeanFanDrive)?.Resistance}"));
}
