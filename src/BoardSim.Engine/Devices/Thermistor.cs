using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Thermistor that its own current heats, such as an inrush limiter; terminals: first, second. Its temperature is an unknown with
/// the heat balance <c>C dT/dt + D (T - Tambient) = v^2 / R(T)</c> (IEC 60539-1: heat capacity and dissipation factor; from memory).
/// </summary>
public sealed class Thermistor : Device, ICurrent, IInitial
{
    // Temperatures in kelvin between which the curve is followed; beyond, the resistance stays as it is there. Nothing is solid at the
    // upper one, but a thermistor straight across a source that can melt it would have no heat balance at all without.
    private const double Coldest = 100;
    private const double Hottest = 1e4;

    // The largest step of an iteration, in kelvin at 300 K: about an e-fold of R, which takes the square of the temperature over beta.
    private const double LongestStep = 30;
    private const double Usual = 300;

    // Zero of the Celsius scale in kelvin.
    private const double Celsius = 273.15;

    private readonly bool isInAir;
    private int a, b, t, air, airAir, airT, tAir;
    private int aa, ab, at, ba, bb, bt, ta, tb, tt;
    private double ambient, last;

    /// <summary>Creates an NTC by its beta law.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">First node.</param>
    /// <param name="second">Second node.</param>
    /// <param name="resistanceAt25">Resistance in ohms at 25 degC without load, positive.</param>
    /// <param name="beta">Material constant in kelvin.</param>
    public Thermistor(string name, string first, string second, double resistanceAt25, double beta)
        : this(name, first, second, new BetaCurve(resistanceAt25, beta))
    {
    }

    /// <summary>Creates a thermistor with any curve.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">First node.</param>
    /// <param name="second">Second node.</param>
    /// <param name="curve">Resistance over temperature.</param>
    public Thermistor(string name, string first, string second, IResistanceCurve curve)
        : base(name, first, second) => Curve = curve;

    /// <summary>Creates a thermistor that exchanges heat with a node of a thermal equivalent circuit: its voltage is a temperature in degrees Celsius
    /// (1 V is 1 degC), its current is heat (1 A is 1 W). <see cref="Ambient"/> then has no say but for the start.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">First node.</param>
    /// <param name="second">Second node.</param>
    /// <param name="curve">Resistance over temperature.</param>
    /// <param name="air">Node of what surrounds it.</param>
    public Thermistor(string name, string first, string second, IResistanceCurve curve, string air)
        : base(name, first, second, air) => (Curve, isInAir) = (curve, true);

    /// <summary>Resistance over temperature.</summary>
    public IResistanceCurve Curve { get; set; }

    /// <summary>Heat capacity in J/K, positive; with the dissipation factor it makes the thermal time constant C/D.</summary>
    public double HeatCapacity { get; set; } = 1;

    /// <summary>Dissipation factor in W/K, positive.</summary>
    public double Dissipation { get; set; } = 0.015;

    /// <summary>Ambient temperature in kelvin, positive; null for the circuit's.</summary>
    public double? Ambient { get; set; }

    /// <summary>Temperature in kelvin at the start of a run from initial conditions, positive; null for the ambient temperature. A hot
    /// restart begins well above it. A run from an operating point starts in thermal equilibrium instead.</summary>
    public double? InitialTemperature { get; set; }

    /// <summary>Name of the unknown that holds the temperature.</summary>
    public string TemperatureUnknown => $"{Name}#temperature";

    /// <inheritdoc/>
    public override IReadOnlyList<int> HeatTerminals => isInAir ? AirTerminal : [];

    private static readonly int[] AirTerminal = [2];

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => isInAir ? [a, b, t, air] : [a, b, t];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        a = binder.Node(Nodes[0]);
        b = binder.Node(Nodes[1]);
        t = binder.Internal("temperature", UnknownKind.Temperature);
        ambient = binder.Circuit.Temperature;
        (aa, ab, at) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(a, t));
        (ba, bb, bt) = (binder.Slot(b, a), binder.Slot(b, b), binder.Slot(b, t));
        (ta, tb, tt) = (binder.Slot(t, a), binder.Slot(t, b), binder.Slot(t, t));
        if (isInAir)
        {
            air = binder.Node(Nodes[2]);
            (airAir, airT, tAir) = (binder.Slot(air, air), binder.Slot(air, t), binder.Slot(t, air));
        }
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        loads.G[tt] += Dissipation;
        loads.C[tt] += HeatCapacity;
        if (isInAir)
        {
            loads.G[tAir] -= Dissipation;
            loads.G[airT] -= Dissipation;
            loads.G[airAir] += Dissipation;
        }
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var x = loads.X;
        var v = x[a] - x[b];
        var kelvin = loads.Limiting ? Limit(x[t], loads) : x[t];
        var g = Conductance(kelvin, out var gt);

        // At a limited temperature the law is replaced by its tangent plane there.
        var ahead = loads.Limiting ? x[t] - kelvin : 0;
        var slope = v * gt;
        var i = v * g + slope * ahead;
        loads.F[a] += i;
        loads.F[b] -= i;
        loads.F[t] -= v * i + Dissipation * (isInAir ? Celsius : Ambient ?? ambient);
        if (isInAir)
        {
            loads.F[air] += Dissipation * Celsius;
        }

        var m = loads.G;
        m[aa] += g;
        m[ab] -= g;
        m[at] += slope;
        m[ba] -= g;
        m[bb] += g;
        m[bt] -= slope;
        m[ta] -= 2 * v * g;
        m[tb] += 2 * v * g;
        m[tt] -= v * slope;
    }

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial) => initial.Value(t, InitialTemperature ?? Ambient ?? ambient);

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => (x[a] - x[b]) * Conductance(x[t], out _);

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        Curve.Problems().Select(p => $"{Name}: {p}").Concat(Ranges.Positive(
            Name,
            ("heat capacity in J/K", HeatCapacity),
            ("dissipation factor in W/K", Dissipation),
            ("ambient temperature in kelvin", Ambient ?? 1),
            ("initial temperature in kelvin", InitialTemperature ?? 1)));

    private double Conductance(double kelvin, out double slope)
    {
        var g = 1 / Curve.Resistance(Math.Clamp(kelvin, Coldest, Hottest));
        slope = kelvin is > Coldest and < Hottest ? -g * Curve.RelativeSlope(kelvin) : 0;
        return g;
    }

    private double Limit(double next, Loads loads)
    {
        // A solve may start from all zeroes, which is no temperature.
        var from = !loads.Fresh && last > 0 ? last : next >= Coldest ? next : Ambient ?? ambient;
        var longest = LongestStep * Math.Max(1, from / Usual * (from / Usual));
        last = Math.Clamp(next, Math.Max(Coldest, from - longest), from + longest);
        if (from >= Hottest && next >= Hottest)
        {
            last = next;
        }

        loads.Limited |= last != next;
        return last;
    }
}
