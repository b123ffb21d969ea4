using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Campaign.Judging;

/// <summary>
/// What is wrong with a circuit's structure, found in another way than the engine's own check does: by a table of what each
/// kind of part joins, and a search from the ground; loops by their number, which is edges less nodes plus pieces (Euler).
/// </summary>
public sealed class GraphCheck
{
    private readonly Dictionary<string, List<string>> conducting = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Looks at a circuit.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="direct">True at direct current: capacitors then join nothing, and ideal inductors are links.</param>
    public GraphCheck(Circuit circuit, bool direct)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        conducting[Circuit.Ground] = [];
        foreach (var node in circuit.Devices.SelectMany(d => d.Nodes))
        {
            conducting.TryAdd(node, []);
        }

        var rigid = new List<(string Part, string From, string To)>();
        foreach (var device in circuit.Devices)
        {
            foreach (var (from, to, joint) in Joints(device))
            {
                if (joint is Joint.Path or Joint.Source or Joint.Winding || (joint == Joint.Charge && !direct))
                {
                    conducting[device.Nodes[from]].Add(device.Nodes[to]);
                    conducting[device.Nodes[to]].Add(device.Nodes[from]);
                }

                if (joint == Joint.Source || (joint == Joint.Winding && direct))
                {
                    rigid.Add((device.Name, device.Nodes[from], device.Nodes[to]));
                }
            }
        }

        Rigid = rigid;
        Parts = circuit.Devices.Select(d => d.Name).ToHashSet(StringComparer.OrdinalIgnoreCase);
        Islands = [.. FindIslands()];
        Loops = CountLoops(rigid);
        FedByOwnHeat = circuit.Devices.Where(d => HeatTerminal(d) is { } heat && IsJoined(circuit, d, heat)).Select(d => d.Name).ToHashSet(StringComparer.OrdinalIgnoreCase);
    }

    private enum Joint
    {
        Path,
        Source,
        Winding,
        Charge,
    }

    /// <summary>Groups of nodes that nothing joins to the ground.</summary>
    public IReadOnlyList<IReadOnlySet<string>> Islands { get; }

    /// <summary>Number of independent loops of parts that fix a voltage.</summary>
    public int Loops { get; }

    /// <summary>The parts that fix a voltage, each with its two nodes.</summary>
    public IReadOnlyList<(string Part, string From, string To)> Rigid { get; }

    /// <summary>Names of all parts.</summary>
    public IReadOnlySet<string> Parts { get; }

    /// <summary>Parts between whose heat terminal and another of their terminals there is a way through other parts that does not touch the ground.</summary>
    public IReadOnlySet<string> FedByOwnHeat { get; }

    /// <summary>True when nothing is wrong.</summary>
    public bool IsSound => Islands.Count == 0 && Loops == 0 && FedByOwnHeat.Count == 0;

    private static int? HeatTerminal(Device device) => device is HeatingElement or Thermistor { Nodes.Count: 3 } ? 2 : null;

    /// <summary>By painting: every part without a heat terminal paints both ends of its joints alike until nothing changes.</summary>
    private static bool IsJoined(Circuit circuit, Device part, int heat)
    {
        var painted = new HashSet<string>(StringComparer.OrdinalIgnoreCase) { part.Nodes[heat] };
        for (var before = 0; before < painted.Count;)
        {
            before = painted.Count;
            foreach (var other in circuit.Devices.Where(d => HeatTerminal(d) is null))
            {
                var pairs = other is CurrentSource ? [(0, 1)] : Joints(other).Select(j => (j.From, j.To));
                foreach (var (from, to) in pairs)
                {
                    var (a, b) = (other.Nodes[from], other.Nodes[to]);
                    if (a != Circuit.Ground && b != Circuit.Ground && painted.Contains(a) != painted.Contains(b))
                    {
                        painted.UnionWith([a, b]);
                    }
                }
            }
        }

        return painted.Contains(part.Nodes[0]) || painted.Contains(part.Nodes[1]);
    }

    private static IEnumerable<(int From, int To, Joint Joint)> Joints(Device device) => device switch
    {
        Capacitor c => [(0, 1, double.IsFinite(c.LeakageResistance) ? Joint.Path : Joint.Charge)],
        Inductor l => [(0, 1, l.SeriesResistance > 0 ? Joint.Path : Joint.Winding)],
        VoltageSource or VoltageControlledVoltageSource or CurrentControlledVoltageSource => [(0, 1, Joint.Source)],
        CurrentSource or VoltageControlledCurrentSource or CurrentControlledCurrentSource or Coupling => [],
        BipolarTransistor => [(0, 1, Joint.Path), (1, 2, Joint.Path)],
        Mosfet m => [(0, 2, Joint.Path), (2, 3, Joint.Path), .. GateCharges(m.Model)],
        Resistor or Diode or VoltageSwitch or CurrentSwitch or RelayCoil or RelayContact or Thermistor or IsothermalThermistor
            or Varistor or ConstantPowerLoad => [(0, 1, Joint.Path)],

        // A kind that came after this table: there is only its own word.
        _ => device.Links.Where(l => l.Kind != LinkKind.CurrentDefined).Select(l => (l.From, l.To, l.Kind switch
        {
            LinkKind.VoltageDefined => Joint.Source,
            LinkKind.Inductive => Joint.Winding,
            LinkKind.Capacitive => Joint.Charge,
            _ => Joint.Path,
        })),
    };

    private static IEnumerable<(int From, int To, Joint Joint)> GateCharges(MosfetModel model)
    {
        if (model.OxideThickness is not null || model.GateDrainOverlap > 0)
        {
            yield return (1, 0, Joint.Charge);
        }

        if (model.OxideThickness is not null || model.GateSourceOverlap > 0)
        {
            yield return (1, 2, Joint.Charge);
        }

        if (model.GateBulkOverlap > 0)
        {
            yield return (1, 3, Joint.Charge);
        }
    }

    private IEnumerable<IReadOnlySet<string>> FindIslands()
    {
        var reached = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        Reach(Circuit.Ground, reached);
        foreach (var node in conducting.Keys)
        {
            if (!reached.Contains(node))
            {
                var island = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
                Reach(node, island);
                reached.UnionWith(island);
                yield return island;
            }
        }
    }

    private void Reach(string start, HashSet<string> reached)
    {
        var open = new Stack<string>([start]);
        while (open.TryPop(out var node))
        {
            if (reached.Add(node))
            {
                conducting[node].ForEach(open.Push);
            }
        }
    }

    private static int CountLoops(List<(string Part, string From, string To)> edges)
    {
        var color = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        foreach (var (_, from, to) in edges)
        {
            color.TryAdd(from, color.Count);
            color.TryAdd(to, color.Count);
        }

        // Paints pieces in one colour each until nothing changes; the circuits are small.
        for (var changed = true; changed;)
        {
            changed = false;
            foreach (var (_, from, to) in edges)
            {
                if (color[from] != color[to])
                {
                    color[from] = color[to] = Math.Min(color[from], color[to]);
                    changed = true;
                }
            }
        }

        return edges.Count - color.Count + color.Values.Distinct().Count();
    }
}
