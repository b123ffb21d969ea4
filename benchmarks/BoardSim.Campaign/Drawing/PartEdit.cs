using System.Text.Json.Serialization;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Campaign.Drawing;

/// <summary>What may happen to a part, or between two nodes, beyond the faults that a block declares.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<EditKind>))]
public enum EditKind
{
    /// <summary>A resistance in the lead First of Part.</summary>
    Open = 1,

    /// <summary>A resistance across the leads First and Second of Part.</summary>
    Short,

    /// <summary>A resistance between two nodes.</summary>
    Leak,

    /// <summary>The capacitance of Part, times Value.</summary>
    Fade,

    /// <summary>The lead First of Part ends in the air: a floating node, often.</summary>
    Cut,

    /// <summary>Part is taken out.</summary>
    Remove,

    /// <summary>An ideal link (0 V source) between two nodes: a loop of sources, sometimes.</summary>
    Bond,
}

/// <summary>One edit.</summary>
public sealed record PartEdit
{
    /// <summary>What happens.</summary>
    public required EditKind Kind { get; init; }

    /// <summary>The part; null for an edit between nodes.</summary>
    public string? Part { get; init; }

    /// <summary>A lead of the part, from 0.</summary>
    public int First { get; init; }

    /// <summary>Another lead of the part, from 0.</summary>
    public int Second { get; init; }

    /// <summary>A node.</summary>
    public string? From { get; init; }

    /// <summary>Another node.</summary>
    public string? To { get; init; }

    /// <summary>Ohms, or a share.</summary>
    public double Value { get; init; }

    /// <summary>Changes a circuit.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="number">Number of the edit, for the names of new parts and nodes.</param>
    public void Apply(Circuit circuit, int number)
    {
        var name = $"edit{number}";
        switch (Kind)
        {
            case EditKind.Open:
                var outer = circuit[Part!].Nodes[First];
                circuit[Part!].Rewire(First, name);
                circuit.Add(new Resistor($"R_{name}", outer, name, Value));
                break;
            case EditKind.Short:
                circuit.Add(new Resistor($"R_{name}", circuit[Part!].Nodes[First], circuit[Part!].Nodes[Second], Value));
                break;
            case EditKind.Leak:
                circuit.Add(new Resistor($"R_{name}", From!, To!, Value));
                break;
            case EditKind.Fade:
                circuit.Get<Capacitor>(Part!).Capacitance *= Value;
                break;
            case EditKind.Cut:
                circuit[Part!].Rewire(First, name);
                break;
            case EditKind.Remove:
                circuit.Remove(Part!);
                break;
            case EditKind.Bond:
                circuit.Add(new VoltageSource($"V_{name}", From!, To!));
                break;
            default:
                throw new InvalidOperationException($"No such edit: {Kind}.");
        }
    }
}
