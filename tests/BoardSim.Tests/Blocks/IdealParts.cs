using BoardSim.Engine.Devices;

namespace BoardSim.Tests.Blocks;

/// <summary>Parts that come close to the ideal ones of text books, so that a text book's numbers can be held against them.</summary>
internal static class IdealParts
{
    /// <summary>Diode with a drop of some tens of millivolts at any current of interest.</summary>
    public static DiodeModel Diode { get; } = new() { SaturationCurrent = 1e-12, EmissionCoefficient = 0.05 };

    /// <summary>Switch between a milliohm and ten megohms, on above 0.5 V.</summary>
    public static SwitchModel Switch { get; } = new() { OnResistance = 1e-3, OffResistance = 10e6, Threshold = 0.5, Hysteresis = 0.1 };
}
