using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>Something that a program works out of one analog input.</summary>
/// <param name="State">Name of the state that it is read by: lower case words joined by hyphens.</param>
/// <param name="Input">Number of the input, from 0.</param>
/// <param name="Convert">From the input's voltage as a ratio to the reference, as the converter sees it, to the result.</param>
public sealed record AnalogReading(string State, int Input, Func<double, double> Convert);

/// <summary>
/// Analog inputs of a processor with one reference; terminals: reference, ground, and the inputs. Each is a resistance to the ground; what the program works out of them is told as states and
/// does nothing to the circuit, so it costs no step. The reference is the voltage at its node, or a fixed one, and may be off.
/// </summary>
public sealed class AnalogInputs : Device, IStates
{
    private const double Leak = 1e-9;

    private int[] inputs;
    private int[] slots;
    private int r, g, rr, rg, gr, gg;

    /// <summary>Creates the inputs.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="reference">Node of the reference.</param>
    /// <param name="ground">Ground node.</param>
    /// <param name="inputs">Nodes of the inputs.</param>
    public AnalogInputs(string name, string reference, string ground, params string[] inputs)
        : base(name, [reference, ground, .. inputs])
    {
        this.inputs = new int[inputs.Length];
        slots = new int[3 * inputs.Length];
    }

    /// <summary>Fixed reference in volts, positive; null for the voltage of the reference node.</summary>
    public double? FixedReference { get; set; }

    /// <summary>By what share the reference is above its due value, more than -1.</summary>
    public double ReferenceError { get; set; }

    /// <summary>Resistance in ohms of each input to the ground, positive.</summary>
    public double InputResistance { get; set; } = 100e6;

    /// <summary>What is worked out of the inputs.</summary>
    public IReadOnlyList<AnalogReading> Readings { get; set; } = [];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links =>
        inputs.Select((_, k) => new Link(2 + k, 1, LinkKind.Conductive)).Append(new Link(0, 1, LinkKind.Conductive));

    /// <inheritdoc/>
    public IReadOnlyList<string> States => [.. Readings.Select(reading => reading.State)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        r = binder.Node(Nodes[0]);
        g = binder.Node(Nodes[1]);
        (rr, rg, gr, gg) = (binder.Slot(r, r), binder.Slot(r, g), binder.Slot(g, r), binder.Slot(g, g));
        for (var k = 0; k < inputs.Length; k++)
        {
            var n = inputs[k] = binder.Node(Nodes[2 + k]);
            (slots[3 * k], slots[3 * k + 1], slots[3 * k + 2]) = (binder.Slot(n, n), binder.Slot(n, g), binder.Slot(g, n));
        }
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var (m, y) = (loads.G, 1 / InputResistance);
        m[rr] += Leak;
        m[rg] -= Leak;
        m[gr] -= Leak;
        m[gg] += Leak + inputs.Length * y;
        for (var k = 0; k < inputs.Length; k++)
        {
            m[slots[3 * k]] += y;
            m[slots[3 * k + 1]] -= y;
            m[slots[3 * k + 2]] -= y;
        }
    }

    /// <inheritdoc/>
    public double State(int state, double time, ReadOnlySpan<double> x)
    {
        var reading = Readings[state];
        var reference = (FixedReference ?? x[r] - x[g]) * (1 + ReferenceError);

        // Without a reference everything is beyond full scale, as for a converter that is being starved.
        return reading.Convert(reference > 0 ? (x[inputs[reading.Input]] - x[g]) / reference : double.MaxValue);
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Ranges.Positive(
            Name, ("input resistance", InputResistance), ("fixed reference", FixedReference ?? 1), ("reference with its error", 1 + ReferenceError)))
        {
            yield return problem;
        }

        foreach (var reading in Readings.Where(reading => reading.Input < 0 || reading.Input >= inputs.Length))
        {
            yield return $"{Name}: {reading.State} is of input {reading.Input}; there are {inputs.Length}, from 0.";
        }
    }

    /// <inheritdoc/>
    protected override void Detach() => (inputs, slots) = ([.. inputs], [.. slots]);
}
