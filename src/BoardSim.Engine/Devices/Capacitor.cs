using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Capacitor with optional series resistance (ESR) and leakage; terminals: positive, negative. With a series resistance the
/// part has an unknown of its own, the voltage across the inner, ideal capacitance, where the leakage lies as well:
/// <code>
///  i = (vp - vn - u) / ESR,   i = C du/dt + u / leakage
/// </code>
/// Not the voltage of an inner node: in a short step the charge's derivative is far more than anything else there, and where the part floats on an opened lead the gigohms that hold
/// it would be lost beside it, below the last place. Across the part the ohms of the ESR are the largest term that the terminals see.
/// </summary>
public sealed class Capacitor : Device, IInitial, ICurrent
{
    private int p, n, inner;
    private int pp, pi, ip, ii, inn, ni, nn, pn, np;

    /// <summary>Creates a capacitor.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="positive">Positive node.</param>
    /// <param name="negative">Negative node.</param>
    /// <param name="farads">Capacitance in farads, zero or more.</param>
    public Capacitor(string name, string positive, string negative, double farads)
        : base(name, positive, negative) => Capacitance = farads;

    /// <summary>Capacitance in farads, zero or more.</summary>
    public double Capacitance { get; set; }

    /// <summary>Equivalent series resistance in ohms, zero or more; zero leaves the part without an inner node.</summary>
    public double SeriesResistance { get; set; }

    /// <summary>Leakage resistance in ohms, positive; infinite by default.</summary>
    public double LeakageResistance { get; set; } = double.PositiveInfinity;

    /// <summary>Start voltage in volts for a run from initial conditions; null when it is not given.</summary>
    public double? InitialVoltage { get; set; }

    /// <inheritdoc/>
    public override IEnumerable<Link> Links =>
        [new(0, 1, double.IsFinite(LeakageResistance) ? LinkKind.Conductive : LinkKind.Capacitive)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        p = binder.Node(Nodes[0]);
        n = binder.Node(Nodes[1]);
        inner = SeriesResistance > 0 ? binder.Internal("esr", UnknownKind.Voltage) : p;
        (pp, pi, ip) = (binder.Slot(p, p), binder.Slot(p, inner), binder.Slot(inner, p));
        (pn, np) = inner != p ? (binder.Slot(p, n), binder.Slot(n, p)) : (0, 0);
        (ii, inn, ni, nn) = (binder.Slot(inner, inner), binder.Slot(inner, n), binder.Slot(n, inner), binder.Slot(n, n));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        if (inner == p)
        {
            Pair(loads.C, Capacitance);
            Pair(loads.G, 1 / LeakageResistance);
            return;
        }

        var g = 1 / SeriesResistance;
        loads.G[pp] += g;
        loads.G[pn] -= g;
        loads.G[pi] -= g;
        loads.G[np] -= g;
        loads.G[nn] += g;
        loads.G[ni] += g;
        loads.G[ip] -= g;
        loads.G[inn] += g;
        loads.G[ii] += g + 1 / LeakageResistance;
        loads.C[ii] += Capacitance;
    }

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial)
    {
        if (InitialVoltage is { } volts)
        {
            initial.Charge(inner, inner == p ? n : 0, Capacitance, volts);
        }
    }

    /// <summary>Current in amperes; it follows from the unknowns only when there is a series resistance.</summary>
    /// <param name="x">The unknowns.</param>
    /// <exception cref="InvalidOperationException">The capacitor has no series resistance.</exception>
    public double Current(ReadOnlySpan<double> x) =>
        inner != p
            ? (x[p] - x[n] - x[inner]) / SeriesResistance
            : throw new InvalidOperationException($"{Name} has no series resistance to read its current from; give it one, or put a 0 V source in series.");

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        if (!(Capacitance >= 0 && double.IsFinite(Capacitance)))
        {
            yield return $"{Name}: capacitance {Capacitance} F; it must be zero or more and finite.";
        }

        if (!(SeriesResistance >= 0 && double.IsFinite(SeriesResistance)))
        {
            yield return $"{Name}: series resistance {SeriesResistance} ohm; it must be zero or more and finite.";
        }

        if (!(LeakageResistance > 0))
        {
            yield return $"{Name}: leakage resistance {LeakageResistance} ohm; it must be positive.";
        }
    }

    private void Pair(double[] matrix, double value)
    {
        matrix[ii] += value;
        matrix[inn] -= value;
        matrix[ni] -= value;
        matrix[nn] += value;
    }
}
