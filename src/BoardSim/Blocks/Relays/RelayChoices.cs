namespace BoardSim.Blocks.Relays;

/// <summary>What switches the coil.</summary>
public enum CoilDriver
{
    /// <summary>A small NPN transistor.</summary>
    Npn,

    /// <summary>A Darlington channel: two transistors in one, as in driver arrays.</summary>
    Darlington,

    /// <summary>Nothing: the processor's port feeds the coil itself. It cannot, and the block shows why.</summary>
    None,
}

/// <summary>Where the coil's current goes when the transistor turns off. The higher the voltage it has to work against, the sooner
/// it is gone and the sooner the relay lets go; the transistor has to stand that voltage on top of the rail's.</summary>
public enum FreeWheelPath
{
    /// <summary>A diode: gentlest on the transistor, slowest release.</summary>
    Diode,

    /// <summary>A diode with a resistor in series: the voltage falls with the current.</summary>
    DiodeAndResistor,

    /// <summary>A diode with a Zener diode in series: the voltage stays until the current is gone.</summary>
    DiodeAndZener,

    /// <summary>A resistor and a capacitor in series across the coil, without a diode: the current swings into the capacitor. No polarity to get wrong, but
    /// voltage and time depend on the coil.</summary>
    ResistorAndCapacitor,
}
