using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Solenoid with a plunger, for alternating or direct current; terminals: first, second. The flux linkage <c>L</c> is the state, so it decides the force.
/// <code>
///  v = (1 - s) (R i + dL/dt)                                   winding, of which a share s of the turns is shorted
///  j = i - v / ((1 - s) R)                                     current that runs round in these, from 0 = R j + dL/dt
///  (1 - s) i + s j = g(x) L + p(x) (a L - Lr) / (1 - a)        ampere-turns, as a current of the whole winding
///  tau p(1) dLr/dt = p(x) (a L - Lr)                           flux Lr of the pole part that the shading ring embraces, a share a
///  F = k/2 ((L - Lr)^2 / (1 - a) + Lr^2 / a),  k = (1/L0 - 1/L1) / stroke
///  m stroke d2x/dt2 = F - springs - pressure - damping,  x = 0 out, 1 pulled in
///  C dT/dt = (1 - s) R i^2 + s R j^2 - (T - Tambient) / Rth,   R = R20 (1 + 0.00393/K (T - 20 degC))
/// </code>
/// The inverse inductance goes linearly with the gap: <c>g(x) = 1/L1 + (1/L0 - 1/L1) (1 - x)</c>, and so does the pole's part of it, <c>p(x)</c>, which a remaining gap keeps at a share of
/// <c>1/L1</c> when pulled in. Force from the field energy at constant flux: Fitzgerald, Kingsley and Umans, Electric Machinery, chapter 3; shading ring as a shorted turn round a part of
/// the pole: Roters, Electromagnetic Devices, chapter on alternating-current magnets; both from memory. With no ring, or an open gap where it hardly acts, the force goes through zero twice a
/// cycle. Left out: saturation, eddy currents, the ring's heat. End stops are stiff springs with damping.
/// </summary>
public sealed class Solenoid : Device, ICurrent, IBranch, IInitial, IStates
{
    private const double Reference = 293.15;

    // The stop gives way by this share of the stroke under the closing force of one rated flux, and where its quadratic beginning ends.
    private const double StopGive = 2e-3;

    private int p, n, i, flux, ring, position, u, t;
    private int pi, ni, ip, inn, ii, iFlux, iT, fi, fp, fn, fT, fFlux, fRing, fx, rFlux, rRing, rx;
    private int xx, xu, uu, ux, uFlux, uRing, tt, ti, tp, tn;
    private double ambient;

    /// <summary>Creates a solenoid.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">Node where a positive current enters.</param>
    /// <param name="second">The other node.</param>
    /// <param name="resistanceAt20">Resistance of the winding in ohms at 20 degC, positive.</param>
    /// <param name="releasedInductance">Inductance in henries with the plunger out, positive.</param>
    /// <param name="pulledInInductance">Inductance in henries with the plunger pulled in, above the released one.</param>
    public Solenoid(string name, string first, string second, double resistanceAt20, double releasedInductance, double pulledInInductance)
        : base(name, first, second)
    {
        ResistanceAt20 = resistanceAt20;
        ReleasedInductance = releasedInductance;
        PulledInInductance = pulledInInductance;
    }

    /// <summary>Resistance of the winding in ohms at 20 degC, positive.</summary>
    public double ResistanceAt20 { get; set; }

    /// <summary>Inductance in henries with the plunger out, positive.</summary>
    public double ReleasedInductance { get; set; }

    /// <summary>Inductance in henries with the plunger pulled in, above the released one.</summary>
    public double PulledInInductance { get; set; }

    /// <summary>Stroke of the plunger in metres, positive.</summary>
    public double Stroke { get; set; } = 4e-3;

    /// <summary>Mass of what moves in kilograms, positive.</summary>
    public double Mass { get; set; } = 0.01;

    /// <summary>Force in newtons with which the spring holds the plunger out, zero or more.</summary>
    public double SpringForce { get; set; } = 1;

    /// <summary>Force in newtons that the spring gains over the stroke, zero or more.</summary>
    public double SpringGain { get; set; } = 0.5;

    /// <summary>Force in newtons that a medium's pressure adds on the plunger that is out, zero or more; gone once it has moved by a tenth of the stroke.</summary>
    public double PressureForce { get; set; }

    /// <summary>Damping in newton seconds per metre, zero or more.</summary>
    public double Damping { get; set; } = 0.5;

