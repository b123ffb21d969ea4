using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Windings on one linear core without leakage between them; terminals: first, second of each winding in turn, dots at the first. One flux is the state:
/// <c>v_k = R_k i_k + (n_k/n_1) dl/dt</c>, <c>l = L sum(n_k/n_1 i_k)</c>, with the inductance L seen from the first winding. Perfect coupling is no limit
/// case here, as it is for mutual inductances, whose currents then follow from differences of nearly equal fluxes. Leakage is an inductor in
/// series. Source: any textbook of transformers, such as Fitzgerald, Kingsley and Umans, Electric Machinery, chapter 2, from memory.
/// </summary>
public sealed class CoreWindings : Device, IInitial
{
    private readonly double[] turns;
    private readonly double[] resistances;
    private readonly int[] currents;
    private readonly int[] slots;
    private int flux, ff;

    /// <summary>Creates windings.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="inductance">Inductance in henries seen from the first winding, positive.</param>
    /// <param name="windings">The windings: nodes, turns relative to any one number, and resistance in ohms, zero or more.</param>
    public CoreWindings(string name, double inductance, params IReadOnlyList<Winding> windings)
        : base(name, [.. windings.SelectMany(w => new[] { w.First, w.Second })])
    {
        Inductance = inductance;
        turns = [.. windings.Select(w => w.Turns / windings[0].Turns)];
        resistances = [.. windings.Select(w => w.Resistance)];
        currents = new int[windings.Count];
        slots = new int[7 * windings.Count];
    }

    /// <summary>Inductance in henries seen from the first winding, positive.</summary>
    public double Inductance { get; set; }

    /// <summary>Name of the unknown that is the current of a winding in amperes, into its first terminal.</summary>
    /// <param name="winding">Number of the winding, from 1.</param>
    public static string CurrentOf(int winding) => $"current-{winding}";

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => Enumerable.Range(0, turns.Length).Select(k => new Link(2 * k, 2 * k + 1, LinkKind.Inductive));

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        // In units of the flux of an ampere in the first winding, so that the error control's floor fits it.
        flux = binder.Internal("flux", UnknownKind.Current);
        ff = binder.Slot(flux, flux);
        for (var (k, s) = (0, 0); k < turns.Length; k++, s += 7)
        {
            var (a, b) = (binder.Node(Nodes[2 * k]), binder.Node(Nodes[2 * k + 1]));
            var i = currents[k] = binder.Internal(CurrentOf(k + 1), UnknownKind.Current);
            (slots[s], slots[s + 1], slots[s + 2], slots[s + 3]) = (binder.Slot(a, i), binder.Slot(b, i), binder.Slot(i, a), binder.Slot(i, b));
            (slots[s + 4], slots[s + 5], slots[s + 6]) = (binder.Slot(i, i), binder.Slot(i, flux), binder.Slot(flux, i));
        }
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        loads.G[ff] += 1;
        for (var (k, s) = (0, 0); k < turns.Length; k++, s += 7)
        {
            loads.G[slots[s]] += 1;
            loads.G[slots[s + 1]] -= 1;
            loads.G[slots[s + 2]] += 1;
            loads.G[slots[s + 3]] -= 1;
            loads.G[slots[s + 4]] -= resistances[k];
            loads.C[slots[s + 5]] -= turns[k] * Inductance;
            loads.G[slots[s + 6]] -= turns[k];
        }
    }

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial) => initial.Value(flux, 0);

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(Name, ("inductance", Inductance)))
        {
            yield return problem;
        }

        for (var k = 0; k < turns.Length; k++)
        {
            if (!(turns[k] > 0 && double.IsFinite(turns[k]) && resistances[k] >= 0 && double.IsFinite(resistances[k])))
            {
                yield return $"{Name}: winding {k + 1} has {turns[k]} turns per turn of the first and {resistances[k]} ohm; turns must be positive, the resistance zero or more.";
            }
        }
    }
}

/// <summary>One winding of a core.</summary>
/// <param name="First">Node of its first terminal, where the dot is.</param>
/// <param name="Second">Node of its second terminal.</param>
/// <param name="Turns">Number of turns, positive; only ratios count.</param>
/// <param name="Resistance">Resistance in ohms, zero or more.</param>
public sealed record Winding(string First, string Second, double Turns, double Resistance = 0);
