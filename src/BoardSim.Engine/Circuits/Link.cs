namespace BoardSim.Engine.Circuits;

/// <summary>How two terminals of a device are linked, for the structural check.</summary>
public enum LinkKind
{
    /// <summary>Conducts at direct current (resistor, junction, switch, channel).</summary>
    Conductive,

    /// <summary>Forces a voltage (voltage source, controlled voltage source).</summary>
    VoltageDefined,

    /// <summary>A short at direct current, with a flux of its own (inductor, winding).</summary>
    Inductive,

    /// <summary>No path at direct current (capacitor).</summary>
    Capacitive,

    /// <summary>Forces a current (current source).</summary>
    CurrentDefined,
}

/// <summary>A link between two terminals of a device.</summary>
/// <param name="From">Terminal number, from 0.</param>
/// <param name="To">Terminal number, from 0.</param>
/// <param name="Kind">What links them.</param>
public readonly record struct Link(int From, int To, LinkKind Kind);
