using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>A winding of a <see cref="SaturableTransformer"/>.</summary>
/// <param name="Dotted">Node of the dotted end.</param>
/// <param name="Other">Node of the other end.</param>
/// <param name="Ratio">Turns relative to those of the first winding, not zero; 1 for the first.</param>
/// <param name="Leakage">Leakage inductance in henries, zero or more.</param>
public sealed record TransformerWinding(string Dotted, string Other, double Ratio, double Leakage);

/// <summary>
/// Transformer with a core that saturates; terminals: dotted and other end of each winding in turn. Each winding of <c>n</c> times the first one's turns
/// has <c>v = n dL/dt + Lleak di/dt</c> with the core's flux linkage <c>L</c> as the first winding sees it, and
/// <code>
///  sum of n i = L / Lm + (1/Lsat - 1/Lm) * (what of L is beyond the knee, rounded) + (dL/dt) / Rcore
/// </code>
/// (magnetising branch of the equivalent circuit of textbooks; two slopes with a rounded knee in place of the core's curve, hysteresis as a part of the core's
/// loss). Windings' resistances are parts of their own. For a core that stays linear and windings without leakage see <see cref="CoreWindings"/>.
/// </summary>
public sealed class SaturableTransformer : Device, ICurrent, IBranch
{
    // Half the width of the knee as a part of its flux.
    private const double KneeWidth = 0.1;

    private int[] plus = [], minus = [], current = [];
    private int[] plusSlot = [], minusSlot = [], lawPlus = [], lawMinus = [], leakSlot = [], fluxSlot = [], sumSlot = [];
    private int flux, ff;
    private double steepness;

    /// <summary>Creates a transformer.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="windings">The windings, the primary first.</param>
    /// <param name="henries">Magnetising inductance in henries seen from the first winding, far from saturation; positive.</param>
    public SaturableTransformer(string name, IReadOnlyList<TransformerWinding> windings, double henries)
        : base(name, [.. (windings ?? throw new ArgumentNullException(nameof(windings))).SelectMany(w => new[] { w.Dotted, w.Other })])
    {
        Ratios = [.. windings.Select(w => w.Ratio)];
        Leakages = [.. windings.Select(w => w.Leakage)];
        MagnetisingInductance = henries;
    }

    /// <summary>Turns of each winding relative to those of the first one.</summary>
    public IReadOnlyList<double> Ratios { get; set; }

    /// <summary>Leakage inductance of each winding in henries, zero or more.</summary>
    public IReadOnlyList<double> Leakages { get; set; }

    /// <summary>Magnetising inductance in henries seen from the first winding, far from saturation; positive.</summary>
    public double MagnetisingInductance { get; set; }

    /// <summary>Inductance in henries of the first winding far beyond saturation, positive.</summary>
    public double SaturatedInductance { get; set; } = 1e-3;

    /// <summary>Flux linkage of the first winding in volt seconds at which the core saturates, positive. At a sine of rms voltage V and frequency f the
    /// peak is <c>V / (4.44 f)</c>.</summary>
    public double SaturationFlux { get; set; } = 1;

    /// <summary>Resistance in ohms across the first winding that takes what the core loses, positive; infinite for no loss. The power balance of a run
    /// counts its loss among what is stored, since one law holds for both.</summary>
    public double CoreResistance { get; set; } = double.PositiveInfinity;

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [flux];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => Enumerable.Range(0, Ratios.Count).Select(k => new Link(2 * k, 2 * k + 1, LinkKind.Inductive));

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        var count = Ratios.Count;
        (plus, minus, current) = (new int[count], new int[count], new int[count]);
        (plusSlot, minusSlot, lawPlus, lawMinus) = (new int[count], new int[count], new int[count], new int[count]);
        (leakSlot, fluxSlot, sumSlot) = (new int[count], new int[count], new int[count]);
        for (var k = 0; k < count; k++)
        {
            plus[k] = binder.Node(Nodes[2 * k]);
            minus[k] = binder.Node(Nodes[2 * k + 1]);
            current[k] = k == 0 ? binder.Branch() : binder.Internal($"i{k + 1}", UnknownKind.Current);
        }

