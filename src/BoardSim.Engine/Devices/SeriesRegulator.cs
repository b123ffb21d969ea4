using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Three-terminal series regulator; terminals: input, output, ground. An error amplifier with one dominant pole drives an emitter
/// follower (Horowitz and Hill, The Art of Electronics, chapter on voltage regulators; from memory):
/// <code>
///  tau du/dt + u = V(T) + A0 (V(T) - vout), held between 0 and the lower of vin and vout + 1.2 r Ilimit
///  i = (u + c (vin - Vnominal) - vout) / r,  at most (vin - vout - V0) / Rd, at most the limit, at least 0
///  limit = Ilimit - k (w - Vfold) for w above Vfold,  T dw/dt + w = vin - vout
/// </code>
/// so in regulation the output resistance is <c>r / (1 + A0)</c>, the line rejection <c>(1 + A0) / c</c>, both up to the pole and worse by a decade
/// per decade beyond it; without an output capacitor a load step dips by <c>r dI</c> for a time of <c>tau / (1 + A0)</c>, or longer
/// where the limits of the drive let it slew no faster. In drop-out the output follows the input less the
/// drop-out voltage. Corners between these regimes are rounded by 1 % of the current limit.
/// <para>
/// Junction and case are two heat capacities on the way from the loss to the air. Beyond <see cref="ShutdownTemperature"/> the pass transistor is
/// turned off until the junction has cooled by <see cref="ShutdownHysteresis"/>. A regulator that cycles like that has no operating point: what is found for it is
/// the one where it is off, and a run from there begins with its turning on.
/// </para>
/// </summary>
public sealed class SeriesRegulator : Device, IDiscrete, ITimed, IStates, IInitial, ICurrent
{
    private const double ReferenceTemperature = 298.15;

    // Width of the rounded corners: of the drive in volts, of currents as a part of the current limit.
    private const double DriveWidth = 0.02;
    private const double LimitWidth = 0.01;
    private const double OffWidth = 2e-3;
    private const double FoldbackWidth = 0.5;
    private const double DriveMargin = 1.2;

    // Part of the limit below which folding back does not go.
    private const double LeastLimit = 0.02;

    // Input voltage from which the quiescent current has its full value.
    private const double QuiescentKnee = 2;

    // Largest change of the output voltage between two iterations.
    private const double LongestStep = 1;

    // When a run begins whose operating point is the one with the regulator off, in seconds.
    private const double Begin = 1e-9;

    private int a, b, g, u, w, junction, package;
    private int aa, ab, ag, au, ba, bb, bg, bu, ga, gg, gb, ua, ub, ug, uu, ut, ta, tb, tg, tu, tt, tc, ct, cc;
    private int aw, bw, wa, wb, ww, tw;
    private double ambient, lastOut;
    private Situation now;

    /// <summary>Creates a regulator with the properties of a 1 A bipolar part.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="input">Input node.</param>
    /// <param name="output">Output node.</param>
    /// <param name="ground">Ground node.</param>
    /// <param name="volts">Output voltage in volts at 25 degC without load, positive.</param>
    public SeriesRegulator(string name, string input, string output, string ground, double volts)
        : base(name, input, output, ground) => Voltage = volts;

    /// <summary>Output voltage in volts at 25 degC without load, positive.</summary>
    public double Voltage { get; set; }

    /// <summary>Input voltage in volts at which <see cref="Voltage"/> holds, above it.</summary>
    public double NominalInput { get; set; } = 10;

    /// <summary>Change of the output voltage with the junction's temperature, in volts per kelvin.</summary>
    public double TemperatureCoefficient { get; set; } = -0.6e-3;

    /// <summary>Output resistance in ohms within regulation at direct current, positive.</summary>
    public double OutputResistance { get; set; } = 8e-3;

    /// <summary>Output resistance in ohms of the follower by itself, far above the pole; larger than <see cref="OutputResistance"/>.</summary>
    public double FollowerResistance { get; set; } = 0.8;

