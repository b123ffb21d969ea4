namespace BoardSim.Engine.Circuits;

/// <summary>The physical quantity of an unknown; it decides the unit and the absolute floor of its error control.</summary>
public enum UnknownKind
{
    /// <summary>Node voltage, in volts; its equation is Kirchhoff's current law, in amperes.</summary>
    Voltage,

    /// <summary>Branch current, in amperes; its equation is the branch's voltage law, in volts.</summary>
    Current,

    /// <summary>Absolute temperature, in kelvin; its equation is a heat balance, in watts.</summary>
    Temperature,

    /// <summary>Any other state of a device (a position, a speed, a filter's output), in the unit that the device documents.</summary>
    Other,
}
