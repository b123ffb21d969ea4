using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Rectifiers;

/// <summary>Diode parameters that the blocks share; typical of the class of part, not of a product.</summary>
public static class RectifierModels
{
    /// <summary>1 A, 1000 V silicon rectifier for the line: 0.9 V at 1 A. Its stored charge is left out: at line frequency the current
    /// dies down so slowly that it only makes radio noise, which is no business of this block.</summary>
    public static DiodeModel Line { get; } = new()
    {
        SaturationCurrent = 5e-9,
        EmissionCoefficient = 1.8,
        SeriesResistance = 0.04,
        JunctionCapacitance = 15e-12,
        JunctionPotential = 0.7,
        Grading = 0.45,
        BreakdownVoltage = 1100,
    };

    /// <summary>Threshold voltage in volts of the same diode: where the tangent to its curve at 1 A, 0.93 V there, meets zero current.</summary>
    public const double LineThreshold = 0.845;

    /// <summary>Slope resistance in ohms of that tangent: N Vt / I and the series resistance.</summary>
    public const double LineSlope = 0.087;
}
