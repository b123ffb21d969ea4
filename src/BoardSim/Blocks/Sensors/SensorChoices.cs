namespace BoardSim.Blocks.Sensors;

/// <summary>What the converter of several channels measures against.</summary>
public enum SensorReference
{
    /// <summary>The processor's supply, ahead of the sensors' common resistor: what that resistor drops reads as wrong temperatures.</summary>
    Supply,

    /// <summary>The sensors' common supply itself: what happens to it cancels out (ratiometric).</summary>
    SensorSupply,

    /// <summary>A fixed voltage.</summary>
    Fixed,
}
