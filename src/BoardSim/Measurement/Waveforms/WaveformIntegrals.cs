namespace BoardSim.Measurement;

/// <summary>
/// Exact integrals of the straight lines between samples. Over a piece of length h from a to b the integral is h(a+b)/2 and
/// that of the square h(aa+ab+bb)/3. For a single sample (an operating point) a mean is the sample itself.
/// </summary>
public static class WaveformIntegrals
{
    /// <summary>Integral over time, in the waveform's unit times seconds.</summary>
    /// <param name="wave">The waveform.</param>
    public static double Integral(this Waveform wave)
    {
        ArgumentNullException.ThrowIfNull(wave);
        var t = wave.Times;
        var v = wave.Values;
        var sum = 0.0;
        for (var i = 1; i < t.Length; i++)
        {
            sum += (t[i] - t[i - 1]) * (v[i] + v[i - 1]);
        }

        return sum / 2;
    }

    /// <summary>Integral of the square over time, in the square of the waveform's unit times seconds.</summary>
    /// <param name="wave">The waveform.</param>
    public static double IntegralOfSquare(this Waveform wave) => SquareAbout(wave, 0);

    /// <summary>Mean over the waveform's duration.</summary>
    /// <param name="wave">The waveform.</param>
    public static double Mean(this Waveform wave)
    {
        ArgumentNullException.ThrowIfNull(wave);
        return wave.Duration > 0 ? wave.Integral() / wave.Duration : wave.Values[0];
    }

    /// <summary>Root of the mean square, steady component included.</summary>
    /// <param name="wave">The waveform.</param>
    public static double Rms(this Waveform wave)
    {
        ArgumentNullException.ThrowIfNull(wave);
        return wave.Duration > 0 ? Math.Sqrt(SquareAbout(wave, 0) / wave.Duration) : Math.Abs(wave.Values[0]);
    }

    /// <summary>Root of the mean square about the mean: the alternating part alone.</summary>
    /// <param name="wave">The waveform.</param>
    public static double AcRms(this Waveform wave)
    {
        ArgumentNullException.ThrowIfNull(wave);
        return wave.Duration > 0 ? Math.Sqrt(SquareAbout(wave, wave.Mean()) / wave.Duration) : 0;
    }

    /// <summary>Mean of the distance from a level: mean of |v - level|.</summary>
    /// <param name="wave">The waveform.</param>
    /// <param name="level">The level in the waveform's unit.</param>
    public static double MeanAbsolute(this Waveform wave, double level = 0)
    {
        ArgumentNullException.ThrowIfNull(wave);
        if (wave.Duration == 0)
        {
            return Math.Abs(wave.Values[0] - level);
        }

        var t = wave.Times;
        var v = wave.Values;
        var sum = 0.0;
        for (var i = 1; i < t.Length; i++)
        {
            var (a, b) = (v[i - 1] - level, v[i] - level);
            // Where the line passes zero, two triangles remain.
            sum += (t[i] - t[i - 1]) * (a * b < 0 ? (a * a + b * b) / (Math.Abs(a) + Math.Abs(b)) : Math.Abs(a + b));
        }

        return sum / 2 / wave.Duration;
    }

    /// <summary>Time in seconds that the waveform spends above a level.</summary>
    /// <param name="wave">The waveform.</param>
    /// <param name="level">The level in the waveform's unit.</param>
    public static double TimeAbove(this Waveform wave, double level)
    {
        ArgumentNullException.ThrowIfNull(wave);
        var t = wave.Times;
        var v = wave.Values;
        var sum = 0.0;
        for (var i = 1; i < t.Length; i++)
        {
            var (low, high) = v[i] < v[i - 1] ? (v[i], v[i - 1]) : (v[i - 1], v[i]);
            sum += (t[i] - t[i - 1]) * (low >= level ? (high > level ? 1 : 0) : high <= level ? 0 : (high - level) / (high - low));
        }

        return sum;
    }

    /// <summary>Mean of the product of two waveforms over the time they share; exact, also where both change. Voltage times current gives the real power in watts.</summary>
    /// <param name="first">The first waveform.</param>
    /// <param name="second">The second waveform; it may have other instants.</param>
    /// <exception cref="ArgumentException">They share no time.</exception>
    public static double MeanOfProduct(Waveform first, Waveform second)
    {
        var (a, b) = WaveformArithmetic.OnSharedTimes(first, second);
        if (a.Duration == 0)
        {
            return a.Values[^1] * b.Values[^1];
        }

        var t = a.Times;
        var u = a.Values;
        var v = b.Values;
        var sum = 0.0;
        for (var i = 1; i < t.Length; i++)
        {
            sum += (t[i] - t[i - 1]) * (2 * (u[i - 1] * v[i - 1] + u[i] * v[i]) + u[i - 1] * v[i] + u[i] * v[i - 1]);
        }

        return sum / 6 / a.Duration;
    }

    private static double SquareAbout(Waveform wave, double level)
    {
        ArgumentNullException.ThrowIfNull(wave);
        var t = wave.Times;
        var v = wave.Values;
        var sum = 0.0;
        for (var i = 1; i < t.Length; i++)
        {
            var (a, b) = (v[i - 1] - level, v[i] - level);
            sum += (t[i] - t[i - 1]) * (a * a + a * b + b * b);
        }

        return sum / 3;
    }
}
