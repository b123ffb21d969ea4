using System.Numerics;
using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>Independent current source; terminals: from, to. A positive current flows from the first node through the source to the second, as in SPICE.</summary>
public sealed class CurrentSource : Device, ITimed, ISmallSignal
{
    private int a, b;

    /// <summary>Creates a source of constant current.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="from">Node that the current is drawn from.</param>
    /// <param name="to">Node that it is pushed into.</param>
    /// <param name="amperes">Current in amperes.</param>
    public CurrentSource(string name, string from, string to, double amperes = 0)
        : this(name, from, to, new DcWaveform(amperes))
    {
    }

    /// <summary>Creates a source with a waveform.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="from">Node that the current is drawn from.</param>
    /// <param name="to">Node that it is pushed into.</param>
    /// <param name="waveform">Current over time.</param>
    public CurrentSource(string name, string from, string to, SourceWaveform waveform)
        : base(name, from, to) => Waveform = waveform;

    /// <summary>Current over time.</summary>
    public SourceWaveform Waveform { get; set; }

    /// <summary>Current in amperes for operating point and DC sweep, where it differs from the waveform at time zero; else null.</summary>
    public double? DcValue { get; set; }

    /// <summary>Phasor in amperes for the small-signal analysis.</summary>
    public Complex SmallSignal { get; set; }

    /// <inheritdoc/>
    public bool IsActive => SmallSignal != Complex.Zero;

    /// <inheritdoc/>
    public override bool IsExcited => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? ExcitedRows => [a, b];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.CurrentDefined)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        a = binder.Node(Nodes[0]);
        b = binder.Node(Nodes[1]);
    }

    /// <inheritdoc/>
    public override void Excite(Loads loads)
    {
        var amperes = loads.SourceScale * (loads.IsStatic && DcValue is { } dc ? dc : Waveform.Value(loads.Time));
        loads.F[a] += amperes;
        loads.F[b] -= amperes;
    }

    /// <inheritdoc/>
    public void ExciteSmallSignal(Span<Complex> f)
    {
        f[a] += SmallSignal;
        f[b] -= SmallSignal;
    }

    /// <inheritdoc/>
    public double NextCorner(double time) => Waveform.NextCorner(time);

    /// <inheritdoc/>
    public double LongestStep(double time) => Waveform.LongestStep(time);

    /// <inheritdoc/>
    public bool IsSteady(double from, double to) => Waveform.IsSteady(from, to);

    /// <inheritdoc/>
    public Repetition RepetitionAt(double time) => Waveform.RepetitionAt(time);

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() => Waveform.Problems().Select(p => $"{Name}: {p}");
}
