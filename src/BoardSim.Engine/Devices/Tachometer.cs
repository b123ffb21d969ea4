using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Tachometer output of a motor, an open collector; terminals: output, ground. It follows a <see cref="DcMotor"/> by its name: a magnet on the rotor makes the
/// transistor conduct over one half of each pulse's angle, off over the other. The instants are located. Its outlet pulls as a resistor; the pull-up is a part beside it.
/// </summary>
public sealed class Tachometer : Device, IDiscrete, ICurrent, IStates
{
    private const int Ahead = 0;
    private const int Behind = 1;

    // Share of half a pulse by which the rotor has to turn back: the guard is below zero right after a pulse, where it has to be to be heard.
    private const double Hysteresis = 1e-3;

    private int o, g, oo, og, go, gg;
    private double conductance;
    private long halves;
    private DcMotor? motor;

    /// <summary>Creates a tachometer.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="output">Collector.</param>
    /// <param name="ground">Emitter.</param>
    /// <param name="motor">Name of the motor.</param>
    public Tachometer(string name, string output, string ground, string motor)
        : base(name, output, ground) => Motor = motor;

    /// <summary>Name of the motor.</summary>
    public string Motor { get; set; }

    /// <summary>Pulses for one turn of the rotor, positive: two for most fans (common practice, no source).</summary>
    public double PulsesPerTurn { get; set; } = 2;

    /// <summary>Resistance in ohms while it conducts, positive.</summary>
    public double OnResistance { get; set; } = 60;

    /// <summary>Resistance in ohms while it does not, positive.</summary>
    public double OffResistance { get; set; } = 10e6;

    /// <inheritdoc/>
    public int GuardCount => 2;

    /// <inheritdoc/>
    public string StateName => IsOn ? "on" : "off";

    /// <inheritdoc/>
    public object Memory
    {
        get => halves;
        set => halves = (long)value;
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> States { get; } = ["pulse-count"];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    private bool IsOn => (halves & 1) != 0;

    private double HalfAngle => Math.PI / PulsesPerTurn;

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        (o, g) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]));
        (oo, og, go, gg) = (binder.Slot(o, o), binder.Slot(o, g), binder.Slot(g, o), binder.Slot(g, g));
        motor = binder.Other<DcMotor>(Motor);
    }

    /// <inheritdoc/>
    public override void RenameOthers(Func<string, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(nameOf);
        Motor = nameOf(Motor);
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var s = conductance = 1 / (IsOn ? OnResistance : OffResistance);
        loads.G[oo] += s;
        loads.G[og] -= s;
        loads.G[go] -= s;
        loads.G[gg] += s;
    }

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        var turned = x[motor!.PositionIndex] / HalfAngle - halves;
        values[Ahead] = turned - 1;
        values[Behind] = -turned - Hysteresis;
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x) => halves += guard == Ahead ? 1 : -1;

    /// <inheritdoc/>
    public void Reset() => halves = motor is null ? 0 : (long)Math.Floor(motor.InitialPosition / HalfAngle);

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x) => Math.Floor(halves / 2.0);

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => (x[o] - x[g]) * conductance;

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() =>
        Ranges.Positive(Name, ("pulses per turn", PulsesPerTurn), ("on resistance", OnResistance), ("off resistance", OffResistance));

    /// <inheritdoc/>
    protected override void Detach() => motor = null;
}
