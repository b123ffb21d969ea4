using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Single-phase induction motor with a run and a start winding at right angles and a cage; terminals: both ends of the run winding, both of the start winding.
/// <code>
///  run     v = Rq iq + d/dt (Lq iq + Lm (iq + jq))
///  start   v = Rd id + d/dt (Ld id + n Lm (n id + jd))
///  cage    0 = Rr jq + d/dt Fq - p w Fd,   Fq = Lr jq + Lm (iq + jq)
///          0 = Rr jd + d/dt Fd + p w Fq,   Fd = Lr jd + Lm (n id + jd)
///  torque  T = p (Fq jd - Fd jq),  J dw/dt = T - load(w) - drag
/// </code>
/// An unsymmetrical two-phase machine in the stator's frame (Krause, Wasynczuk and Sudhoff, Analysis of Electric Machinery and Drive Systems, 2nd ed., chapter 10, from memory), with the
/// cage referred to the run winding in both axes; n is the start winding's turns over the run winding's. Positive speed is that of a start current that leads the run current.
/// Windings have copper's temperature coefficient and a heat balance each, <c>C dT/dt = R i^2 - (T - Tambient) / Rth</c>. Left out: saturation, core loss, slot
/// harmonics, the cage's heat and skin effect. A capacitor or a start switch is a part of its own.
/// </summary>
public sealed class SinglePhaseMotor : Device, ICurrent, IBranch, IInitial, IStates
{
    private const double Reference = 293.15;

    // Speed in radians per second within which dry friction turns its sign: five revolutions per minute, where nobody calls a motor running.
    private const double Creep = 0.5;

    private int[] node = new int[4];
    private Winding run = new();
    private Winding start = new();
    private int jq, jd, w;
    private int qq, qd, qw, dd, dq, dw, qi, qs, di, ds, ww, wq, wd, wi, ws;
    private double ambient;

    /// <summary>Creates a motor.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="run">First end of the run winding.</param>
    /// <param name="runEnd">Its other end.</param>
    /// <param name="start">First end of the start winding.</param>
    /// <param name="startEnd">Its other end.</param>
    public SinglePhaseMotor(string name, string run, string runEnd, string start, string startEnd)
        : base(name, run, runEnd, start, startEnd)
    {
    }

    /// <summary>Resistance of the run winding in ohms at 20 degC, positive.</summary>
    public double RunResistance { get; set; } = 2;

    /// <summary>Leakage inductance of the run winding in henries, positive.</summary>
    public double RunLeakage { get; set; } = 7.4e-3;

    /// <summary>Resistance of the start winding in ohms at 20 degC, positive.</summary>
    public double StartResistance { get; set; } = 7;

    /// <summary>Leakage inductance of the start winding in henries, positive.</summary>
    public double StartLeakage { get; set; } = 8.5e-3;

    /// <summary>Turns of the start winding over those of the run winding, positive; negative turns the start winding round.</summary>
    public double TurnsRatio { get; set; } = 1.2;

    /// <summary>Resistance of the cage in ohms, referred to the run winding, positive.</summary>
    public double CageResistance { get; set; } = 4;

    /// <summary>Leakage inductance of the cage in henries, referred to the run winding, positive.</summary>
    public double CageLeakage { get; set; } = 5.6e-3;

    /// <summary>Magnetising inductance in henries, seen from the run winding, positive.</summary>
    public double MagnetisingInductance { get; set; } = 0.177;

    /// <summary>Pairs of poles, 1 or more.</summary>
    public int PolePairs { get; set; } = 2;

    /// <summary>Moment of inertia of rotor and load in kilogram square metres, positive.</summary>
    public double Inertia { get; set; } = 15e-3;

    /// <summary>Torque in newton metres that the load takes at any speed, against the direction of rotation; zero or more.</summary>
    public double ConstantTorque { get; set; }

    /// <summary>Torque in newton metres per (radian per second) squared that a fan or pump takes, zero or more.</summary>
    public double FanTorque { get; set; }

    /// <summary>Viscous drag in newton metre seconds, zero or more.</summary>
    public double Drag { get; set; }

    /// <summary>True when the rotor cannot turn.</summary>
    public bool IsLocked { get; set; }

    /// <summary>Speed in radians per second at the start of a run from initial conditions.</summary>
    public double StartSpeed { get; set; }

    /// <summary>Heat capacity of the run winding in joules per kelvin, positive.</summary>
    public double RunHeatCapacity { get; set; } = 200;

    /// <summary>Heat capacity of the start winding in joules per kelvin, positive.</summary>
    public double StartHeatCapacity { get; set; } = 80;

    /// <summary>Thermal resistance from the run winding to what surrounds the motor in kelvin per watt, positive.</summary>
    public double RunThermalResistance { get; set; } = 1.5;