    /// <summary>Share of the pole that the shading ring embraces, above 0 and below 1.</summary>
    public double RingShare { get; set; } = 0.5;

    /// <summary>Time constant in seconds of the ring with the plunger pulled in, positive; next to nothing for a broken ring.</summary>
    public double RingTime { get; set; } = 3e-3;

    /// <summary>Share of the closed core's inverse inductance that the gap left at the pole makes, above 0 and below 1.</summary>
    public double RemainingGap { get; set; } = 0.3;

    /// <summary>Share of the turns that are shorted, 0 and more, below 1.</summary>
    public double ShortedShare { get; set; }

    /// <summary>Position at which the plunger is stuck, 0 out to 1 pulled in; null for one that moves.</summary>
    public double? StuckAt { get; set; }

    /// <summary>Heat capacity of the winding in joules per kelvin, positive.</summary>
    public double HeatCapacity { get; set; } = 60;

    /// <summary>Thermal resistance from the winding to what surrounds it in kelvin per watt, positive.</summary>
    public double ThermalResistance { get; set; } = 10;

    /// <summary>Temperature of what surrounds it in kelvin, positive; null for the circuit's.</summary>
    public double? Ambient { get; set; }

    /// <summary>Temperature of the winding in kelvin at the start of a run from initial conditions, positive; null for that of what surrounds it.</summary>
    public double? StartTemperature { get; set; }

    /// <inheritdoc/>
    public IReadOnlyList<string> States { get; } = ["position", "force"];

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [p, n, i, flux, ring, position, u, t];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    private double Around => Ambient ?? ambient;

    // The flux is counted in parts of one whose open gap pulls with the spring's whole force twice over: what a usable supply gives, so that the error control's floor fits.
    private double FluxUnit => Math.Sqrt(4 * (SpringForce + SpringGain + PressureForce + Mass) / Pull);

    /// <summary>Force per square of flux linkage, twice: in newtons per (volt second) squared.</summary>
    private double Pull => (1 / ReleasedInductance - 1 / PulledInInductance) / Stroke;

