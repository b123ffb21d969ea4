using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Direct-current motor with permanent magnets; terminals: positive, negative. A positive current turns it forwards.
/// <code>
///   L di/dt   = v - R i - K w
///   J dw/dt   = K i - b w - c w |w| - friction - stop
///   dtheta/dt = w
/// </code>
/// (Franklin, Powell and Emami-Naeini, Feedback Control of Dynamic Systems, chapter 2, motor equations; from memory.) One constant K stands
/// for the back-EMF in volts per radian per second and for the torque in newton metres per ampere, as energy demands.
/// <para>
/// Friction is Coulomb's with a breakaway torque (Karnopp 1985, J. Dyn. Sys. Meas. Control 107:100, from memory): moving forwards, moving backwards
/// and at rest are discrete states. A speed that passes zero ends in rest unless what drives the rotor exceeds the breakaway torque; rest ends when it does.
/// </para>
/// <para>
/// Stops are springs whose damping grows with how far they are wound up, <c>k x (1 + d w)</c> (Hunt and Crossley 1975, J. Appl. Mech. 42:440, from memory):
/// so the torque neither jumps where the contact is made, a discrete state, nor pulls where it ends.
/// </para>
/// In an operating point a rotor with friction that has a stop ahead of it has long come to rest there, and one without a stop turns at its final speed.
/// </summary>
public sealed partial class DcMotor : Device, IDiscrete, ICurrent, IBranch, IInitial, IStates
{
    private const double ReferenceTemperature = 293.15;

    // What is left of a speed when the rotor comes to rest is rounding; it fades with this time constant in seconds.
    private const double RestTime = 1e-3;

    private int p, n, i, w, a, t;
    private int it, ti, tt;
    private int pi, ni, ip, inn, ii, iw, wi, ww, wa, aw, aa, ai;
    private double ambient;
    private bool isStatic;
    private Situation now;

    /// <summary>Creates a motor.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="positive">Positive node, where a current that turns it forwards enters.</param>
    /// <param name="negative">Negative node.</param>
    /// <param name="resistanceAt20">Resistance of winding and brushes in ohms at 20 degC, positive.</param>
    /// <param name="inductance">Inductance of the winding in henries, positive.</param>
    /// <param name="constant">Motor constant in volt seconds (newton metres per ampere), positive.</param>
    /// <param name="inertia">Moment of inertia of all that turns in kilogram square metres, at the rotor's speed, positive.</param>
    public DcMotor(string name, string positive, string negative, double resistanceAt20, double inductance, double constant, double inertia)
        : base(name, positive, negative) =>
        (ResistanceAt20, Inductance, Constant, Inertia) = (resistanceAt20, inductance, constant, inertia);

    /// <summary>Resistance of winding and brushes in ohms at 20 degC, positive.</summary>
    public double ResistanceAt20 { get; set; }

    /// <summary>Inductance of the winding in henries, positive.</summary>
    public double Inductance { get; set; }

    /// <summary>Motor constant in volt seconds (newton metres per ampere), positive.</summary>
    public double Constant { get; set; }

    /// <summary>Moment of inertia in kilogram square metres, at the rotor's speed, positive.</summary>
    public double Inertia { get; set; }

    /// <summary>Viscous drag in newton metre seconds, zero or more.</summary>
    public double Drag { get; set; }

    /// <summary>Coulomb friction in newton metres while it turns, zero or more.</summary>
    public double Friction { get; set; }

    /// <summary>Torque in newton metres that a rotor at rest has to be driven by to move, not below <see cref="Friction"/>; null for the same.</summary>
    public double? Breakaway { get; set; }

    /// <summary>Torque of a fan's blades in newton metres at one radian per second, growing with the square of the speed; zero or more.</summary>
    public double FanTorque { get; set; }

    /// <summary>Position in radians of the stop behind; negative infinity for none.</summary>
    public double LowStop { get; set; } = double.NegativeInfinity;

    /// <summary>Position in radians of the stop ahead, above <see cref="LowStop"/>; infinity for none.</summary>
    public double HighStop { get; set; } = double.PositiveInfinity;

    /// <summary>Stiffness of the stops (gears that wind up included) in newton metres per radian, positive.</summary>
    public double StopStiffness { get; set; } = 1e-3;

    /// <summary>Damping of the stops: share of the spring's torque that a radian per second adds, in seconds per radian, zero or more. A rotor that arrives at a
    /// speed v comes back at about <c>1 - 2/3 d v</c> of it, as long as that is not much below one (Hunt and Crossley).</summary>
    public double StopDamping { get; set; } = 1e-3;

