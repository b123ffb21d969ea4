using System.Globalization;

namespace BoardSim.Quantities;

/// <summary>
/// Preferred values of resistors and capacitors, IEC 60063. E3 to E24 are a table, since eight of its values are not the
/// rounded powers they stand for; E48 and E96 follow the rule 10^(n/N), rounded to three digits.
/// </summary>
public static class PreferredValues
{
    private static readonly int[] E24 = [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91];

    /// <summary>The values of one decade, from 1 to below 10, ascending.</summary>
    /// <param name="series">The series.</param>
    public static IReadOnlyList<double> Decade(PreferredSeries series) => [.. Digits(series).Select(digits => digits.Number / (double)digits.One)];

    /// <summary>True when the value is in the series, in any decade.</summary>
    /// <param name="value">Positive and finite.</param>
    /// <param name="series">The series.</param>
    public static bool Contains(double value, PreferredSeries series) => Math.Abs(Nearest(value, series) / value - 1) < 1e-9;

    /// <summary>The value of the series with the smallest ratio to the given one, in any decade.</summary>
    /// <param name="value">Positive and finite.</param>
    /// <param name="series">The series.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not positive and finite.</exception>
    public static double Nearest(double value, PreferredSeries series)
    {
        if (!(value > 0 && double.IsFinite(value)))
        {
            throw new ArgumentOutOfRangeException(nameof(value), value, "A preferred value is sought for a positive, finite number.");
        }

        var decade = (int)Math.Floor(Math.Log10(value));
        var (best, distance) = (value, double.PositiveInfinity);
        for (var power = decade - 1; power <= decade + 1; power++)
        {
            foreach (var (number, one) in Digits(series))
            {
                // Through text, so that 4700 is 4700 and not a neighbour of it.
                var exponent = power - (one == 10 ? 1 : 2);
                var candidate = double.Parse($"{number}e{exponent}", NumberStyles.Float, CultureInfo.InvariantCulture);
                var away = Math.Abs(Math.Log(candidate / value));
                if (away < distance)
                {
                    (best, distance) = (candidate, away);
                }
            }
        }

        return best;
    }

    private static IEnumerable<(int Number, int One)> Digits(PreferredSeries series)
    {
        var count = (int)series;
        if (!Enum.IsDefined(series))
        {
            throw new ArgumentOutOfRangeException(nameof(series), series, "The series are E3, E6, E12, E24, E48 and E96.");
        }

        return count <= 24
            ? Enumerable.Range(0, count).Select(n => (E24[n * (24 / count)], 10))
            : Enumerable.Range(0, count).Select(n => ((int)Math.Round(100 * Math.Pow(10, n / (double)count)), 100));
    }
}
