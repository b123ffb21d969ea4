using BoardSim.Quantities;

namespace BoardSim.Scenarios;

/// <summary>Turns values as a unit holds them (kelvin, fractions) into the numbers that its symbol stands for (degrees Celsius, percent).</summary>
internal static class ShownValue
{
    /// <summary>The number that goes before the unit's symbol.</summary>
    public static double Shown(this Unit unit, double held) =>
        unit.ShownPower == 0 ? held - unit.Offset : (held - unit.Offset) * Math.Pow(10, -unit.ShownPower);

    /// <summary>The value as the unit holds it.</summary>
    public static double Held(this Unit unit, double shown) =>
        unit.ShownPower == 0 ? shown + unit.Offset : shown * Math.Pow(10, unit.ShownPower) + unit.Offset;
}