    /// <summary>Turns of the rotor for one of the gear's output, positive.</summary>
    public double Gear { get; set; } = 1;

    /// <summary>Temperature of the winding in kelvin, positive; null for the circuit's.</summary>
    public double? Temperature { get; set; }

    /// <summary>Heat capacity of the winding in J/K, positive; null for a winding that keeps its temperature. With it, <c>C dT/dt = R(T) i^2 - (T - Ta)/Rth</c>, and
    /// <see cref="Temperature"/> is that at the start.</summary>
    public double? HeatCapacity { get; set; }

    /// <summary>Thermal resistance from the winding to the air about the motor in K/W, positive; of use with <see cref="HeatCapacity"/>.</summary>
    public double ThermalResistance { get; set; } = 40;

    /// <summary>Temperature of the air about the motor in kelvin, positive; null for the circuit's.</summary>
    public double? Ambient { get; set; }

    /// <summary>Name of the unknown that holds the winding's temperature in kelvin, where it has a heat capacity.</summary>
    public string TemperatureUnknown => $"{Name}#temperature";

    /// <summary>Speed in radians per second at the start of a run from initial conditions.</summary>
    public double InitialSpeed { get; set; }

    /// <summary>Position in radians at the start, within the stops.</summary>
    public double InitialPosition { get; set; }

    /// <summary>Resistance of winding and brushes in ohms at their temperature, all of it taken as copper; at 20 degC while it is to be the circuit's and there is none.</summary>
    public double Resistance => ResistanceOf(Temperature ?? (ambient > 0 ? ambient : ReferenceTemperature));

    /// <summary>Index of the unknown that holds the position in radians, once bound: what turns with the rotor follows it.</summary>
    internal int PositionIndex => a;

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => HeatCapacity is null ? [i, w, a] : [i, w, a, t];

