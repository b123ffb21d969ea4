using BoardSim.Quantities;

namespace BoardSim.Scenarios.Expectations;

/// <summary>The units that the sides of an expectation have.</summary>
internal static class ExpectationUnits
{
    /// <summary>Unit of the left side, made of operands of one unit.</summary>
    public static Unit OfLeft(Unit operand, Combination combination) => combination switch
    {
        Combination.Ratio => Unit.Ratio,
        Combination.Difference => OfDifference(operand),
        _ => operand,
    };

    /// <summary>Unit of the difference of two values: that of points on the temperature scale is in kelvin.</summary>
    public static Unit OfDifference(Unit unit) => unit == Unit.Temperature ? Unit.Kelvin : unit;

    /// <summary>Reads a tolerance: a percentage of the expected value, or a difference in its unit.</summary>
    public static bool TryTolerance(string text, Unit unit, out double tolerance, out bool relative, out string problem)
    {
        relative = unit != Unit.Percent && unit != Unit.Temperature && text.EndsWith('%');
        if (!Quantity.TryParse(text, relative ? Unit.Percent : OfDifference(unit), out tolerance, out problem))
        {
            return false;
        }

        problem = tolerance > 0 ? "" : $"\"{text}\" is no tolerance; it has to be more than zero.";
        return tolerance > 0;
    }
}