    /// <summary>Change of the input voltage over that of the output within regulation at direct current (a ratio, not decibels), above 1.</summary>
    public double LineRejection { get; set; } = 1e4;

    /// <summary>Frequency in hertz beyond which rejection and output resistance get worse, positive.</summary>
    public double Pole { get; set; } = 5e3;

    /// <summary>Drop-out voltage in volts without load, positive.</summary>
    public double DropOutVoltage { get; set; } = 1.3;

    /// <summary>Growth of the drop-out voltage with the current, in ohms, positive.</summary>
    public double DropOutResistance { get; set; } = 0.7;

    /// <summary>Current in amperes that the regulator itself takes, zero or more.</summary>
    public double QuiescentCurrent { get; set; } = 5e-3;

    /// <summary>Capacitance in farads of chip and pin from output to ground, zero or more.</summary>
    public double OutputCapacitance { get; set; } = 1e-9;

    /// <summary>
    /// Capacitance in farads of the pass transistor from input to output, zero or more. A limit that folds back is a negative resistance at input and output: with nothing but ohms and
    /// inductances outside (input capacitor gone, ground lead off) it is all that decides how fast they go; without any they would jump.
    /// </summary>
    public double PassCapacitance { get; set; } = 100e-12;

    /// <summary>Current in amperes through the divider that senses the output, at the nominal output voltage; positive.</summary>
    public double SenseCurrent { get; set; } = 1e-3;

    /// <summary>Current limit in amperes, positive.</summary>
    public double CurrentLimit { get; set; } = 2.2;

    /// <summary>Voltage across the regulator in volts from which the limit folds back, positive.</summary>
    public double FoldbackFrom { get; set; } = 10;

    /// <summary>Decrease of the limit beyond, in amperes per volt; zero for none.</summary>
    public double FoldbackSlope { get; set; }

    /// <summary>
    /// Time constant in seconds with which the limit follows the voltage across the regulator when it folds back, positive: the transistor that senses it pulls at the node that holds the amplifier's compensation (common practice, no source).
    /// Without it the negative resistance of folding back would have no upper frequency, and any picofarad with any wire would ring with it.
    /// </summary>
    public double FoldbackTime { get; set; } = 2e-6;

    /// <summary>Thermal resistance from the junction to the case, in kelvin per watt, positive.</summary>
    public double JunctionToCase { get; set; } = 5;

    /// <summary>Thermal resistance from the case to the air, in kelvin per watt, positive.</summary>
    public double CaseToAir { get; set; } = 60;

    /// <summary>Heat capacity of the junction and what is soldered to it, in joules per kelvin, positive.</summary>
    public double JunctionCapacity { get; set; } = 0.05;

    /// <summary>Heat capacity of case and heat sink, in joules per kelvin, positive.</summary>
    public double CaseCapacity { get; set; } = 1.2;

    /// <summary>Temperature of the junction in kelvin at which the regulator turns itself off, positive.</summary>
    public double ShutdownTemperature { get; set; } = 438.15;

    /// <summary>By how many kelvin it has to cool until it turns on again, positive.</summary>
    public double ShutdownHysteresis { get; set; } = 20;

    /// <summary>Temperature of the air in kelvin, positive; null for the circuit's.</summary>
    public double? Ambient { get; set; }

