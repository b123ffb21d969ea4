using System.Numerics;
using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>Independent voltage source; terminals: positive, negative. Its current is counted from positive to negative inside the part, as SPICE does.</summary>
public sealed class VoltageSource : Device, ITimed, ISmallSignal, ICurrent, IBranch
{
    private int p, n, i, pi, ni, ip, inn;

    /// <summary>Creates a source of constant voltage.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="positive">Positive node.</param>
    /// <param name="negative">Negative node.</param>
    /// <param name="volts">Voltage in volts.</param>
    public VoltageSource(string name, string positive, string negative, double volts = 0)
        : this(name, positive, negative, new DcWaveform(volts))
    {
    }

    /// <summary>Creates a source with a waveform.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="positive">Positive node.</param>
    /// <param name="negative">Negative node.</param>
    /// <param name="waveform">Voltage over time.</param>
    public VoltageSource(string name, string positive, string negative, SourceWaveform waveform)
        : base(name, positive, negative) => Waveform = waveform;

    /// <summary>Voltage over time.</summary>
    public SourceWaveform Waveform { get; set; }

    /// <summary>Voltage in volts for operating point and DC sweep, where it differs from the waveform at time zero; else null.</summary>
    public double? DcValue { get; set; }

    /// <summary>Phasor in volts for the small-signal analysis.</summary>
    public Complex SmallSignal { get; set; }

    /// <inheritdoc/>
    public bool IsActive => SmallSignal != Complex.Zero;

    /// <inheritdoc/>
    public override bool IsExcited => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? ExcitedRows => [i];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.VoltageDefined)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        p = binder.Node(Nodes[0]);
        n = binder.Node(Nodes[1]);
        i = binder.Branch();
        (pi, ni, ip, inn) = (binder.Slot(p, i), binder.Slot(n, i), binder.Slot(i, p), binder.Slot(i, n));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        loads.G[pi] += 1;
        loads.G[ni] -= 1;
        loads.G[ip] += 1;
        loads.G[inn] -= 1;
    }

    /// <inheritdoc/>
    public override void Excite(Loads loads) =>
        loads.F[i] -= loads.SourceScale * (loads.IsStatic && DcValue is { } dc ? dc : Waveform.Value(loads.Time));

    /// <inheritdoc/>
    public void ExciteSmallSignal(Span<Complex> f) => f[i] -= SmallSignal;

    /// <inheritdoc/>
    public double NextCorner(double time) => Waveform.NextCorner(time);

    /// <inheritdoc/>
    public double LongestStep(double time) => Waveform.LongestStep(time);

    /// <inheritdoc/>
    public bool IsSteady(double from, double to) => Waveform.IsSteady(from, to);

    /// <inheritdoc/>
    public Repetition RepetitionAt(double time) => Waveform.RepetitionAt(time);

    /// <inheritdoc/>
    public double Current(ReadOnlySpan<double> x) => x[i];

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() => Waveform.Problems().Select(p => $"{Name}: {p}");
}
