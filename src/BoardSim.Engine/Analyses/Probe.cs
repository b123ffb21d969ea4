using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses;

/// <summary>What to record: a voltage between two nodes, the current of a part, or a state of a part.</summary>
public sealed class Probe
{
    private readonly Func<CircuitSystem, BoundProbe> bind;

    private Probe(string label, string unit, Func<CircuitSystem, BoundProbe> bind)
    {
        Label = label;
        Unit = unit;
        this.bind = bind;
    }

    /// <summary>Name in SPICE's manner: <c>V(out)</c>, <c>V(a,b)</c>, <c>I(L1)</c>.</summary>
    public string Label { get; }

    /// <summary>Unit symbol: V, A, K, or empty for a state in the part's own unit.</summary>
    public string Unit { get; }

    /// <summary>Voltage of a node against another.</summary>
    /// <param name="node">Name of the node.</param>
    /// <param name="reference">Name of the reference node.</param>
    public static Probe Voltage(string node, string reference = Circuit.Ground) =>
        new(reference == Circuit.Ground ? $"V({node})" : $"V({node},{reference})", "V", s => new BoundProbe(s.NodeIndex(node), s.NodeIndex(reference)));

    /// <summary>Current of a part, into its first terminal.</summary>
    /// <param name="device">Name of the part.</param>
    public static Probe Current(string device) =>
        new($"I({device})", "A", s => s.BranchIndex(device) is var i and > 0
            ? new BoundProbe(i, 0)
            : s.Circuit.Find(device) switch
            {
                ICurrent source => new BoundProbe(source),
                null => throw new KeyNotFoundException($"The circuit has no part named {device}."),
                _ => throw new InvalidOperationException($"The current of {device} cannot be read directly; put a 0 V source in series and read that."),
            });

    /// <summary>A named unknown: a state of a part.</summary>
    /// <param name="name">Name, for example <c>RT1#temperature</c>.</param>
    public static Probe Unknown(string name) =>
        new(name, "", s => new BoundProbe(
            s.Unknowns.FirstOrDefault(u => string.Equals(u.Name, name, StringComparison.OrdinalIgnoreCase))?.Index
                ?? throw new KeyNotFoundException($"The circuit has no unknown named {name}."),
            0));

    /// <summary>A state of a part, in the part's own unit: one that the part tells of (<see cref="IStates"/>), or else the unknown of that name.</summary>
    /// <param name="device">Name of the part.</param>
    /// <param name="state">Name of the state, for example <c>temperature</c>.</param>
    public static Probe State(string device, string state) =>
        new($"{device}#{state}", "", s =>
        {
            if (s.Circuit.Find(device) is IStates own)
            {
                for (var k = 0; k < own.States.Count; k++)
                {
                    if (string.Equals(own.States[k], state, StringComparison.OrdinalIgnoreCase))
                    {
                        return new BoundProbe(own, k);
                    }
                }
            }

            return Unknown($"{device}#{state}").Bind(s);
        });

    internal BoundProbe Bind(CircuitSystem system) => bind(system);
}

/// <summary>A probe with its indices in a compiled system.</summary>
internal readonly struct BoundProbe
{
    private readonly int plus;
    private readonly int minus;
    private readonly object? source;
    private readonly bool isCurrent;

    public BoundProbe(int plus, int minus) => (this.plus, this.minus) = (plus, minus);

    public BoundProbe(ICurrent current) => (source, isCurrent) = (current, true);

    public BoundProbe(IStates states, int state) => (source, plus) = (states, state);

    /// <summary>False for a state of a part that is no unknown: small signals know nothing of it.</summary>
    public bool IsOfUnknowns => source is null || isCurrent;

    /// <summary>True for a current that follows from the unknowns by a law that is no straight line.</summary>
    public bool IsBent => isCurrent && source is Device { IsNonlinear: true };

    /// <summary>How the probed quantity changes along a direction of the unknowns, at a point: what a small signal shows.</summary>
    /// <param name="x">The point.</param>
    /// <param name="direction">The direction, in the unknowns' own units.</param>
    /// <param name="work">Room for as many unknowns.</param>
    public double Derivative(ReadOnlySpan<double> x, ReadOnlySpan<double> direction, Span<double> work)
    {
        if (source is null)
        {
            return direction[plus] - direction[minus];
        }

        // A junction's current bends within its thermal voltage: a ten-thousandth of that leaves an error of the third order far below rounding's share.
        const double reach = 1e-5;
        var largest = 0.0;
        foreach (var d in direction)
        {
            largest = Math.Max(largest, Math.Abs(d));
        }

        if (largest == 0)
        {
            return 0;
        }

        var h = reach / largest;
        return (Moved(h, x, direction, work) - Moved(-h, x, direction, work)) / (2 * h);
    }

    private double Moved(double h, ReadOnlySpan<double> x, ReadOnlySpan<double> direction, Span<double> work)
    {
        for (var i = 0; i < x.Length; i++)
        {
            work[i] = x[i] + h * direction[i];
        }

        return Value(0, work);
    }

    public double Value(double time, ReadOnlySpan<double> x) => source switch
    {
        null => x[plus] - x[minus],
        _ when isCurrent => ((ICurrent)source).Current(x),
        _ => ((IStates)source).State(plus, time, x),
    };
}
