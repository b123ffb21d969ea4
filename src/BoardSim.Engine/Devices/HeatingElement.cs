using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Resistor that heats a node of a thermal equivalent circuit; terminals: first, second, heat. The heat node's voltage is the element's temperature in
/// degrees Celsius (1 V is 1 degC), the current out of it is heat (1 A is 1 W): <c>C dT/dt = v^2/R(T) - heat given off</c>,
/// <c>R(T) = R20 (1 + a (T - 20 degC))</c>.
/// </summary>
public sealed class HeatingElement : Device, ICurrent, IInitial
{
    private int a, b, h, aa, ab, ah, ba, bb, bh, ha, hb, hh;

    /// <summary>Creates an element.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">First node.</param>
    /// <param name="second">Second node.</param>
    /// <param name="heat">Node of its temperature.</param>
    /// <param name="resistanceAt20">Resistance in ohms at 20 degC, positive.</param>
    public HeatingElement(string name, string first, string second, string heat, double resistanceAt20)
        : base(name, first, second, heat) => ResistanceAt20 = resistanceAt20;

    /// <summary>Resistance in ohms at 20 degC, positive.</summary>
    public double ResistanceAt20 { get; set; }

    /// <summary>Temperature coefficient in 1/K, zero or more: 4e-4 for heating wire, 4e-3 for tungsten.</summary>
    public double Coefficient { get; set; } = 1e-4;

    /// <summary>Heat capacity in joules per kelvin, positive.</summary>
    public double HeatCapacity { get; set; } = 50;

    /// <summary>Temperature in kelvin at the start, positive.</summary>
    public double StartTemperature { get; set; } = 298.15;

    /// <inheritdoc/>
    public override IReadOnlyList<int> HeatTerminals => HeatTerminal;

    private static readonly int[] HeatTerminal = [2];

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [a, b, h];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        (a, b, h) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]), binder.Node(Nodes[2]));
        (aa, ab, ah) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(a, h));
        (ba, bb, bh) = (binder.Slot(b, a), binder.Slot(b, b), binder.Slot(b, h));
        (ha, hb, hh) = (binder.Slot(h, a), binder.Slot(h, b), binder.Slot(h, h));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads) => loads.C[hh] += HeatCapacity;

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var v = loads.X[a] - loads.X[b];
        var g = Conductance(loads.X[h], out var slope);
        var (i, di) = (g * v, slope * v);
        loads.F[a] += i;
        loads.F[b] -= i;
        loads.F[h] -= v * i;
        loads.G[aa] += g;
        loads.G[ab] -= g;
        loads.G[ah] += di;
        loads.G[ba] -= g;
        loads.G[bb] += g;
        loads.G[bh] -= di;
        loads.G[ha] -= 2 * i;
        loads.G[hb] += 2 * i;
        loads.G[hh] -= v * di;
    }

    /// <inheritdoc/>
    public void SetInitial(InitialValues initial)
    {
        ArgumentNullException.ThrowIfNull(initial);
        initial.Charge(h, 0, HeatCapacity, StartTemperature - 273.15);
    }

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => (x[a] - x[b]) * Conductance(x[h], out _);

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        Ranges.Positive(Name, ("resistance at 20 degC", ResistanceAt20), ("heat capacity", HeatCapacity), ("start temperature in kelvin", StartTemperature))
            .Concat(Ranges.NotNegative(Name, ("temperature coefficient", Coefficient)));

    private double Conductance(double celsius, out double slope)
    {
        // Beyond what is solid the law is held, so that no iterate turns the resistance negative.
        var held = Math.Clamp(celsius, -200, 3000);
        var factor = 1 + Coefficient * (held - 20);
        if (factor < 0.05)
        {
            (factor, held) = (0.05, double.NaN);
        }

        var g = 1 / (ResistanceAt20 * factor);
        slope = held == celsius ? -g * Coefficient / factor : 0;
        return g;
    }
}
