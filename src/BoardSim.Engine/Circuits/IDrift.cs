namespace BoardSim.Engine.Circuits;

/// <summary>
/// A device whose nonlinear law has time in it besides the unknowns: an armature on its way, a soft start. The dense output needs the rates of change of all
/// unknowns, and where no charge is held these follow from how the law moves as well. Charges must not depend on time by themselves.
/// </summary>
public interface IDrift
{
    /// <summary>Adds the rate of change with time, at fixed unknowns, of what <see cref="Device.Evaluate"/> adds to F, per second.</summary>
    /// <param name="time">Time in seconds; the law of just before it counts.</param>
    /// <param name="x">The unknowns, element 0 is the ground.</param>
    /// <param name="rate">Receiver by row.</param>
    void AddDrift(double time, ReadOnlySpan<double> x, Span<double> rate);
}
