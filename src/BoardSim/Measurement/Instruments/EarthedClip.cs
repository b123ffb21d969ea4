using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Measurement;

/// <summary>
/// Reference clip of an oscilloscope that is bonded to protective earth, as that of any mains-powered one is: wherever it is put, it ties that
/// node to earth through its own lead and the mains lead. What flows there is computed with the circuit.
/// </summary>
public sealed record EarthedClip
{
    /// <summary>Resistance from the clip to protective earth in ohms, positive; 0.2 ohm for clip lead and mains lead (common practice, no source).</summary>
    public double Resistance { get; init; } = 0.2;

    /// <summary>Connects the clip: adds <c>R</c>name<c>_clip</c>, or the switch <c>S</c>name<c>_clip</c> of the same resistance when it is put on later.</summary>
    /// <param name="circuit">The circuit; it must not have parts of those names.</param>
    /// <param name="clipNode">Node under the clip.</param>
    /// <param name="earthNode">Node of protective earth.</param>
    /// <param name="name">Name of the connection, without spaces.</param>
    /// <param name="at">Instant in seconds when the clip is put on; null when it is on all the time.</param>
    public void Attach(Circuit circuit, string clipNode, string earthNode, string name, double? at = null)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        if (at is { } instant)
        {
            LeadSwitch.Add(circuit, $"{name}_clip", clipNode, earthNode, instant, Resistance);
        }
        else
        {
            circuit.Add(new Resistor($"R{name}_clip", clipNode, earthNode, Resistance));
        }
    }
}
