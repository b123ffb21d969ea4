using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Measurement;

namespace BoardSim.Designs;

/// <summary>
/// Makes one board of the blocks' boards: parts of the benches are left out, names get the place's name before them, and the node of each
/// wired port becomes the net. A fault of a block is applied to the block's own board, and the whole is put together anew.
/// </summary>
internal static class Composition
{
    /// <summary>The board of a design.</summary>
    /// <param name="design">The design.</param>
    /// <param name="blocks">The board of each block on its bench, by place.</param>
    public static Board Of(BoardDesign design, IReadOnlyDictionary<string, Board> blocks)
    {
        var circuit = new Circuit { Title = design.Title, Temperature = design.Ambient };
        var points = new List<TestPoint>();
        var currents = new List<CurrentPoint>();
        var readouts = new List<Readout>();
        var states = new List<StatePoint>();
        foreach (var placement in design.Placements)
        {
            var (board, place) = (blocks[placement.Name], new Place(design, placement));
            foreach (var device in board.Circuit.Devices.Where(d => !place.IsOfBench(d.Name)))
            {
                var copy = device.CopyWith(place.Name(device.Name), [.. device.Nodes.Select(place.Node)]);
                copy.RenameOthers(place.Name);
                circuit.Add(copy);
            }

            foreach (var (node, volts) in board.Circuit.InitialVoltages)
            {
                circuit.InitialVoltages[place.Node(node)] = volts;
            }

            points.AddRange(board.TestPoints.Select(p => p with { Name = place.Name(p.Name), Node = place.Node(p.Node), ReferenceNode = place.Node(p.ReferenceNode) }));
            currents.AddRange(board.Currents.Where(c => !place.IsOfBench(c.Part)).Select(c => c with { Name = place.Name(c.Name), Part = place.Name(c.Part) }));
            readouts.AddRange(board.Readouts.Select(r => r with { Name = place.Name(r.Name), Node = place.Node(r.Node), ReferenceNode = place.Node(r.ReferenceNode) }));
            states.AddRange(board.States.Where(s => !place.IsOfBench(s.Part)).Select(s => s with { Name = place.Name(s.Name), Part = place.Name(s.Part) }));
        }

        var nodes = circuit.Devices.SelectMany(d => d.Nodes).Append(Circuit.Ground).ToHashSet(StringComparer.OrdinalIgnoreCase);
        var all = blocks.Values.ToList();
        return new Board
        {
            Title = design.Title,
            Circuit = circuit,
            TestPoints =
            [
                .. design.NetPoints.Select(p => p with { Node = Net(design, p.Node), ReferenceNode = Net(design, p.ReferenceNode) }),

                // A point whose node only the bench has is not there on the board.
                .. points.Where(p => nodes.Contains(p.Node) && nodes.Contains(p.ReferenceNode)),
            ],
            Currents = currents,
            Readouts = [.. readouts.Where(r => nodes.Contains(r.Node) && nodes.Contains(r.ReferenceNode))],
            States = states,
            LineFrequency = all.Select(b => b.LineFrequency).FirstOrDefault(f => f is not null),
            LineByRms = all.Any(b => b.LineByRms),
            SwitchingFrequency = all.Select(b => b.SwitchingFrequency).FirstOrDefault(f => f is not null),
            SuggestedStop = all.Max(b => b.SuggestedStop),
            SettledFrom = all.Max(b => b.SettledFrom),
            StartsAtRest = all.Any(b => b.StartsAtRest),
            LineSide = all.Any(b => b.LineSide),
            Blocks = blocks,
        };
    }

    /// <summary>A board with one of its blocks changed.</summary>
    /// <param name="design">The design that the board was made from.</param>
    /// <param name="board">The board; it is left as it is.</param>
    /// <param name="placement">Place of the block.</param>
    /// <param name="change">Gives the changed board of the block, on its bench.</param>
    public static Board With(BoardDesign design, Board board, string placement, Func<Board, Board> change)
    {
        var blocks = new Dictionary<string, Board>(board.Blocks, StringComparer.OrdinalIgnoreCase);
        blocks[placement] = change(blocks[placement]);
        return Of(design, blocks);
    }

    private static string Net(BoardDesign design, string net) =>
        string.Equals(net, design.ZeroNet, StringComparison.OrdinalIgnoreCase) ? Circuit.Ground : net;

    /// <summary>What the names of a block become in its place.</summary>
    private sealed class Place
    {
        private readonly string prefix;
        private readonly HashSet<string> bench;
        private readonly Dictionary<string, string> nets = new(StringComparer.OrdinalIgnoreCase);

        public Place(BoardDesign design, Placement placement)
        {
            prefix = placement.Name;
            bench = new HashSet<string>(placement.Block.BenchParts, StringComparer.OrdinalIgnoreCase);
            foreach (var port in placement.Block.Ports.Where(p => placement.Wires.ContainsKey(p.Name)))
            {
                nets[port.Node] = Net(design, placement.Wires[port.Name]);
            }
        }

        public bool IsOfBench(string part) => bench.Contains(part);

        public string Name(string name) => $"{prefix}.{name}";

        // The bench's ground is no conductor of the board unless a port says which.
        public string Node(string node) => nets.TryGetValue(node, out var net) ? net : $"{prefix}.{node}";
    }
}