    /// <inheritdoc/>
    public override bool IsExcited => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? ExcitedRows => [w];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public IReadOnlyList<string> States { get; } = ["torque", "output-angle", "at-stop", "at-rest"];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        (p, n) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]));
        i = binder.Branch();
        w = binder.Internal("speed", UnknownKind.Other);
        a = binder.Internal("position", UnknownKind.Other);
        (pi, ni, ip, inn) = (binder.Slot(p, i), binder.Slot(n, i), binder.Slot(i, p), binder.Slot(i, n));
        (ii, iw, wi, ww) = (binder.Slot(i, i), binder.Slot(i, w), binder.Slot(w, i), binder.Slot(w, w));
        (wa, aw, aa, ai) = (binder.Slot(w, a), binder.Slot(a, w), binder.Slot(a, a), binder.Slot(a, i));
        ambient = binder.Circuit.Temperature;
        if (HeatCapacity is not null)
        {
            t = binder.Internal("temperature", UnknownKind.Temperature);
            (it, ti, tt) = (binder.Slot(i, t), binder.Slot(t, i), binder.Slot(t, t));
        }
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var (g, c) = (loads.G, loads.C);
        g[pi] += 1;
        g[ni] -= 1;
        g[ip] += 1;
        g[inn] -= 1;
        if (HeatCapacity is { } capacity)
        {
            g[tt] += 1 / ThermalResistance;
            c[tt] += capacity;
        }
        else
        {
            g[ii] -= Resistance;
        }

        g[iw] -= Constant;
        c[ii] -= Inductance;

        // The laws of the rotor are divided by its inertia, so that their numbers are of the size of others.
        c[ww] += 1;
        c[aa] += 1;
        g[aw] -= 1;
        if (now.IsAtRest)
        {
            g[ww] += 1 / RestTime;
            return;
        }

        g[wi] -= Constant / Inertia;
        g[ww] += Drag / Inertia;
        g[wa] += now.Contact != 0 ? StopStiffness / Inertia : 0;
    }

    /// <inheritdoc/>
    public override void Excite(Loads loads)
    {
        if (!now.IsAtRest)
        {
            loads.F[w] += (now.Way * Friction - (now.Contact != 0 ? StopStiffness * StopOf(now.Contact) : 0)) / Inertia;
        }
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var x = loads.X;
        if (HeatCapacity is not null)
        {
            Heat(loads);
        }

        if (!now.IsAtRest)
        {
            loads.F[w] += FanTorque / Inertia * x[w] * Math.Abs(x[w]);
            loads.G[ww] += 2 * FanTorque / Inertia * Math.Abs(x[w]);
            if (now.Contact != 0)
            {
                var damping = now.Contact * StopDamping * StopStiffness / Inertia;
                var wound = x[a] - StopOf(now.Contact);
                loads.F[w] += damping * wound * x[w];
                loads.G[ww] += damping * wound;
                loads.G[wa] += damping * x[w];
            }
        }

        isStatic = loads.IsStatic || loads.Time <= 0;
        if (isStatic)
        {
            // No position repeats while the rotor turns, so an operating point holds it; against a stop it is what the torque winds up.
            var (rest, slope) = now.Contact != 0
                ? (StopOf(now.Contact) + (Constant * x[i] - now.Contact * Friction) / StopStiffness, Constant / StopStiffness)
                : (InitialPosition, 0);
            loads.F[a] += x[w] + x[a] - rest;
            loads.G[aw] += 1;
            loads.G[aa] += 1;
            loads.G[ai] -= slope;
        }
    }

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial)
    {
        ArgumentNullException.ThrowIfNull(initial);
        initial.Value(i, 0);
        initial.Value(w, InitialSpeed);
        initial.Value(a, InitialPosition);
        if (HeatCapacity is not null)
        {
            initial.Value(t, Temperature ?? Around);
        }
    }

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => x[i];

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => state switch
    {
        0 => Constant * x[i],
        1 => x[a] / Gear * 180 / Math.PI,
        2 => now.Contact,
        _ => now.IsAtRest ? 1 : 0,
    };

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(
                Name,
                ("winding resistance", Resistance),
                ("inductance", Inductance),
                ("motor constant", Constant),
                ("moment of inertia", Inertia),
                ("stiffness of the stops", StopStiffness),
                ("gear ratio", Gear),
                ("temperature in kelvin", Temperature ?? 1),
                ("heat capacity in J/K", HeatCapacity ?? 1),
                ("thermal resistance in K/W", ThermalResistance),
                ("air's temperature in kelvin", Ambient ?? 1))
            .Concat(Ranges.NotNegative(Name, ("viscous drag", Drag), ("friction", Friction), ("fan torque", FanTorque), ("damping of the stops", StopDamping))))
        {
            yield return problem;
        }

        if (!(BreakawayTorque >= Friction && double.IsFinite(BreakawayTorque)))
        {
            yield return $"{Name}: breakaway torque {BreakawayTorque} Nm; it must be finite and not below the friction of {Friction} Nm.";
        }

        if (!(LowStop <= InitialPosition && InitialPosition <= HighStop && LowStop < HighStop && double.IsFinite(InitialPosition)))
        {
            yield return $"{Name}: starts at {InitialPosition} rad between stops at {LowStop} and {HighStop} rad; it must start within them, and the first must lie below the second.";
        }

        if (!double.IsFinite(InitialSpeed))
        {
            yield return $"{Name}: initial speed {InitialSpeed} rad/s; it must be finite.";
        }
    }

    private double Around => Ambient ?? (ambient > 0 ? ambient : ReferenceTemperature);

    /// <summary>The winding's own heat: resistance by temperature in its voltage law, and the balance of its heat.</summary>
    private void Heat(Loads loads)
    {
        var x = loads.X;
        var (ohms, slope) = (ResistanceOf(x[t]), x[t] is > Coldest and < Hottest ? ResistanceAt20 * RelayCoil.CopperCoefficient : 0);
        loads.F[i] -= ohms * x[i];
        loads.G[ii] -= ohms;
        loads.G[it] -= slope * x[i];
        if (loads.IsStatic)
        {
            // Nobody stalls a motor for ever: an operating point has the winding as it is at the start.
            loads.F[t] -= (Temperature ?? Around) / ThermalResistance;
            return;
        }

        loads.F[t] -= ohms * x[i] * x[i] + Around / ThermalResistance;
        loads.G[ti] -= 2 * ohms * x[i];
        loads.G[tt] -= slope * x[i] * x[i];
    }

    // Beyond these temperatures in kelvin the law is held, so that no iterate turns the resistance negative.
    private const double Coldest = 73;
    private const double Hottest = 3000;

    private double ResistanceOf(double kelvin) => ResistanceAt20 * (1 + RelayCoil.CopperCoefficient * (Math.Clamp(kelvin, Coldest, Hottest) - ReferenceTemperature));
}
