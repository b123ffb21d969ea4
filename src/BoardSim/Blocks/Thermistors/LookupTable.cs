namespace BoardSim.Blocks.Thermistors;

/// <summary>
/// The table in a processor's program that turns converter codes into temperatures: evenly spaced temperatures, straight
/// lines between them, the end values beyond. Programs clamp like this, which is why an open sensor reads as a plausible cold day.
/// </summary>
public sealed class LookupTable
{
    private readonly double[] codes;
    private readonly double[] temperatures;

    /// <summary>Creates the table.</summary>
    /// <param name="codes">Codes, strictly rising or strictly falling; not rounded.</param>
    /// <param name="temperatures">Temperatures in kelvin, as many.</param>
    /// <exception cref="ArgumentException">Fewer than two entries, lengths differ, or codes are not in order.</exception>
    public LookupTable(IReadOnlyList<double> codes, IReadOnlyList<double> temperatures)
    {
        ArgumentNullException.ThrowIfNull(codes);
        ArgumentNullException.ThrowIfNull(temperatures);
        if (codes.Count < 2 || codes.Count != temperatures.Count)
        {
            throw new ArgumentException($"{codes.Count} codes and {temperatures.Count} temperatures; there must be as many of each, and at least two.");
        }

        var rising = codes[^1] > codes[0];
        this.codes = rising ? [.. codes] : [.. codes.Reverse()];
        this.temperatures = rising ? [.. temperatures] : [.. temperatures.Reverse()];
        for (var k = 1; k < this.codes.Length; k++)
        {
            if (!(this.codes[k] > this.codes[k - 1]))
            {
                throw new ArgumentException($"Codes {this.codes[k - 1]} and {this.codes[k]} are not in order.", nameof(codes));
            }
        }
    }

    /// <summary>The table's temperatures in kelvin, in the order of rising codes.</summary>
    public IReadOnlyList<double> Temperatures => temperatures;

    /// <summary>Temperature in kelvin that the program takes a code for.</summary>
    /// <param name="code">Converter code.</param>
    public double Temperature(double code)
    {
        if (code <= codes[0])
        {
            return temperatures[0];
        }

        if (code >= codes[^1])
        {
            return temperatures[^1];
        }

        var k = Array.BinarySearch(codes, code);
        k = k >= 0 ? Math.Min(k, codes.Length - 2) : ~k - 1;
        return temperatures[k] + (code - codes[k]) / (codes[k + 1] - codes[k]) * (temperatures[k + 1] - temperatures[k]);
    }
}
