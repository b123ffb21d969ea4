namespace BoardSim.Engine.Circuits;

/// <summary>
/// A device with discrete states. It names guards, continuous functions of time and unknowns; the event is a guard that
/// rises through zero. The transient loop locates the crossing inside the step, lands on it, and calls <see cref="Cross"/>.
/// A guard that has fired is mute until it has been negative again.
/// </summary>
public interface IDiscrete
{
    /// <summary>Number of guards, constant over the device's life.</summary>
    int GuardCount { get; }

    /// <summary>Writes the guards' values for the present discrete state: negative while idle, rising through zero at the event.
    /// A guard without meaning in this state is to be given a constant negative value.</summary>
    /// <param name="time">Time in seconds.</param>
    /// <param name="x">The unknowns, element 0 is the ground.</param>
    /// <param name="values">Receives <see cref="GuardCount"/> values.</param>
    void Guards(double time, ReadOnlySpan<double> x, Span<double> values);

    /// <summary>Changes the discrete state because a guard crossed. The engine stamps the constants again afterwards.</summary>
    /// <param name="guard">Which guard, from 0.</param>
    /// <param name="time">Instant of the crossing, in seconds.</param>
    /// <param name="x">The unknowns just before the change.</param>
    void Cross(int guard, double time, ReadOnlySpan<double> x);

    /// <summary>Puts the device into its state before power-up; called when a run begins.</summary>
    void Reset();

    /// <summary>All that the device remembers beside the unknowns. Read and set by a run that may have to go back; the engine stamps
    /// the constants again after setting it. What is read must not change with the device.</summary>
    object Memory { get; set; }

    /// <summary>The discrete state in one word, for event logs: <c>on</c>, <c>released</c>, <c>open</c>.</summary>
    string StateName { get; }

    /// <summary>The discrete state as far as it bears on a direct-current solution, in words: <see cref="StateName"/>, and what a device that counts or waits knows beside it.
    /// States that are told alike are taken for the same by the search for an operating point.</summary>
    string RestState => StateName;

    /// <summary>Values of <see cref="Memory"/> in which the device may rest for good, but which only time leads to: a latch that an overload sets after a while.
    /// The search for an operating point tries them when it finds no other rest. Asked of a device that has been reset; empty where there are none.</summary>
    IReadOnlyList<object> RestMemories => [];
}
