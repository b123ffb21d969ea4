using System.Globalization;
using BoardSim.Quantities;

namespace BoardSim.Scenarios;

/// <summary>Turns values as a unit holds them (kelvin, fractions) into the numbers that its symbol stands for (degrees Celsius, percent).</summary>
public static class ShownValue
{
    /// <summary>The number that goes before the unit's symbol.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="held">The value as the unit holds it.</param>
    public static double Shown(this Unit unit, double held)
    {
        ArgumentNullException.ThrowIfNull(unit);
        var value = (held - unit.Offset) / unit.ShownFactor;
        return unit.ShownPower == 0 ? value : value * Math.Pow(10, -unit.ShownPower);
    }

    /// <summary>The value as the unit holds it.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="shown">The number before the unit's symbol.</param>
    public static double Held(this Unit unit, double shown)
    {
        ArgumentNullException.ThrowIfNull(unit);
        var value = shown * unit.ShownFactor;
        return (unit.ShownPower == 0 ? value : value * Math.Pow(10, unit.ShownPower)) + unit.Offset;
    }

    /// <summary>A value as tables show it: four significant digits with a prefix; hundredths of a degree for temperatures, whose zero is
    /// nothing special.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="held">The value as the unit holds it.</param>
    public static string Display(this Unit unit, double held)
    {
        ArgumentNullException.ThrowIfNull(unit);
        return unit == Unit.Temperature && double.IsFinite(held)
            ? string.Create(CultureInfo.InvariantCulture, $"{unit.Shown(held):0.00} {unit.Symbol}")
            : Quantity.Format(held, unit, 4);
    }
}