    /// <summary>Thermal resistance from the start winding to what surrounds the motor in kelvin per watt, positive.</summary>
    public double StartThermalResistance { get; set; } = 2.5;

    /// <summary>Temperature of what surrounds the motor in kelvin, positive; null for the circuit's.</summary>
    public double? Ambient { get; set; }

    /// <summary>Temperature of the windings in kelvin at the start of a run from initial conditions, positive; null for that of what surrounds the motor.</summary>
    public double? StartTemperature { get; set; }

    /// <inheritdoc/>
    public IReadOnlyList<string> States { get; } = ["torque", "direction", "start-current"];

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [run.Current, start.Current, jq, jd, w, run.Temperature, start.Temperature];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive), new(2, 3, LinkKind.Conductive)];

    private double Around => Ambient ?? ambient;

    /// <summary>Current of the start winding in amperes, into its first end.</summary>
    /// <param name="x">The unknowns.</param>
    public double StartCurrent(ReadOnlySpan<double> x) => x[start.Current];

    /// <summary>Speed in radians per second.</summary>
    /// <param name="x">The unknowns.</param>
    public double Speed(ReadOnlySpan<double> x) => x[w];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        for (var k = 0; k < node.Length; k++)
        {
            node[k] = binder.Node(Nodes[k]);
        }

        run.Current = binder.Branch();
        start.Current = binder.Internal("start-current", UnknownKind.Current);
        jq = binder.Internal("cage-run-axis", UnknownKind.Current);
        jd = binder.Internal("cage-start-axis", UnknownKind.Current);
        w = binder.Internal("speed", UnknownKind.Other);
        run.Temperature = binder.Internal("run-temperature", UnknownKind.Temperature);
        start.Temperature = binder.Internal("start-temperature", UnknownKind.Temperature);
        run.Bind(binder, node[0], node[1], jq);
        start.Bind(binder, node[2], node[3], jd);
        (qq, qi, qd, qs, qw) = (binder.Slot(jq, jq), binder.Slot(jq, run.Current), binder.Slot(jq, jd), binder.Slot(jq, start.Current), binder.Slot(jq, w));
        (dd, ds, dq, di, dw) = (binder.Slot(jd, jd), binder.Slot(jd, start.Current), binder.Slot(jd, jq), binder.Slot(jd, run.Current), binder.Slot(jd, w));
        (ww, wq, wd, wi, ws) = (binder.Slot(w, w), binder.Slot(w, jq), binder.Slot(w, jd), binder.Slot(w, run.Current), binder.Slot(w, start.Current));
        ambient = binder.Circuit.Temperature;
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var (n, m) = (TurnsRatio, MagnetisingInductance);
        run.Stamp(loads, RunLeakage + m, m, RunHeatCapacity, RunThermalResistance);
        start.Stamp(loads, StartLeakage + n * n * m, n * m, StartHeatCapacity, StartThermalResistance);

        // The cage's laws with the sign of a branch: what drives it less what it drops.
        loads.G[qq] -= CageResistance;
        loads.G[dd] -= CageResistance;
        loads.C[qq] -= CageLeakage + m;
        loads.C[qi] -= m;
        loads.C[dd] -= CageLeakage + m;
        loads.C[ds] -= n * m;
        if (IsLocked)
        {
            loads.G[ww] += 1;
        }
        else
        {
            loads.C[ww] += 1;
            loads.G[ww] += Drag / Inertia;
        }
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var x = loads.X;
        run.Evaluate(loads, RunResistance, Around / RunThermalResistance);
        start.Evaluate(loads, StartResistance, Around / StartThermalResistance);
        var (n, m, r) = (TurnsRatio, MagnetisingInductance, CageLeakage + MagnetisingInductance);
        var fq = m * x[run.Current] + r * x[jq];
        var fd = n * m * x[start.Current] + r * x[jd];
        var turn = PolePairs * x[w];

        loads.F[jq] += turn * fd;
        loads.G[qd] += turn * r;
        loads.G[qs] += turn * n * m;
        loads.G[qw] += PolePairs * fd;
        loads.F[jd] -= turn * fq;
        loads.G[dq] -= turn * r;
        loads.G[di] -= turn * m;
        loads.G[dw] -= PolePairs * fq;
        if (IsLocked)
        {
            return;
        }

        // T = p (Fq jd - Fd jq) = p m (iq jd - n id jq): the leakage's share cancels.
        var (share, pull) = (PolePairs * m / Inertia, n * PolePairs * m / Inertia);
        loads.F[w] -= share * x[run.Current] * x[jd] - pull * x[start.Current] * x[jq] - Load(x[w], out var slope) / Inertia;
        loads.G[wi] -= share * x[jd];
        loads.G[wd] -= share * x[run.Current];
        loads.G[ws] += pull * x[jq];
        loads.G[wq] += pull * x[start.Current];
        loads.G[ww] += slope / Inertia;
    }

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial)
    {
        ArgumentNullException.ThrowIfNull(initial);
        foreach (var rest in new[] { run.Current, start.Current, jq, jd })
        {
            initial.Value(rest, 0);
        }

        initial.Value(w, IsLocked ? 0 : StartSpeed);
        initial.Value(run.Temperature, StartTemperature ?? Around);
        initial.Value(start.Temperature, StartTemperature ?? Around);
    }

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => state switch
    {
        0 => PolePairs * MagnetisingInductance * (x[run.Current] * x[jd] - TurnsRatio * x[start.Current] * x[jq]),
        1 => Math.Abs(x[w]) < 4 * Creep ? 0 : Math.Sign(x[w]),
        _ => x[start.Current],
    };

    /// <summary>Current of the run winding in amperes, into its first end.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x) => x[run.Current];

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(
                Name,
                ("resistance of the run winding", RunResistance),
                ("leakage inductance of the run winding", RunLeakage),
                ("resistance of the start winding", StartResistance),
                ("leakage inductance of the start winding", StartLeakage),
                ("resistance of the cage", CageResistance),
                ("leakage inductance of the cage", CageLeakage),
                ("magnetising inductance", MagnetisingInductance),
                ("pairs of poles", PolePairs),
                ("moment of inertia", Inertia),
                ("heat capacity of the run winding", RunHeatCapacity),
                ("heat capacity of the start winding", StartHeatCapacity),
                ("thermal resistance of the run winding", RunThermalResistance),
                ("thermal resistance of the start winding", StartThermalResistance),
                ("ambient temperature in kelvin", Ambient ?? 1),
                ("start temperature in kelvin", StartTemperature ?? 1))
            .Concat(Ranges.NotNegative(Name, ("constant torque", ConstantTorque), ("fan torque", FanTorque), ("drag", Drag))))
        {
            yield return problem;
        }

        if (!(TurnsRatio != 0 && double.IsFinite(TurnsRatio)))
        {
            yield return $"{Name}: turns ratio {TurnsRatio}; it must be finite and not zero.";
        }
    }

    /// <inheritdoc/>
    protected override void Detach() => (node, run, start) = (new int[4], new Winding(), new Winding());

    /// <summary>Torque in newton metres that load and dry friction take, viscous drag aside.</summary>
    private double Load(double speed, out double slope)
    {
        var root = Math.Sqrt(speed * speed + Creep * Creep);
        slope = ConstantTorque * Creep * Creep / (root * root * root) + 2 * FanTorque * Math.Abs(speed);
        return ConstantTorque * speed / root + FanTorque * speed * Math.Abs(speed);
    }

    /// <summary>Indices of a winding and what it stamps by itself.</summary>
    private sealed class Winding
    {
        private int pi, ni, ip, inn, ii, ij, it, tt, ti;

        public int Current { get; set; }

        public int Temperature { get; set; }

        public void Bind(Binder binder, int plus, int minus, int cage)
        {
            var (i, t) = (Current, Temperature);
            (pi, ni, ip, inn) = (binder.Slot(plus, i), binder.Slot(minus, i), binder.Slot(i, plus), binder.Slot(i, minus));
            (ii, ij, it) = (binder.Slot(i, i), binder.Slot(i, cage), binder.Slot(i, t));
            (tt, ti) = (binder.Slot(t, t), binder.Slot(t, i));
        }

        public void Stamp(Loads loads, double own, double mutual, double capacity, double thermal)
        {
            loads.G[pi] += 1;
            loads.G[ni] -= 1;
            loads.G[ip] += 1;
            loads.G[inn] -= 1;
            loads.C[ii] -= own;
            loads.C[ij] -= mutual;
            loads.C[tt] += capacity;
            loads.G[tt] += 1 / thermal;
        }

        public void Evaluate(Loads loads, double resistanceAt20, double fromAround)
        {
            var (i, kelvin) = (loads.X[Current], loads.X[Temperature]);

            // Held beyond what copper survives, so that no iterate turns the resistance negative.
            var held = Math.Clamp(kelvin, 73, 1300);
            var ohms = resistanceAt20 * (1 + RelayCoil.CopperCoefficient * (held - Reference));
            var slope = held == kelvin ? resistanceAt20 * RelayCoil.CopperCoefficient : 0;
            loads.F[Current] -= ohms * i;
            loads.G[ii] -= ohms;
            loads.G[it] -= slope * i;
            loads.F[Temperature] -= ohms * i * i + fromAround;
            loads.G[ti] -= 2 * ohms * i;
            loads.G[tt] -= slope * i * i;
        }
    }
}
