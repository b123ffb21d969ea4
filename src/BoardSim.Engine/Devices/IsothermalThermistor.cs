using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>Thermistor that is held at a temperature, as a sensor is; terminals: first, second. It does not heat itself.</summary>
public sealed class IsothermalThermistor : Device, ICurrent
{
    private int a, b, aa, ab, ba, bb;
    private double ambient, conductance;

    /// <summary>Creates a thermistor.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="first">First node.</param>
    /// <param name="second">Second node.</param>
    /// <param name="curve">Resistance over temperature.</param>
    public IsothermalThermistor(string name, string first, string second, IResistanceCurve curve)
        : base(name, first, second) => Curve = curve;

    /// <summary>Resistance over temperature.</summary>
    public IResistanceCurve Curve { get; set; }

    /// <summary>Temperature of the sensor in kelvin, positive; null for the circuit's.</summary>
    public double? Temperature { get; set; }

    /// <summary>Factor on the curve's resistance, positive: 1 when new, 1.05 for a part that has drifted up by 5 %.</summary>
    public double Drift { get; set; } = 1;

    /// <summary>Resistance in ohms at the present temperature, drift included.</summary>
    /// <exception cref="InvalidOperationException">The temperature is the circuit's and the part is in no compiled circuit.</exception>
    public double Resistance
    {
        get
        {
            var kelvin = Temperature ?? ambient;
            return kelvin > 0
                ? Drift * Curve.Resistance(kelvin)
                : throw new InvalidOperationException($"{Name} takes its temperature from the circuit; compile one or set {nameof(Temperature)}.");
        }
    }

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
        var g = conductance = 1 / Resistance;
        loads.G[aa] += g;
        loads.G[ab] -= g;
        loads.G[ba] -= g;
        loads.G[bb] += g;
    }

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => (x[a] - x[b]) * conductance;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        Curve.Problems().Select(p => $"{Name}: {p}").Concat(Ranges.Positive(Name, ("temperature in kelvin", Temperature ?? 1), ("drift factor", Drift)));
}
