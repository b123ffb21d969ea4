using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices.Converters;

/// <summary>
/// Rectifier diode as its data sheet's power-loss line draws it: a threshold voltage and a slope resistance while it conducts, a high resistance while it
/// blocks (threshold voltage and slope resistance: IEC 60747-2); terminals: anode, cathode. The instants at which it
/// begins and ceases to conduct are located, so that a run of thousands of switching cycles has no exponentials to creep along. Stored charge and
/// junction capacitance are left to parts beside it; <see cref="Diode"/> has them and the exponential law.
/// </summary>
public sealed class Rectifier : Device, IDiscrete, ICurrent
{
    private int a, k, aa, ak, ka, kk;
    private bool conducts;

    /// <summary>Creates a rectifier.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="anode">Anode.</param>
    /// <param name="cathode">Cathode.</param>
    /// <param name="threshold">Threshold voltage in volts, zero or more.</param>
    /// <param name="resistance">Slope resistance in ohms, positive.</param>
    public Rectifier(string name, string anode, string cathode, double threshold, double resistance)
        : base(name, anode, cathode) => (Threshold, Resistance) = (threshold, resistance);

    /// <summary>Threshold voltage in volts, zero or more.</summary>
    public double Threshold { get; set; }

    /// <summary>Slope resistance in ohms while it conducts, positive.</summary>
    public double Resistance { get; set; }

    /// <summary>Resistance in ohms while it blocks, positive, above <see cref="Resistance"/>.</summary>
    public double BlockingResistance { get; set; } = 20e6;

    /// <inheritdoc/>
    public string StateName => conducts ? "conducting" : "blocking";

    /// <inheritdoc/>
    public int GuardCount => 1;

    /// <inheritdoc/>
    public object Memory
    {
        get => conducts;
        set => conducts = (bool)value;
    }

    /// <inheritdoc/>
    public override bool IsExcited => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? ExcitedRows => [a, k];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    private double Conductance => 1 / (conducts ? Resistance : BlockingResistance);

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        (a, k) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]));
        (aa, ak, ka, kk) = (binder.Slot(a, a), binder.Slot(a, k), binder.Slot(k, a), binder.Slot(k, k));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var g = Conductance;
        loads.G[aa] += g;
        loads.G[ak] -= g;
        loads.G[ka] -= g;
        loads.G[kk] += g;
    }

    /// <inheritdoc/>
    public override void Excite(Loads loads)
    {
        // Both lines meet at the threshold, where the blocking one carries next to nothing.
        var amperes = Offset;
        loads.F[a] -= amperes;
        loads.F[k] += amperes;
    }

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        var over = x[a] - x[k] - Threshold;
        values[0] = conducts ? -over : over;
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x) => conducts = !conducts;

    /// <inheritdoc/>
    public void Reset() => conducts = false;

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => (x[a] - x[k]) * Conductance - Offset;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.NotNegative(Name, ("threshold voltage", Threshold))
            .Concat(Ranges.Positive(Name, ("slope resistance", Resistance), ("blocking resistance", BlockingResistance))))
        {
            yield return problem;
        }

        if (BlockingResistance <= Resistance)
        {
            yield return $"{Name}: blocking resistance {BlockingResistance} ohm; it must be above the slope resistance of {Resistance} ohm.";
        }
    }

    private double Offset => conducts ? Threshold * (1 / Resistance - 1 / BlockingResistance) : 0;
}
