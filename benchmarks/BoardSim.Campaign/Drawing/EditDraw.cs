using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Campaign.Drawing;

/// <summary>Draws what happens to parts.</summary>
internal static class EditDraw
{
    private static readonly (EditKind Kind, double Share)[] Shares =
    [
        (EditKind.Open, 0.26), (EditKind.Short, 0.22), (EditKind.Leak, 0.24), (EditKind.Fade, 0.10),
        (EditKind.Cut, 0.07), (EditKind.Remove, 0.06), (EditKind.Bond, 0.05),
    ];

    /// <summary>Draws one edit that can be made to the circuit as it is.</summary>
    public static PartEdit Draw(CounterRandom random, Circuit circuit)
    {
        var kind = Kind(random);
        var wired = circuit.Devices.Where(d => d.Nodes.Count >= 2).ToList();
        if (kind == EditKind.Fade && !wired.OfType<Capacitor>().Any())
        {
            // The only capacitor was taken out by the edit before.
            kind = EditKind.Leak;
        }

        switch (kind)
        {
            case EditKind.Open:
                var opened = random.Any(wired);
                return new PartEdit { Kind = kind, Part = opened.Name, First = random.Below(opened.Nodes.Count), Value = random.AcrossDecades(1e6, 1e12) };
            case EditKind.Short:
                var shorted = random.Any(wired);
                var first = random.Below(shorted.Nodes.Count);
                var second = (first + 1 + random.Below(shorted.Nodes.Count - 1)) % shorted.Nodes.Count;
                return new PartEdit { Kind = kind, Part = shorted.Name, First = first, Second = second, Value = random.AcrossDecades(1e-3, 1) };
            case EditKind.Fade:
                var capacitors = wired.OfType<Capacitor>().ToList();
                return new PartEdit { Kind = kind, Part = random.Any(capacitors).Name, Value = random.AcrossDecades(1e-4, 0.5) };
            case EditKind.Cut:
                var cut = random.Any(wired);
                return new PartEdit { Kind = kind, Part = cut.Name, First = random.Below(cut.Nodes.Count) };
            case EditKind.Remove:
                var needed = Needed(circuit);
                return new PartEdit { Kind = kind, Part = random.Any(wired.Where(d => !needed.Contains(d.Name)).ToList()).Name };
            default:
                var nodes = circuit.Devices.SelectMany(d => d.Nodes).Distinct(StringComparer.OrdinalIgnoreCase).ToList();
                var from = random.Any(nodes);
                nodes.Remove(from);
                return new PartEdit { Kind = kind, From = from, To = random.Any(nodes), Value = kind == EditKind.Leak ? random.AcrossDecades(1, 1e9) : 0 };
        }
    }

    private static EditKind Kind(CounterRandom random)
    {
        var at = random.Next() * Shares.Sum(s => s.Share);
        foreach (var (kind, share) in Shares)
        {
            if ((at -= share) < 0)
            {
                return kind;
            }
        }

        return Shares[^1].Kind;
    }

    /// <summary>Parts that others refer to by name, which cannot be taken out alone.</summary>
    private static HashSet<string> Needed(Circuit circuit) => new(
        circuit.Devices.SelectMany(d => d switch
        {
            Coupling k => [k.First, k.Second],
            RelayContact c => [c.Coil],
            CurrentSwitch s => [s.ControlDevice],
            CurrentControlledCurrentSource s => [s.ControlDevice],
            CurrentControlledVoltageSource s => [s.ControlDevice],
            _ => (string[])[],
        }),
        StringComparer.OrdinalIgnoreCase);
}
