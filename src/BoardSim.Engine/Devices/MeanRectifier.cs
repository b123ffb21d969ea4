using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices.Converters;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Rectifier with a capacitor behind it in mean values; terminals: line, neutral, positive, negative. The voltage between line and neutral is the RMS value of a sine, the one between positive and negative the mean
/// output voltage, and the current delivered is what a rectifier in the periodic state with that mean would deliver (<see cref="ChargingCycle"/>): conduction angles, ripple and the resistances of the loop
/// are in it, nothing of them is in the waveforms. From the line it takes the current that goes with its power, output and losses together; the harmonics of the real current, which carry no power, are left out, so
/// that current is smaller than an ammeter's (<c>line-current</c> tells that one). The capacitor is a part of its own behind the rectifier, whose capacitance and series resistance count here.
/// <para>
/// Right where the load changes little within a half-cycle; a first charging current is not. An inrush limiter (<see cref="Limiter"/>) has its thermal state here, since the squares of the pulses heat it.
/// </para>
/// </summary>
public sealed class MeanRectifier : Device, ICurrent, IInitial, IStates
{
    /// <summary>Conductance in siemens of the blocked diodes between the line's terminals and between those of the output, well below that of real ones.</summary>
    private const double Leakage = 1e-9;

    // Temperatures in kelvin between which the limiter's curve is followed.
    private const double Coldest = 100;
    private const double Hottest = 1e4;

    // Shares of the limiter's cold resistance for which the law is tabulated as a first guess.
    private static readonly double[] Shares = [1, 0.5, 0.25, 0.12, 0.06, 0.03, 0.01];

    // By how much of the output's voltage an iterate's crest may rise above it at once, and what of that is as good as nothing.
    private const double Foot = 1e-2;
    private const double Negligible = 1e-4;

    // Move of the crest, as a part of the output's voltage, that may lead across the knee, and how close to it an iterate is held.
    private const double Leap = 0.1;
    private const double Beside = 1e-3;

    private int a, b, p, n, t;
    private int aa, ab, ap, an, ba, bb, bp, bn, pa, pb, pp, pn, na, nb, np, nn, at, bt, pt, nt, ta, tb, tp, tn, tt;
    private double ambient, esr, last;
    private ChargingLaw? law;

    /// <summary>Creates a rectifier.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="line">Line, by its RMS value.</param>
    /// <param name="neutral">Neutral.</param>
    /// <param name="positive">Positive side of the capacitor.</param>
    /// <param name="negative">Negative side.</param>
    /// <param name="capacitor">Name of the capacitor.</param>
    public MeanRectifier(string name, string line, string neutral, string positive, string negative, string capacitor)
        : base(name, line, neutral, positive, negative) => Capacitor = capacitor;

    /// <summary>Name of the capacitor behind it.</summary>
    public string Capacitor { get; set; }

    /// <summary>Frequency of the line in hertz, positive.</summary>
    public double Frequency { get; set; } = 50;

    /// <summary>Pulses of charge in a cycle: 2, or 1 for a half-wave rectifier.</summary>
    public int Pulses { get; set; } = 2;

    /// <summary>Source voltage over line voltage, positive: the ratio of a transformer, or 1.</summary>
    public double Ratio { get; set; } = 1;

    /// <summary>Threshold voltage of the diodes in the current's way together, in volts, zero or more.</summary>
    public double Threshold { get; set; } = 1.69;

    /// <summary>Resistance in ohms in the pulses' way inside the rectifier, positive: slopes of the diodes, a fixed limiter, windings seen from the output.</summary>
    public double Resistance { get; set; } = 0.17;

    /// <summary>Resistance in ohms in the pulses' way before the rectifier, which has parts of its own in the circuit, zero or more.</summary>
    public double SourceResistance { get; set; }

    /// <summary>An inrush limiter's resistance over temperature; null for none. Its ohms count as they are, so the ratio should be 1.</summary>
    public IResistanceCurve? Limiter { get; set; }

    /// <summary>Heat capacity of the limiter in J/K, positive.</summary>
    public double LimiterHeatCapacity { get; set; } = 0.5;

    /// <summary>Heat that the limiter gives off per kelvin, in W/K, positive.</summary>
    public double LimiterDissipation { get; set; } = 0.01;

    /// <summary>Temperature of the limiter in kelvin at the start, positive; null for that of the air.</summary>
    public double? LimiterStartTemperature { get; set; }

    /// <summary>Name of the unknown that holds the limiter's temperature.</summary>
    public string TemperatureUnknown => $"{Name}#temperature";

