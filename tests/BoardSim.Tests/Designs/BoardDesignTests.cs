using BoardSim.Blocks;
using BoardSim.Boards;
using BoardSim.Designs;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Faults;

namespace BoardSim.Tests.Designs;

/// <summary>Ohm's law and Thevenin's theorem say what two half circuits give together; sources: any textbook of circuits.</summary>
public class BoardDesignTests
{
    private static readonly Dictionary<string, string> SourceWires = new() { ["out"] = "rail", ["ground"] = "gnd" };
    private static readonly Dictionary<string, string> LoadWires = new() { ["in"] = "rail", ["ground"] = "gnd" };

    private static BoardDesign Design(params Placement[] more) =>
        new("bench", "Two halves", "gnd", [new Placement("left", new SourceHalf(), SourceWires), new Placement("right", new LoadHalf(), LoadWires), .. more]);

    private static double Rail(Board board) => OperatingPoint.Solve(new CircuitSystem(board.Circuit)).Voltage("rail");

    [Fact]
    public void Blocks_share_a_net_and_leave_their_benches_behind()
    {
        // 10 V behind 1 kohm into 1 kohm is 5 V; the bench's 50 ohm would make it 0.47 V.
        Assert.Equal(5, Rail(Design().Build()), 1e-6);
    }

    [Fact]
    public void Two_loads_stand_side_by_side()
    {
        // 10 V behind 1 kohm into 500 ohm.
        Assert.Equal(10.0 / 3, Rail(Design(new Placement("second", new LoadHalf(), LoadWires)).Build()), 1e-6);
    }

    [Fact]
    public void Values_are_those_of_the_blocks_with_their_place_before_them()
    {
        var design = Design();
        design.Value("right.resistance").Set(design, 3000.0);
        Assert.Equal(7.5, Rail(design.Build()), 1e-6);
        Assert.Equal(["ambient", "left.voltage", "left.resistance", "right.resistance"], design.Values.Select(v => v.Key));
        Assert.Equal(1000.0, Design().Value("right.resistance").Default);
    }

    [Fact]
    public void A_fault_of_a_block_is_a_fault_of_the_board()
    {
        var design = Design();
        var healthy = design.Build();

        // 10 V behind 1 kohm + 7 kohm into 1 kohm; the severity that is usual makes it 2 kohm more.
        Assert.Equal(10.0 / 9, Rail(design.Fault("left.joint-poor").Apply(healthy, 7000)), 1e-6);
        Assert.Equal(2.5, Rail(design.Fault("left.joint-poor").Apply(healthy)), 1e-6);
        Assert.Equal(5, Rail(healthy), 1e-6);
    }

    [Fact]
    public void Faults_of_different_blocks_add_up()
    {
        var design = Design(new Placement("lead", new LoosePart(LoosePartKind.Resistor, 1e6), new Dictionary<string, string> { ["a"] = "rail", ["b"] = "gnd" }));
        var board = design.Fault("left.joint-poor").Apply(design.Build(), 1000);
        Assert.Equal(0, Rail(design.Fault("lead.shorted").Apply(board, 1e-6)), 1e-6);
        Assert.Equal(10.0 / 3, Rail(design.Fault("lead.open").Apply(board)), 1e-4);
    }

    [Fact]
    public void A_fault_of_the_bench_is_not_offered()
    {
        Assert.Equal(["left.joint-poor"], Design().Faults.Select(f => f.Id));
    }

    [Fact]
    public void Points_and_currents_go_by_place_and_those_of_the_bench_are_gone()
    {
        var board = Design().Build();
        Assert.Equal(["left.out", "right.in"], board.TestPoints.Select(p => p.Name));
        Assert.Equal("rail", board.TestPoint("left.out").Node);
        Assert.Equal(Circuit.Ground, board.TestPoint("left.out").ReferenceNode);
        Assert.Equal(["left.inner"], board.Currents.Select(p => p.Name));
        Assert.Equal(5e-3, OperatingPoint.Solve(new CircuitSystem(board.Circuit)).Current(board.CurrentPoint("left.inner").Part), 1e-9);
    }

    [Fact]
    public void The_air_is_the_same_all_over_the_board()
    {
        var design = Design();
        design.Value("ambient").Set(design, 313.15);
        Assert.Equal(313.15, design.Build().Circuit.Temperature);
        Assert.Equal(313.15, ((SourceHalf)design.Place("left").Block).Ambient);
    }

    [Fact]
    public void An_optional_port_may_stay_unwired()
    {
        Assert.Contains("right.sense", Design().Build().Circuit.Devices.SelectMany(d => d.Nodes));
        var wired = new Placement("second", new LoadHalf(), new Dictionary<string, string>(LoadWires) { ["sense"] = "tap" });
        var partner = new Placement("tie", new LoosePart(LoosePartKind.Resistor, 100), new Dictionary<string, string> { ["a"] = "tap", ["b"] = "gnd" });
        Assert.Contains("tap", Design(wired, partner).Build().Circuit.Devices.SelectMany(d => d.Nodes));
    }

    [Theory]
    [InlineData("out", "rails", "net rails has one end only, third.out")]
    [InlineData("outs", "rail", "third: source-half has no port outs; it has out, ground")]
    public void Wrong_wires_are_told(string port, string net, string expected)
    {
        var third = new Placement("third", new SourceHalf(), new Dictionary<string, string> { [port] = net, ["ground"] = "gnd" });
        Assert.Contains(Design(third).Problems(), p => p.StartsWith(expected, StringComparison.Ordinal));
    }

    [Fact]
    public void A_port_without_a_wire_is_told()
    {
        var third = new Placement("third", new SourceHalf(), new Dictionary<string, string> { ["ground"] = "gnd" });
        Assert.Equal(["third: port out is wired to nothing; name the net that it goes to (Output)."], Design(third).Problems());
    }

    [Fact]
    public void Two_blocks_of_one_name_are_told()
    {
        var refused = Assert.Throws<ArgumentException>(() => Design(new Placement("left", new LoadHalf(), LoadWires)));
        Assert.StartsWith("Two blocks are named left; give each a name of its own.", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_wrong_inside_a_block_names_its_place()
    {
        var design = Design();
        ((SourceHalf)design.Place("left").Block).Resistance = 0.5;
        Assert.Equal("left.resistance: 500 mohm; it must lie between 1 ohm and 1 Mohm (Inner resistance.)", Assert.Single(Assert.Throws<BlockException>(design.Build).Findings));
    }

    [Fact]
    public void Every_block_of_the_catalogue_that_has_ports_can_be_cut_off_its_bench()
    {
        foreach (var block in BlockCatalogue.All.Where(b => b.Ports.Count > 0))
        {
            var board = block.Build();
            var kept = board.Circuit.Devices.Where(d => !block.BenchParts.Contains(d.Name, StringComparer.OrdinalIgnoreCase)).ToList();
            var nodes = kept.SelectMany(d => d.Nodes).ToHashSet(StringComparer.OrdinalIgnoreCase);
            Assert.True(!nodes.Contains(Circuit.Ground) || block.Ports.Any(p => p.Node == Circuit.Ground), $"{block.Id} has parts on the bench's ground, which no port leads to.");
            foreach (var port in block.Ports)
            {
                Assert.True(nodes.Contains(port.Node), $"{block.Id}: no part that stays with the block is connected to port {port.Name}.");
            }
        }
    }
}
