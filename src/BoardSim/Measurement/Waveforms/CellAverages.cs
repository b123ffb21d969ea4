namespace BoardSim.Measurement;

/// <summary>Means of a waveform over equal intervals, exact for the straight lines, in one pass.</summary>
internal static class CellAverages
{
    /// <summary>Means over <paramref name="count"/> equal intervals that cover a waveform of positive length.</summary>
    public static double[] Of(Waveform wave, int count)
    {
        var t = wave.Times;
        var v = wave.Values;
        var sums = new double[count];
        var width = wave.Duration / count;
        var cell = 0;
        for (var i = 1; i < t.Length; i++)
        {
            var (time, value) = (t[i - 1], v[i - 1]);
            var slope = t[i] > time ? (v[i] - value) / (t[i] - time) : 0;
            while (time < t[i])
            {
                var border = cell == count - 1 ? wave.End : wave.Start + (cell + 1) * width;
                var until = Math.Min(border, t[i]);
                var next = until == t[i] ? v[i] : v[i - 1] + slope * (until - t[i - 1]);
                sums[cell] += (until - time) * (value + next) / 2;
                (time, value) = (until, next);
                cell += until >= border && cell < count - 1 ? 1 : 0;
            }
        }

        for (var k = 0; k < count; k++)
        {
            sums[k] /= width;
        }

        return sums;
    }
}