    private double PolePulledIn => RemainingGap / PulledInInductance;

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        (p, n, i) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]), binder.Branch());
        flux = binder.Internal("flux", UnknownKind.Other);
        ring = binder.Internal("ring", UnknownKind.Other);
        position = binder.Internal("position", UnknownKind.Other);
        u = binder.Internal("speed", UnknownKind.Other);
        t = binder.Internal("temperature", UnknownKind.Temperature);
        (pi, ni, ip, inn) = (binder.Slot(p, i), binder.Slot(n, i), binder.Slot(i, p), binder.Slot(i, n));
        (ii, iFlux, iT) = (binder.Slot(i, i), binder.Slot(i, flux), binder.Slot(i, t));
        (fi, fp, fn, fT) = (binder.Slot(flux, i), binder.Slot(flux, p), binder.Slot(flux, n), binder.Slot(flux, t));
        (fFlux, fRing, fx) = (binder.Slot(flux, flux), binder.Slot(flux, ring), binder.Slot(flux, position));
        (rFlux, rRing, rx) = (binder.Slot(ring, flux), binder.Slot(ring, ring), binder.Slot(ring, position));
        (xx, xu) = (binder.Slot(position, position), binder.Slot(position, u));
        (uu, ux, uFlux, uRing) = (binder.Slot(u, u), binder.Slot(u, position), binder.Slot(u, flux), binder.Slot(u, ring));
        (tt, ti, tp, tn) = (binder.Slot(t, t), binder.Slot(t, i), binder.Slot(t, p), binder.Slot(t, n));
        ambient = binder.Circuit.Temperature;
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var (g, c) = (loads.G, loads.C);
        var unit = FluxUnit;
        g[pi] += 1;
        g[ni] -= 1;
        g[ip] += 1;
        g[inn] -= 1;
        c[iFlux] -= (1 - ShortedShare) * unit;

        // Currents in parts of the one that the unit of flux takes in the open solenoid. The law is what the flux takes less what the winding gives: with a positive
        // derivative by the flux, so that the search for an operating point, which leads every unknown back to where it was, leads back and not away.
        g[fi] -= ReleasedInductance / unit;
        c[rRing] += RingTime * PolePulledIn * ReleasedInductance;
        if (StuckAt is null)
        {
            c[xx] += 1;
            g[xu] -= SpeedUnit;
            c[uu] += 1;
        }
        else
        {
            g[xx] += 1;
            g[uu] += 1;
        }

        c[tt] += HeatCapacity;
        g[tt] += 1 / ThermalResistance;
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var (f, g, at) = (loads.F, loads.G, loads.X);
        var (l, lr, here) = (at[flux], at[ring], at[position]);

        var ohms = Resistance(at[t], out var ohmsSlope);
        var left = 1 - ShortedShare;
        f[i] -= left * ohms * at[i];
        g[ii] -= left * ohms;
        g[iT] -= left * ohmsSlope * at[i];

        // The shorted turns' share of the ampere-turns: what is left of the terminals' voltage after the winding's drop drives them.
        var perVolt = 1 / (left * ohms);
        var turned = (at[p] - at[n]) * perVolt;
        var lost = ShortedShare * ReleasedInductance / FluxUnit;
        f[flux] += lost * turned;
        g[fp] += lost * perVolt;
        g[fn] -= lost * perVolt;
        g[fT] -= lost * turned * ohmsSlope / ohms;

        // Ampere-turns and ring, with inverse inductances in parts of the open one.
        var slope = Slope(here, out var whole, out var pole);
        var share = RingShare;
        var apart = share * l - lr;
        f[flux] += whole * l + pole * apart / (1 - share);
        g[fFlux] += whole + pole * share / (1 - share);
        g[fRing] -= pole / (1 - share);
        g[fx] += slope * (l + apart / (1 - share));
        f[ring] -= pole * apart;
        g[rFlux] -= pole * share;
        g[rRing] += pole;
        g[rx] -= slope * apart;

        if (StuckAt is { } stuck)
        {
            f[position] -= stuck;
        }
        else
        {
            EvaluateMotion(loads, l, lr, here);
        }

        var (mine, round) = (at[i], at[i] - turned);
        var squares = left * mine * mine + ShortedShare * round * round;
        f[t] -= ohms * squares + Around / ThermalResistance;
        g[ti] -= 2 * ohms * (left * mine + ShortedShare * round);
        g[tp] += 2 * ohms * ShortedShare * round * perVolt;
        g[tn] -= 2 * ohms * ShortedShare * round * perVolt;
        g[tt] -= ohmsSlope * (squares + 2 * ShortedShare * round * turned);
    }

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial)
    {
        ArgumentNullException.ThrowIfNull(initial);
        foreach (var rest in new[] { i, flux, ring, u })
        {
            initial.Value(rest, 0);
        }

        initial.Value(position, StuckAt ?? 0);
        initial.Value(t, StartTemperature ?? Around);
    }

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => state == 0
        ? Math.Clamp(x[position], 0, 1)
        : Force(x[flux], x[ring], out _, out _);

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => x[i];

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(
                Name,
                ("resistance at 20 degC", ResistanceAt20),
                ("released inductance", ReleasedInductance),
                ("stroke", Stroke),
                ("mass", Mass),
                ("share of the shading ring", RingShare),
                ("time constant of the shading ring", RingTime),
                ("remaining gap", RemainingGap),
                ("heat capacity in J/K", HeatCapacity),
                ("thermal resistance in K/W", ThermalResistance),
                ("ambient temperature in kelvin", Ambient ?? 1),
                ("start temperature in kelvin", StartTemperature ?? 1))
            .Concat(Ranges.NotNegative(Name, ("spring force", SpringForce), ("spring gain", SpringGain), ("pressure force", PressureForce), ("damping", Damping)))
            .Concat(Ranges.Fractions(Name, ("share of the shading ring", RingShare), ("remaining gap", RemainingGap), ("share of shorted turns", ShortedShare))))
        {
            yield return problem;
        }

        if (!(PulledInInductance > ReleasedInductance))
        {
            yield return $"{Name}: pulled-in inductance {PulledInInductance} H; it must be above the released one of {ReleasedInductance} H.";
        }

        if (StuckAt is { } stuck && !(stuck is >= 0 and <= 1))
        {
            yield return $"{Name}: stuck at {stuck} of the stroke; it must lie within 0 and 1.";
        }
    }

    // Speeds in parts of one that crosses the stroke in ten milliseconds.
    private const double SpeedUnit = 100;

    private void EvaluateMotion(Loads loads, double l, double lr, double here)
    {
        var (f, g, at) = (loads.F, loads.G, loads.X);

        // Force over the inertia that a unit of speed per second takes.
        var inertia = Mass * Stroke * SpeedUnit;
        var force = Force(l, lr, out var byFlux, out var byRing);
        var against = Against(here, at[u], out var byPlace, out var bySpeed);
        f[u] -= (force - against) / inertia;
        g[uFlux] -= byFlux / inertia;
        g[uRing] -= byRing / inertia;
        g[ux] += byPlace / inertia;
        g[uu] += bySpeed / inertia;
    }

    /// <summary>Closing force in newtons at fluxes in their unit, with its slopes.</summary>
    private double Force(double l, double lr, out double byFlux, out double byRing)
    {
        var half = 0.5 * Pull * FluxUnit * FluxUnit;
        var (bare, shaded) = ((l - lr) / (1 - RingShare), lr / RingShare);
        byFlux = 2 * half * bare;
        byRing = 2 * half * (shaded - bare);
        return half * ((l - lr) * bare + lr * shaded);
    }

    /// <summary>What holds against the closing force in newtons: spring, pressure, damping, stops.</summary>
    private double Against(double here, double speed, out double byPlace, out double bySpeed)
    {
        var viscous = Damping * Stroke * SpeedUnit;
        var sum = SpringForce + SpringGain * here + viscous * speed;
        (byPlace, bySpeed) = (SpringGain, viscous);

        // The pressure lets go over a tenth of the stroke, on a cubic without corners.
        if (here < 0.1)
        {
            var s = Math.Clamp(here / 0.1, 0, 1);
            sum += PressureForce * (1 - s * s * (3 - 2 * s));
            byPlace -= PressureForce * 6 * s * (1 - s) / 0.1;
        }

        sum += Stop(here - 1, speed, out var placeIn, out var speedIn);
        sum -= Stop(-here, -speed, out var placeOut, out var speedOut);
        byPlace += placeIn + placeOut;
        bySpeed += speedIn + speedOut;
        return sum;
    }

    /// <summary>A stop's force at a depth and a speed into it: a spring with damping, both growing from nothing without a corner.</summary>
    private double Stop(double depth, double speed, out double byDepth, out double bySpeed)
    {
        if (depth <= 0)
        {
            byDepth = bySpeed = 0;
            return 0;
        }

        // The scale of forces is the springs' and the pressure's; damping is near the critical one, so that little bounces.
        var newtons = 2 * (SpringForce + SpringGain + PressureForce + Mass);
        var stiffness = newtons / StopGive;
        var viscous = 1.4 * Math.Sqrt(stiffness * Mass * Stroke) * SpeedUnit;
        var s = Math.Min(1, depth / StopGive);
        var soft = depth < StopGive ? 0.5 * depth * s : depth - 0.5 * StopGive;
        byDepth = stiffness * s + (depth < StopGive ? viscous * speed / StopGive : 0);
        bySpeed = viscous * s;
        return stiffness * soft + viscous * s * speed;
    }

    /// <summary>Inverse inductances of the whole and of the pole's gap, in parts of the open solenoid's, and their common slope over the position.</summary>
    private double Slope(double here, out double whole, out double pole)
    {
        var seated = ReleasedInductance / PulledInInductance;
        var gap = 1 - seated;

        // Held below the pole's own rest: a stop gives way a little, and an iterate may be anywhere.
        var place = Math.Clamp(here, -0.5, 1.02);
        whole = seated + gap * (1 - place);
        pole = RemainingGap * seated + gap * (1 - place);
        var least = 0.1 * RemainingGap * seated;
        if (pole < least)
        {
            (whole, pole) = (whole - pole + least, least);
            return 0;
        }

        return here == place ? -gap : 0;
    }

    private double Resistance(double kelvin, out double slope)
    {
        // Held beyond what copper survives, so that no iterate turns the resistance negative.
        var held = Math.Clamp(kelvin, 73, 1300);
        slope = held == kelvin ? ResistanceAt20 * RelayCoil.CopperCoefficient : 0;
        return ResistanceAt20 * (1 + RelayCoil.CopperCoefficient * (held - Reference));
    }
}
