using System.Globalization;
using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>A range of a digital display.</summary>
/// <param name="FullScale">Largest value in SI units that the range shows.</param>
/// <param name="Resolution">One count in SI units, a power of ten.</param>
internal readonly record struct DisplayRange(double FullScale, double Resolution)
{
    /// <summary>The range of a full scale for a display of so many counts: the finest decade that holds it.</summary>
    public static DisplayRange For(double fullScale, int counts) =>
        new(fullScale, Math.Pow(10, Math.Ceiling(Math.Log10(fullScale / counts) - 1e-9)));

    /// <summary>A value rounded to counts.</summary>
    public double Round(double value)
    {
        // Dividing by a whole power of ten gives the number nearest to the digits; multiplying by 0.1 does not.
        var perUnit = Math.Round(1 / Resolution);
        return Resolution < 1
            ? Math.Round(value * perUnit, MidpointRounding.AwayFromZero) / perUnit
            : Math.Round(value / Resolution, MidpointRounding.AwayFromZero) * Resolution;
    }

    /// <summary>True when the rounded magnitude fits.</summary>
    public bool Holds(double value) => Math.Abs(Round(value)) <= FullScale * (1 + 1e-9);

    /// <summary>The value as digits and prefixed unit; the range, not the value, sets prefix and decimals.</summary>
    public string Show(double value, Unit unit)
    {
        var power = Math.Clamp(3 * (int)Math.Floor(Math.Log10(FullScale * 0.999) / 3), -9, 9);
        var decimals = Math.Max(0, power - (int)Math.Round(Math.Log10(Resolution)));
        var number = Round(value) / Math.Pow(10, power);
        // No minus sign before nothing but zeros.
        return $"{(number == 0 ? 0 : number).ToString($"F{decimals}", CultureInfo.InvariantCulture)} {SiPrefix.Symbol(power)}{unit.Symbol}";
    }
}