        // As a part of the knee's flux, so that the error control's floor fits it.
        flux = binder.Internal("flux", UnknownKind.Other);
        ff = binder.Slot(flux, flux);
        for (var k = 0; k < count; k++)
        {
            (plusSlot[k], minusSlot[k]) = (binder.Slot(plus[k], current[k]), binder.Slot(minus[k], current[k]));
            (lawPlus[k], lawMinus[k]) = (binder.Slot(current[k], plus[k]), binder.Slot(current[k], minus[k]));
            (leakSlot[k], fluxSlot[k], sumSlot[k]) = (binder.Slot(current[k], current[k]), binder.Slot(current[k], flux), binder.Slot(flux, current[k]));
        }
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        // The law of the core in parts of the current at the knee.
        var unit = SaturationFlux / MagnetisingInductance;
        for (var k = 0; k < current.Length; k++)
        {
            loads.G[plusSlot[k]] += 1;
            loads.G[minusSlot[k]] -= 1;
            loads.G[lawPlus[k]] += 1;
            loads.G[lawMinus[k]] -= 1;
            loads.C[leakSlot[k]] -= Leakages[k];
            loads.C[fluxSlot[k]] -= Ratios[k] * SaturationFlux;
            loads.G[sumSlot[k]] += Ratios[k] / unit;
        }

        loads.G[ff] -= 1;
        loads.C[ff] -= MagnetisingInductance / CoreResistance;
        steepness = MagnetisingInductance / SaturatedInductance - 1;
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var x = loads.X[flux];
        var beyond = Beyond(Math.Abs(x), out var slope);
        loads.F[flux] -= steepness * Math.CopySign(beyond, x);
        loads.G[ff] -= steepness * slope;
    }

    /// <summary>Current of the first winding in amperes.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x) => x[current[0]];

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(
            Name,
            ("magnetising inductance", MagnetisingInductance),
            ("saturated inductance", SaturatedInductance),
            ("saturation flux", SaturationFlux),
            ("core resistance", CoreResistance)))
        {
            yield return problem;
        }

        if (Ratios.Count == 0 || 2 * Ratios.Count != Nodes.Count || Leakages.Count != Ratios.Count)
        {
            yield return $"{Name}: {Ratios.Count} ratios and {Leakages.Count} leakage inductances for {Nodes.Count} terminals; there must be one of each for every two.";
        }

        foreach (var ratio in Ratios.Where(n => !(n != 0 && double.IsFinite(n))))
        {
            yield return $"{Name}: turns ratio {ratio}; it must be finite and not zero.";
        }

        foreach (var henries in Leakages.Where(l => !(l >= 0 && double.IsFinite(l))))
        {
            yield return $"{Name}: leakage inductance {henries} H; it must be zero or more and finite.";
        }

        if (!(SaturatedInductance < MagnetisingInductance))
        {
            yield return $"{Name}: saturated inductance {SaturatedInductance} H; it must be below the magnetising inductance of {MagnetisingInductance} H.";
        }
    }

    /// <summary>What of the flux lies beyond the knee, which a parabola rounds: nothing is left of it far below.</summary>
    private static double Beyond(double size, out double slope)
    {
        var inside = size - 1 + KneeWidth;
        if (inside <= 0)
        {
            slope = 0;
            return 0;
        }

        slope = Math.Min(1, inside / (2 * KneeWidth));
        return slope < 1 ? inside * inside / (4 * KneeWidth) : size - 1;
    }

    /// <inheritdoc/>
    protected override void Detach()
    {
        (plus, minus, current) = ([], [], []);
        (plusSlot, minusSlot, lawPlus, lawMinus, leakSlot, fluxSlot, sumSlot) = ([], [], [], [], [], [], []);
    }
}
