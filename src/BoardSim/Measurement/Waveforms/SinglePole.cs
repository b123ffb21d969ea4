namespace BoardSim.Measurement;

/// <summary>
/// First-order low-pass and high-pass filters, exact for the straight lines between samples. Along a piece u0 + s x the output
/// of the low-pass is u0 + s (x - T) + (y0 - u0 + s T) exp(-x/T) with T = 1/(2 pi corner): the line, late by T, and the
/// decay of the distance from it. Where that decay would be lost between two samples, samples are put in.
/// </summary>
public static class SinglePole
{
    /// <summary>Largest distance, as a share of the input's range, between the exact output and its straight lines.</summary>
    private const double LineError = 1e-5;

    /// <summary>What passes a low-pass filter; jumps are rounded off.</summary>
    /// <param name="wave">The input.</param>
    /// <param name="corner">Frequency of 3 dB loss in hertz, positive.</param>
    /// <param name="start">State at the start.</param>
    public static Waveform LowPass(Waveform wave, double corner, FilterStart start = FilterStart.FirstValue) =>
        Filter(wave, corner, start, high: false);

    /// <summary>What passes a high-pass filter, the coupling capacitor of an instrument; jumps pass in full.</summary>
    /// <param name="wave">The input.</param>
    /// <param name="corner">Frequency of 3 dB loss in hertz, positive.</param>
    /// <param name="start">State at the start; settled on the first value, the output starts at zero.</param>
    public static Waveform HighPass(Waveform wave, double corner, FilterStart start = FilterStart.FirstValue) =>
        Filter(wave, corner, start, high: true);

    private static Waveform Filter(Waveform wave, double corner, FilterStart start, bool high)
    {
        ArgumentNullException.ThrowIfNull(wave);
        if (!(corner > 0 && double.IsFinite(corner)))
        {
            throw new ArgumentOutOfRangeException(nameof(corner), corner, "A filter's corner frequency is positive and finite.");
        }

        var lag = 1 / (2 * Math.PI * corner);
        var t = wave.Times;
        var u = wave.Values;
        var y = start == FilterStart.Periodic && wave.Duration > 0 ? PeriodicState(wave, lag) : u[0];
        // The second term keeps a constant wave's rounding errors from asking for samples.
        var allowed = LineError * wave.PeakToPeak() + 1e-14 * Math.Abs(wave.Peak().Value) + double.Epsilon;
        var (times, values) = (new List<double>(t.Length + 16), new List<double>(t.Length + 16));
        Put(t[0], u[0], y);
        for (var i = 1; i < t.Length; i++)
        {
            var length = t[i] - t[i - 1];
            if (length == 0)
            {
                // The output of a low-pass does not jump; a second sample at the instant would say nothing new.
                if (high)
                {
                    Put(t[i], u[i], y);
                }

                continue;
            }

            var slope = (u[i] - u[i - 1]) / length;
            var x = 0.0;
            while ((x = Next(x, length, y - u[i - 1] + slope * lag)) < length)
            {
                Put(Math.Min(t[i - 1] + x, t[i]), u[i - 1] + slope * x, Step(y, u[i - 1], slope, x, lag));
            }

            y = Step(y, u[i - 1], slope, length, lag);
            Put(t[i], u[i], y);
        }

        return Waveform.Adopt(wave.Name, wave.Unit, [.. times], [.. values]);

        void Put(double time, double input, double low)
        {
            times.Add(time);
            values.Add(high ? input - low : low);
        }

        // Next sample within a piece: a chord over h misses a decay d exp(-x/T) by d exp(-x/T) (h/T)^2/8.
        double Next(double x, double length, double decay)
        {
            var left = Math.Abs(decay) * Math.Exp(-x / lag);
            return left <= allowed ? length : x + lag * Math.Sqrt(8 * allowed / left);
        }
    }

    /// <summary>Output of the low-pass after a time, from its value and a ramp of the input.</summary>
    private static double Step(double y, double input, double slope, double time, double lag)
    {
        var x = time / lag;
        var decay = Math.Exp(-x);
        var change = -Expm1(-x);
        // x - (1 - exp(-x)) loses all digits for small x, hence the series.
        var behind = x < 1e-3 ? x * x / 2 * (1 - x / 3 * (1 - x / 4)) : x - change;
        return y * decay + input * change + slope * lag * behind;
    }

    /// <summary>The value that the low-pass comes back to after one pass.</summary>
    private static double PeriodicState(Waveform wave, double lag)
    {
        var t = wave.Times;
        var u = wave.Values;
        // About the first value, so that a small ripple on a large level keeps its digits.
        var y = 0.0;
        for (var i = 1; i < t.Length; i++)
        {
            var length = t[i] - t[i - 1];
            y = length > 0 ? Step(y, u[i - 1] - u[0], (u[i] - u[i - 1]) / length, length, lag) : y;
        }

        return u[0] + y / -Expm1(-wave.Duration / lag);
    }

    /// <summary>exp(x) - 1 without loss of digits near zero.</summary>
    private static double Expm1(double x) => Math.Abs(x) < 1e-5 ? x * (1 + x / 2 * (1 + x / 3)) : Math.Exp(x) - 1;
}
