using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>A source's value over time, with the corners that the transient loop must land on.</summary>
public abstract class SourceWaveform
{
    /// <summary>Value at an instant, in volts or amperes.</summary>
    /// <param name="time">Time in seconds; before zero the value at zero holds.</param>
    public abstract double Value(double time);

    /// <summary>First instant later than <paramref name="time"/> where the value's slope jumps; infinity when there is none.</summary>
    /// <param name="time">Present time in seconds.</param>
    public virtual double NextCorner(double time) => double.PositiveInfinity;

    /// <summary>Longest step in seconds that cannot miss the waveform's shape, at <paramref name="time"/>.</summary>
    /// <param name="time">Present time in seconds.</param>
    public virtual double LongestStep(double time) => double.PositiveInfinity;

    /// <summary>True when the value is the same at every instant between two that have no corner between them.</summary>
    /// <param name="from">First instant in seconds.</param>
    /// <param name="to">Last instant in seconds.</param>
    public virtual bool IsSteady(double from, double to) => false;

    /// <summary>How the value goes on from an instant; a waveform that does not say repeats nothing.</summary>
    /// <param name="time">Present time in seconds.</param>
    public virtual Repetition RepetitionAt(double time) => Repetition.None;

    /// <summary>What is wrong with the parameters, one sentence each.</summary>
    public virtual IEnumerable<string> Problems() => [];
}

/// <summary>Constant value.</summary>
/// <param name="Level">The value, in volts or amperes.</param>
public sealed class DcWaveform(double Level) : SourceWaveform
{
    /// <summary>The value, in volts or amperes.</summary>
    public double Level { get; set; } = Level;

    /// <inheritdoc/>
    public override double Value(double time) => Level;

    /// <inheritdoc/>
    public override bool IsSteady(double from, double to) => true;

    /// <inheritdoc/>
    public override Repetition RepetitionAt(double time) => Repetition.Constant;
}
