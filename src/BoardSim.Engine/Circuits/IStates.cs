namespace BoardSim.Engine.Circuits;

/// <summary>
/// A device with states that are worth a trace of their own and are no unknowns of the circuit: an armature's position, a count of
/// resets, the melting integral of a fuse. States that are unknowns (a temperature, a speed) need no such interface: they are read by the unknown's name.
/// </summary>
public interface IStates
{
    /// <summary>Names of the states: lower case words joined by hyphens, constant over the device's life.</summary>
    IReadOnlyList<string> States { get; }

    /// <summary>Value of a state at an instant within the present discrete state.</summary>
    /// <param name="state">Number of the state, from 0.</param>
    /// <param name="time">Time in seconds.</param>
    /// <param name="x">The unknowns at that time, element 0 is the ground.</param>
    double State(int state, double time, ReadOnlySpan<double> x);
}