    /// <summary>True while the thermal shutdown holds the pass transistor off.</summary>
    public bool IsShutDown => now.IsOff;

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [a, b, g, u, w, junction];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive), new(1, 2, LinkKind.Conductive), new(0, 2, LinkKind.Conductive)];

    /// <inheritdoc/>
    public int GuardCount => 2;

    /// <inheritdoc/>
    public string StateName => IsShutDown ? "shut-down" : "on";

    /// <inheritdoc/>
    public object Memory
    {
        get => now;
        set => now = (Situation)value;
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> States { get; } = ["shut-down"];

    private double Gain => FollowerResistance / OutputResistance - 1;

    private double SenseConductance => SenseCurrent / Voltage;

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        a = binder.Node(Nodes[0]);
        b = binder.Node(Nodes[1]);
        g = binder.Node(Nodes[2]);
        u = binder.Internal("drive", UnknownKind.Other);
        w = binder.Internal("across", UnknownKind.Other);
        junction = binder.Internal("temperature", UnknownKind.Temperature);
        package = binder.Internal("case-temperature", UnknownKind.Temperature);
        ambient = binder.Circuit.Temperature;
        (aa, ab, ag, au) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(a, g), binder.Slot(a, u));
        (ba, bb, bg, bu) = (binder.Slot(b, a), binder.Slot(b, b), binder.Slot(b, g), binder.Slot(b, u));
        (ga, gg, gb) = (binder.Slot(g, a), binder.Slot(g, g), binder.Slot(g, b));
        (ua, ub, ug, uu, ut) = (binder.Slot(u, a), binder.Slot(u, b), binder.Slot(u, g), binder.Slot(u, u), binder.Slot(u, junction));
        (aw, bw, wa, wb, ww, tw) = (binder.Slot(a, w), binder.Slot(b, w), binder.Slot(w, a), binder.Slot(w, b), binder.Slot(w, w), binder.Slot(junction, w));
        (ta, tb, tg, tu) = (binder.Slot(junction, a), binder.Slot(junction, b), binder.Slot(junction, g), binder.Slot(junction, u));
        (tt, tc, ct, cc) = (binder.Slot(junction, junction), binder.Slot(junction, package), binder.Slot(package, junction), binder.Slot(package, package));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var (m, c) = (loads.G, loads.C);
        var sense = SenseConductance;
        m[bb] += sense;
        m[bg] -= sense;
        m[gb] -= sense;
        m[gg] += sense;

        c[bb] += OutputCapacitance;
        c[bg] -= OutputCapacitance;
        c[gb] -= OutputCapacitance;
        c[gg] += OutputCapacitance;

        c[aa] += PassCapacitance;
        c[ab] -= PassCapacitance;
        c[ba] -= PassCapacitance;
        c[bb] += PassCapacitance;

        m[uu] += 1;
        c[uu] += 1 / (2 * Math.PI * Pole);

        m[ww] += 1;
        m[wa] -= 1;
        m[wb] += 1;
        c[ww] += FoldbackTime;

        var (inner, outer) = (1 / JunctionToCase, 1 / CaseToAir);
        m[tt] += inner;
        m[tc] -= inner;
        m[ct] -= inner;
        m[cc] += inner + outer;
        c[tt] += JunctionCapacity;
        c[cc] += CaseCapacity;
    }

    /// <inheritdoc/>
    public override bool IsExcited => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? ExcitedRows => [package];

    /// <inheritdoc/>
    public override void Excite(Loads loads) => loads.F[package] -= (Ambient ?? ambient) / CaseToAir;

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var x = loads.X;
        var (vin, vout) = (x[a] - x[g], x[b] - x[g]);
        var ahead = 0.0;
        if (loads.Limiting)
        {
            // Between the regimes the law bends one way and the other: a long step would run in a circle. Beyond the limit its tangent holds.
            var at = loads.Fresh ? vout : Math.Clamp(vout, lastOut - LongestStep, lastOut + LongestStep);
            loads.Limited |= at != vout;
            (ahead, vout, lastOut) = (vout - at, at, at);
        }

        var across = vin - vout;
        var m = loads.G;

        // The amplifier swings between its own rails, and the current limit holds it not far above what the limit takes.
        if (!IsShutDown)
        {
            var gain = Gain;
            var set = Voltage + TemperatureCoefficient * (x[junction] - ReferenceTemperature);
            var top = SmoothLimit.Lower(vin, vout + DriveMargin * FollowerResistance * CurrentLimit, DriveWidth, out var rail);
            var aim = SmoothLimit.Lower(set + gain * (set - vout), top, DriveWidth, out var free);
            aim = SmoothLimit.Higher(aim, 0, DriveWidth, out var swing);
            var (byIn, byOut) = (swing * (1 - free) * rail, swing * ((1 - free) * (1 - rail) - free * gain));
            loads.F[u] -= aim + byOut * ahead;
            m[ua] -= byIn;
            m[ub] -= byOut;
            m[ug] += byIn + byOut;
            m[ut] -= swing * free * (1 + gain) * TemperatureCoefficient;
        }

        var i = Pass(vin, vout, x[u], x[w], out var slopeIn, out var slopeOut, out var slopeDrive, out var slopeAcross);
        i += loads.Gmin * across;
        slopeIn += loads.Gmin;
        slopeOut -= loads.Gmin;
        var idle = Idle(vin, out var idleSlope);
        var there = i + slopeOut * ahead;
        loads.F[a] += there + idle;
        loads.F[b] -= there;
        loads.F[g] -= idle;
        m[aa] += slopeIn + idleSlope;
        m[ab] += slopeOut;
        m[ag] -= slopeIn + slopeOut + idleSlope;
        m[au] += slopeDrive;
        m[ba] -= slopeIn;
        m[bb] -= slopeOut;
        m[bg] += slopeIn + slopeOut;
        m[bu] -= slopeDrive;
        m[aw] += slopeAcross;
        m[bw] -= slopeAcross;
        m[tw] -= across * slopeAcross;
        m[ga] -= idleSlope;
        m[gg] += idleSlope;

        var (heatIn, heatOut) = (i + across * slopeIn + idle + vin * idleSlope, -i + across * slopeOut);
        loads.F[junction] -= across * i + vin * idle + heatOut * ahead;
        m[ta] -= heatIn;
        m[tb] -= heatOut;
        m[tg] += heatIn + heatOut;
        m[tu] -= across * slopeDrive;
    }

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial)
    {
        initial.Value(junction, Ambient ?? ambient);
        initial.Value(package, Ambient ?? ambient);
    }

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        values[0] = now.IsAtRest ? -1 : IsShutDown ? ShutdownTemperature - ShutdownHysteresis - x[junction] : x[junction] - ShutdownTemperature;
        values[1] = now.IsAtRest ? time - Begin + Clock.Rounding(Begin) : -1;
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x) => now = guard == 1
        ? new Situation(x[junction] > ShutdownTemperature - ShutdownHysteresis, false)
        : new Situation(!now.IsOff, !now.IsOff && time <= 0);

    /// <inheritdoc/>
    public void Reset() => now = default;

    /// <inheritdoc/>
    public double NextCorner(double time) => now.IsAtRest && time < Begin - Clock.Rounding(Begin) ? Begin : double.PositiveInfinity;

    /// <inheritdoc/>
    public Repetition RepetitionAt(double time) => now.IsAtRest ? Repetition.None : Repetition.Constant;

    /// <summary>Current in amperes out of the output, through the pass transistor; the sensing divider takes a part of it.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x) => Pass(x[a] - x[g], x[b] - x[g], x[u], x[w], out _, out _, out _, out _);

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => IsShutDown ? 1 : 0;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(
                Name,
                ("output voltage", Voltage),
                ("output resistance", OutputResistance),
                ("pole frequency", Pole),
                ("drop-out voltage", DropOutVoltage),
                ("drop-out resistance", DropOutResistance),
                ("sense current", SenseCurrent),
                ("current limit", CurrentLimit),
                ("voltage where folding back begins", FoldbackFrom),
                ("time constant of folding back", FoldbackTime),
                ("thermal resistance from junction to case", JunctionToCase),
                ("thermal resistance from case to air", CaseToAir),
                ("heat capacity of the junction", JunctionCapacity),
                ("heat capacity of the case", CaseCapacity),
                ("shutdown temperature in kelvin", ShutdownTemperature),
                ("shutdown hysteresis in kelvin", ShutdownHysteresis),
                ("ambient temperature in kelvin", Ambient ?? 1))
            .Concat(Ranges.NotNegative(Name, ("quiescent current", QuiescentCurrent), ("output capacitance", OutputCapacitance), ("pass transistor's capacitance", PassCapacitance), ("foldback slope", FoldbackSlope))))
        {
            yield return problem;
        }

        if (!(FollowerResistance > OutputResistance))
        {
            yield return $"{Name}: output resistance of the follower {FollowerResistance} ohm; it must be above that of the regulator, {OutputResistance} ohm.";
        }

        if (!(LineRejection > 1))
        {
            yield return $"{Name}: line rejection {LineRejection}; it must be above 1.";
        }

        if (!(NominalInput > Voltage))
        {
            yield return $"{Name}: nominal input {NominalInput} V; it must be above the output voltage of {Voltage} V.";
        }
    }

    /// <summary>Current of the pass transistor with its slopes by input, output, drive, and the voltage across it that the limit has followed; all other voltages against the ground terminal.</summary>
    private double Pass(double vin, double vout, double drive, double followed, out double slopeIn, out double slopeOut, out double slopeDrive, out double slopeAcross)
    {
        if (IsShutDown)
        {
            (slopeIn, slopeOut, slopeDrive, slopeAcross) = (0, 0, 0, 0);
            return 0;
        }

        // What the loop asks for.
        var y = 1 / FollowerResistance;
        var line = (1 + Gain) / LineRejection;
        var i = y * (drive + line * (vin - NominalInput) - vout);
        (slopeIn, slopeOut, slopeDrive) = (y * line, -y, y);

        // What is left of the input voltage.
        var d = 1 / DropOutResistance;
        i = SmoothLimit.Lower(i, d * (vin - vout - DropOutVoltage), LimitWidth * CurrentLimit, out var share);
        (slopeIn, slopeOut, slopeDrive) = (share * slopeIn + (1 - share) * d, share * slopeOut - (1 - share) * d, share * slopeDrive);

        // What the limit lets through.
        var limit = Limit(followed, out var limitSlope);
        i = SmoothLimit.Lower(i, limit, LimitWidth * CurrentLimit, out share);
        (slopeIn, slopeOut, slopeDrive, slopeAcross) = (share * slopeIn, share * slopeOut, share * slopeDrive, (1 - share) * limitSlope);

        i = SmoothLimit.Higher(i, 0, OffWidth * CurrentLimit, out share);
        (slopeIn, slopeOut, slopeDrive, slopeAcross) = (share * slopeIn, share * slopeOut, share * slopeDrive, share * slopeAcross);
        return i;
    }

    private double Limit(double across, out double slope)
    {
        if (FoldbackSlope == 0)
        {
            slope = 0;
            return CurrentLimit;
        }

        var beyond = SmoothLimit.Higher(across - FoldbackFrom, 0, FoldbackWidth, out var begins);
        var limit = SmoothLimit.Higher(CurrentLimit - FoldbackSlope * beyond, LeastLimit * CurrentLimit, LeastLimit * CurrentLimit, out var above);
        slope = -above * FoldbackSlope * begins;
        return limit;
    }

    private double Idle(double vin, out double slope)
    {
        var w = vin / QuiescentKnee;
        if (w >= 1)
        {
            slope = 0;
            return QuiescentCurrent;
        }

        (var i, slope) = w > 0 ? (w * (2 - w), 2 * (1 - w)) : (2 * w, 2);
        slope *= QuiescentCurrent / QuiescentKnee;
        return QuiescentCurrent * i;
    }

    /// <summary>Whether the pass transistor is off, and whether that is the state of an operating point, where no time passes.</summary>
    private readonly record struct Situation(bool IsOff, bool IsAtRest);
}
