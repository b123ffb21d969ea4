namespace BoardSim.Measurement;

/// <summary>
/// The two levels that a waveform dwells at, by the histogram method of IEEE Std 181-2011 (5.2; IEC 60469:2013): the range
/// is halved, and each half's level is that of its fullest bin. Bins count time, not samples, so uneven sampling does not
/// matter; within the bin the mean is taken.
/// </summary>
/// <param name="Low">Level of the low state in the waveform's unit.</param>
/// <param name="High">Level of the high state in the waveform's unit; above the low one.</param>
public readonly record struct StateLevels(double Low, double High)
{
    private const int Bins = 1000;

    /// <summary>High minus low.</summary>
    public double Amplitude => High - Low;

    /// <summary>Level at a share of the amplitude above the low state.</summary>
    /// <param name="share">0 for the low state, 0.5 for the middle, 1 for the high state.</param>
    public double Reference(double share) => Low + share * Amplitude;

    /// <summary>Finds the levels.</summary>
    /// <param name="wave">The waveform.</param>
    /// <returns>The levels, or null when the waveform does not change.</returns>
    public static StateLevels? Of(Waveform wave)
    {
        var (low, high) = (wave.Minimum().Value, wave.Maximum().Value);
        if (!(high - low > 1e-12 * Math.Max(Math.Abs(low), Math.Abs(high))) || wave.Duration == 0)
        {
            return null;
        }

        // Per bin the time and the integral of the value; time in whole bins is kept as a difference array, so that a steep
        // piece across many bins costs no more than a flat one.
        var (time, integral, whole) = (new double[Bins], new double[Bins], new double[Bins + 1]);
        var width = (high - low) / Bins;
        var t = wave.Times;
        var v = wave.Values;
        for (var i = 1; i < t.Length; i++)
        {
            var duration = t[i] - t[i - 1];
            var (a, b) = v[i] < v[i - 1] ? (v[i], v[i - 1]) : (v[i - 1], v[i]);
            var (first, last) = (Bin(a, low, width), Bin(b, low, width));
            if (first == last)
            {
                Add(first, duration, (a + b) / 2);
                continue;
            }

            var perValue = duration / (b - a);
            var (firstTop, lastBottom) = (low + (first + 1) * width, low + last * width);
            Add(first, perValue * (firstTop - a), (a + firstTop) / 2);
            Add(last, perValue * (b - lastBottom), (b + lastBottom) / 2);
            whole[first + 1] += perValue * width;
            whole[last] -= perValue * width;
        }

        var running = 0.0;
        for (var bin = 0; bin < Bins; bin++)
        {
            running += whole[bin];
            Add(bin, running, low + (bin + 0.5) * width);
        }

        return new StateLevels(Level(0, Bins / 2), Level(Bins / 2, Bins));

        void Add(int bin, double duration, double mean)
        {
            time[bin] += duration;
            integral[bin] += duration * mean;
        }

        double Level(int from, int to)
        {
            var fullest = from;
            for (var bin = from; bin < to; bin++)
            {
                fullest = time[bin] > time[fullest] ? bin : fullest;
            }

            return time[fullest] > 0 ? integral[fullest] / time[fullest] : low + (fullest + 0.5) * width;
        }
    }

    private static int Bin(double value, double low, double width) => Math.Clamp((int)((value - low) / width), 0, Bins - 1);
}
