namespace BoardSim.Blocks.Thermistors;

/// <summary>Where the thermistor sits in its divider.</summary>
public enum SensorPosition
{
    /// <summary>Between pin and ground: the pin's voltage falls when it gets warmer.</summary>
    ToGround,

    /// <summary>Between supply and pin: the pin's voltage rises when it gets warmer.</summary>
    ToSupply,
}

/// <summary>Which law the thermistor follows.</summary>
public enum SensorCurve
{
    /// <summary>R25 and B.</summary>
    Beta,

    /// <summary>Three constants.</summary>
    SteinhartHart,

    /// <summary>The resistance-temperature table in <see cref="ThermistorInput.SensorTable"/>.</summary>
    Table,
}

/// <summary>What the converter measures against.</summary>
public enum ConverterReference
{
    /// <summary>The supply of the divider: what the supply does cancels out (ratiometric).</summary>
    Supply,

    /// <summary>A reference of its own: a drifting supply reads as a wrong temperature.</summary>
    Fixed,
}

/// <summary>Whether the sensor's plug is in the board.</summary>
public enum ConnectorState
{
    /// <summary>Sensor connected to the board.</summary>
    Plugged,

    /// <summary>Plug pulled, an ohmmeter on its two contacts.</summary>
    Unplugged,
}

/// <summary>What decides on the sensor's temperature.</summary>
public enum SensorPlace
{
    /// <summary>The temperature that is set.</summary>
    SetTemperature,

    /// <summary>The air of a thermal circuit, at the block's port of that name.</summary>
    Air,
}
