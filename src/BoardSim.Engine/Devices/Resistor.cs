using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>Linear resistor; terminals: first, second.</summary>
public sealed class Resistor : Device, ICurrent
{
    private int a, b, aa, ab, ba, bb;
    private double ambient;
    private double conductance;

    /// <summary>Creates a resistor.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">First node.</param>
    /// <param name="second">Second node.</param>
    /// <param name="ohms">Resistance in ohms, finite and not zero (a negative one is a legal model of a source).</param>
    public Resistor(string name, string first, string second, double ohms)
        : base(name, first, second) => Resistance = ohms;

    /// <summary>Resistance in ohms at <see cref="NominalTemperature"/>; finite and not zero.</summary>
    public double Resistance { get; set; }

    /// <summary>Linear temperature coefficient in 1/K.</summary>
    public double Tc1 { get; set; }

    /// <summary>Quadratic temperature coefficient in 1/K^2.</summary>
    public double Tc2 { get; set; }

    /// <summary>Temperature at which <see cref="Resistance"/> holds, in kelvin.</summary>
    public double NominalTemperature { get; set; } = 300.15;

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        a = binder.Node(Nodes[0]);
        b = binder.Node(Nodes[1]);
        (aa, ab, ba, bb) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(b, a), binder.Slot(b, b));
        ambient = binder.Circuit.Temperature;
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var d = ambient - NominalTemperature;
        var g = conductance = 1 / (Resistance * (1 + d * (Tc1 + d * Tc2)));
        loads.G[aa] += g;
        loads.G[ab] -= g;
        loads.G[ba] -= g;
        loads.G[bb] += g;
    }

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => (x[a] - x[b]) * conductance;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        if (!double.IsFinite(Resistance) || Resistance == 0)
        {
            yield return $"{Name}: resistance {Resistance} ohm; it must be finite and not zero (take 1 mohm for a link).";
        }
    }
}
