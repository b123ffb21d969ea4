using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Thermistors;

/// <summary>The lookup table as whoever writes a program makes it: nominal divider, nominal supply, nothing of cable and leakage.</summary>
internal static class DividerTable
{
    // The window in kelvin that tables cover; what lies beyond reads as its ends.
    public const double Start = 233.15;
    public const double End = 378.15;

    /// <summary>Makes a table.</summary>
    /// <param name="law">Law of the thermistor.</param>
    /// <param name="position">Where it sits in the divider.</param>
    /// <param name="dividerOhms">The divider's fixed half, in ohms.</param>
    /// <param name="counts">Code that the divider's supply has.</param>
    /// <param name="entries">Number of entries, evenly spaced from <see cref="Start"/> to <see cref="End"/>.</param>
    public static LookupTable Of(IResistanceCurve law, SensorPosition position, double dividerOhms, double counts, int entries)
    {
        var codes = new double[entries];
        var temperatures = new double[entries];
        for (var k = 0; k < entries; k++)
        {
            temperatures[k] = Start + (End - Start) * k / (entries - 1);
            var sensor = law.Resistance(temperatures[k]);
            var lower = position == SensorPosition.ToGround ? sensor : dividerOhms;
            codes[k] = counts * lower / (sensor + dividerOhms);
        }

        return new LookupTable(codes, temperatures);
    }
}