    /// <summary>States: RMS current of the real pulses from the line, RMS ripple current of the capacitor, both in amperes.</summary>
    public IReadOnlyList<string> States { get; } = ["line-current", "ripple-current"];

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => Limiter is null ? [a, b, p, n] : [a, b, p, n, t];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive), new(2, 3, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override void RenameOthers(Func<string, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(nameOf);
        Capacitor = nameOf(Capacitor);
    }

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        (a, b, p, n) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]), binder.Node(Nodes[2]), binder.Node(Nodes[3]));
        (aa, ab, ap, an) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(a, p), binder.Slot(a, n));
        (ba, bb, bp, bn) = (binder.Slot(b, a), binder.Slot(b, b), binder.Slot(b, p), binder.Slot(b, n));
        (pa, pb, pp, pn) = (binder.Slot(p, a), binder.Slot(p, b), binder.Slot(p, p), binder.Slot(p, n));
        (na, nb, np, nn) = (binder.Slot(n, a), binder.Slot(n, b), binder.Slot(n, p), binder.Slot(n, n));
        t = 0;
        if (Limiter is not null)
        {
            t = binder.Internal("temperature", UnknownKind.Temperature);
            (at, bt, pt, nt) = (binder.Slot(a, t), binder.Slot(b, t), binder.Slot(p, t), binder.Slot(n, t));
            (ta, tb, tp, tn, tt) = (binder.Slot(t, a), binder.Slot(t, b), binder.Slot(t, p), binder.Slot(t, n), binder.Slot(t, t));
        }

        var capacitor = binder.Other<Capacitor>(Capacitor);
        (ambient, esr) = (binder.Circuit.Temperature, capacitor.SeriesResistance);
        var inner = Resistance + SourceResistance + esr;
        var cold = Limiter?.Resistance(298.15) ?? 0;
        law = new ChargingLaw(Frequency, Pulses, capacitor.Capacitance, esr, Threshold, Limiter is null ? [inner] : Shares.Select(s => inner + s * cold));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        // Diodes that block leak a little: with the plug pulled, or a lead of the output open, nothing else may be left that holds the terminals.
        loads.G[aa] += Leakage;
        loads.G[ab] -= Leakage;
        loads.G[ba] -= Leakage;
        loads.G[bb] += Leakage;
        loads.G[pp] += Leakage;
        loads.G[pn] -= Leakage;
        loads.G[np] -= Leakage;
        loads.G[nn] += Leakage;
        if (Limiter is not null)
        {
            loads.G[tt] += LimiterDissipation;
            loads.C[tt] += LimiterHeatCapacity;
        }
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var x = loads.X;
        var (f, m) = (loads.F, loads.G);
        var (line, u) = (x[a] - x[b], x[p] - x[n]);
        var (ohms, slope) = LimiterAt(x);
        var volts = Math.Sqrt(2) * Ratio;
        var loop = Resistance + SourceResistance + esr + ohms;
        var v = loads.Limiting ? Limit(line, u, loop, loads) : line;
        var (i, square) = law!.At(volts * v, u, loop);

        // The line delivers what goes into the output and what diodes and resistances take. Below minus their threshold the diodes carry on what drives the output, without the line.
        var (fed, fedSquare) = u < -Threshold ? law.At(volts * v, -Threshold, loop) : (i, square);
        var (level, byLevel) = u < -Threshold ? (0, 0) : (u + Threshold, 1);
        var inside = Resistance + esr + ohms;
        var watts = level * fed.Value + inside * fedSquare.Value - esr * fed.Value * fed.Value;
        var byOutput = level - 2 * esr * fed.Value;
        var (wv, wu) = ((byOutput * fed[2] + inside * fedSquare[2]) * volts, byLevel * (fed.Value + byOutput * fed[3] + inside * fedSquare[3]));
        var wt = (byOutput * fed[4] + inside * fedSquare[4] + fedSquare.Value) * slope;
        var drawn = v > 0 ? watts / v : 0;
        var (dv, du, dt) = v > 0 ? ((wv - drawn) / v, wu / v, wt / v) : (0, 0, 0);

        // The tangent carries on from where an iterate was held back.
        var beyond = line - v;
        var delivered = i.Value + i[2] * volts * beyond;
        drawn += dv * beyond;
        f[a] += drawn;
        f[b] -= drawn;
        f[p] -= delivered;
        f[n] += delivered;
        m[aa] += dv;
        m[ab] -= dv;
        m[ap] += du;
        m[an] -= du;
        m[ba] -= dv;
        m[bb] += dv;
        m[bp] -= du;
        m[bn] += du;
        var (iv, iu, it) = (i[2] * volts, i[3], i[4] * slope);
        m[pa] -= iv;
        m[pb] += iv;
        m[pp] -= iu;
        m[pn] += iu;
        m[na] += iv;
        m[nb] -= iv;
        m[np] += iu;
        m[nn] -= iu;
        if (Limiter is null)
        {
            return;
        }

        m[at] += dt;
        m[bt] -= dt;
        m[pt] -= it;
        m[nt] += it;
        var (hv, hu) = (ohms * square[2] * volts, ohms * square[3]);
        f[t] -= ohms * square.Value + hv * beyond + LimiterDissipation * ambient;
        m[ta] -= hv;
        m[tb] += hv;
        m[tp] -= hu;
        m[tn] += hu;
        m[tt] -= (square.Value + ohms * square[4]) * slope;
    }

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial)
    {
        ArgumentNullException.ThrowIfNull(initial);
        if (Limiter is not null)
        {
            initial.Value(t, LimiterStartTemperature ?? ambient);
        }
    }

    /// <summary>Mean current in amperes out of the positive terminal.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x) => Law(x).Current.Value;

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x)
    {
        var (i, square) = Law(x);
        return state == 0 ? Ratio * Math.Sqrt(square.Value) : Math.Sqrt(Math.Max(square.Value - i.Value * i.Value, 0));
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(
                Name,
                ("frequency", Frequency),
                ("ratio", Ratio),
                ("resistance", Resistance),
                ("limiter's heat capacity in J/K", LimiterHeatCapacity),
                ("limiter's dissipation in W/K", LimiterDissipation),
                ("limiter's start temperature in kelvin", LimiterStartTemperature ?? 1))
            .Concat(Ranges.NotNegative(Name, ("threshold voltage", Threshold), ("source resistance", SourceResistance)))
            .Concat(Limiter?.Problems().Select(p => $"{Name}: {p}") ?? []))
        {
            yield return problem;
        }

        if (Pulses is not (1 or 2))
        {
            yield return $"{Name}: {Pulses} pulses in a cycle; a rectifier has 1 or 2.";
        }
    }

    /// <inheritdoc/>
    protected override void Detach() => law = null;

    /// <summary>Current and mean square of the pulses.</summary>
    private (Slopes Current, Slopes Square) Law(ReadOnlySpan<double> x) =>
        law!.At(Math.Sqrt(2) * Ratio * (x[a] - x[b]), x[p] - x[n], Resistance + SourceResistance + esr + LimiterAt(x).Ohms);

    /// <summary>Resistance of the limiter in ohms and its slope in ohms per kelvin.</summary>
    private (double Ohms, double Slope) LimiterAt(ReadOnlySpan<double> x)
    {
        if (Limiter is not { } curve)
        {
            return (0, 0);
        }

        var kelvin = Math.Clamp(x[t], Coldest, Hottest);
        var ohms = curve.Resistance(kelvin);
        return (ohms, kelvin == x[t] ? ohms * curve.RelativeSlope(kelvin) : 0);
    }

    /// <summary>
    /// A line that is unplugged hangs on next to nothing, so an iterate that blocks sends it up to wherever its leak leads, and one that conducts far too much sends it back below. An iterate
    /// comes out of blocking by a small part of the output at once, and goes back to it in tenths of what is left. Where the diodes begin to conduct all the time the law has a knee, some hundred times steeper
    /// beyond, and flatter again far beyond: tangents from both sides lead across it to and fro. An iterate that leaps across is held just beyond, where the tangent is true on either side.
    /// </summary>
    private double Limit(double line, double u, double loop, Loads loads)
    {
        var volts = Math.Sqrt(2) * Ratio;
        var level = u + Threshold;
        var excess = volts * line - level;
        var held = excess;
        if (!loads.Fresh && level > 0)
        {
            var most = Foot * level;
            held = last <= 0 ? Math.Min(excess, most) : last > Negligible * level ? Math.Max(excess, last / 10) : excess;
            if (last > 0 && Math.Abs(held - last) > Leap * level)
            {
                var knee = level * (1 / law!.Widest(loop) - 1);
                held = (last - knee) * (held - knee) < 0 && Math.Abs(last - knee) > 2 * Beside * knee ? (1 + Beside) * knee : held;
            }
        }

        last = held;
        if (held == excess)
        {
            return line;
        }

        loads.Limited = true;
        return (level + held) / volts;
    }
}
