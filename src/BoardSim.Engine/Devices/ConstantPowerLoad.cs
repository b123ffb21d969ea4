using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Load that draws constant power, such as a regulated converter downstream; terminals: positive, negative. Above
/// <see cref="MinimumVoltage"/> the current is <c>P/v</c>; below it <c>P/Vmin^2 * v (2 - (v/Vmin)^2)</c>, which joins with the
/// same value and slope and is a resistor of <c>Vmin^2 / 2P</c> at zero. Odd about zero.
/// </summary>
public sealed class ConstantPowerLoad : Device, ICurrent
{
    private int a, b, aa, ab, ba, bb;

    /// <summary>Creates a load.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="positive">Positive node.</param>
    /// <param name="negative">Negative node.</param>
    /// <param name="watts">Power in watts, zero or more.</param>
    /// <param name="minimumVoltage">Voltage in volts below which the load turns resistive, positive.</param>
    public ConstantPowerLoad(string name, string positive, string negative, double watts, double minimumVoltage)
        : base(name, positive, negative)
    {
        Power = watts;
        MinimumVoltage = minimumVoltage;
    }

    /// <summary>Power in watts, zero or more.</summary>
    public double Power { get; set; }

    /// <summary>Voltage in volts below which the load turns resistive, positive.</summary>
    public double MinimumVoltage { get; set; }

    /// <summary>
    /// Capacitance of the load's own input in farads, zero or more: filter, switch and tracks. Where the source's resistance is more than <c>v^2/P</c> the voltage has no way to stay, and this
    /// is all that decides how fast it goes; without any the node jumps, and no transient can follow it (a converter behind a bulk capacitor that has lost contact).
    /// </summary>
    public double InputCapacitance { get; set; }

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override bool IsFloating => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [a, b];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        a = binder.Node(Nodes[0]);
        b = binder.Node(Nodes[1]);
        (aa, ab, ba, bb) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(b, a), binder.Slot(b, b));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        ArgumentNullException.ThrowIfNull(loads);
        loads.C[aa] += InputCapacitance;
        loads.C[ab] -= InputCapacitance;
        loads.C[ba] -= InputCapacitance;
        loads.C[bb] += InputCapacitance;
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var v = loads.X[a] - loads.X[b];
        Conduct(v, out var i, out var g);

        // Gmin keeps the nodes tied when the power is set to zero.
        i += loads.Gmin * v;
        g += loads.Gmin;
        loads.F[a] += i;
        loads.F[b] -= i;
        loads.G[aa] += g;
        loads.G[ab] -= g;
        loads.G[ba] -= g;
        loads.G[bb] += g;
    }

    /// <summary>Current in amperes that the load converts, without what charges its input.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x)
    {
        Conduct(x[a] - x[b], out var i, out _);
        return i;
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        Ranges.NotNegative(Name, ("power", Power), ("input capacitance", InputCapacitance)).Concat(Ranges.Positive(Name, ("minimum voltage", MinimumVoltage)));

    private void Conduct(double v, out double i, out double g)
    {
        if (Math.Abs(v) >= MinimumVoltage)
        {
            i = Power / v;
            g = -i / v;
            return;
        }

        var u = v / MinimumVoltage;
        var y = Power / (MinimumVoltage * MinimumVoltage);
        i = y * v * (2 - u * u);
        g = y * (2 - 3 * u * u);
    }
}
