namespace BoardSim.Reports.Results;

/// <summary>
/// Leaves out samples that say nothing: those that lie within a tolerance of the straight line between the samples that stay.
/// All waveforms on the same instants are thinned together, so that they keep sharing them. Jumps and both ends always stay.
/// </summary>
internal static class Thinning
{
    /// <summary>Indices of the samples that stay, rising.</summary>
    /// <param name="times">Instants, not falling.</param>
    /// <param name="waveforms">Values at these instants.</param>
    /// <param name="tolerances">Greatest departure of each waveform, zero or more.</param>
    public static List<int> Keep(double[] times, IReadOnlyList<double[]> waveforms, IReadOnlyList<double> tolerances)
    {
        List<int> kept = times.Length > 0 ? [0] : [];
        // From the last sample kept, each waveform sees a cone of slopes that pass all samples since within tolerance.
        var low = new double[waveforms.Count];
        var high = new double[waveforms.Count];
        Open();
        for (var k = 1; k < times.Length; k++)
        {
            var pivot = kept[^1];
            var jump = times[k] == times[k - 1];
            if (jump || !Reaches(pivot, k))
            {
                // The sample before was inside every cone when it was looked at, so the line may end there.
                if (k - 1 > pivot)
                    kept.Add(k - 1);
                Open();
                if (jump)
                {
                    kept.Add(k);
                    continue;
                }
            }

            Narrow(kept[^1], k);
        }

        if (times.Length > 1 && kept[^1] != times.Length - 1)
            kept.Add(times.Length - 1);
        return kept;

        void Open()
        {
            Array.Fill(low, double.NegativeInfinity);
            Array.Fill(high, double.PositiveInfinity);
        }

        bool Reaches(int pivot, int k)
        {
            for (var w = 0; w < waveforms.Count; w++)
            {
                var slope = (waveforms[w][k] - waveforms[w][pivot]) / (times[k] - times[pivot]);
                if (slope < low[w] || slope > high[w])
                    return false;
            }

            return true;
        }

        void Narrow(int pivot, int k)
        {
            for (var w = 0; w < waveforms.Count; w++)
            {
                var rise = waveforms[w][k] - waveforms[w][pivot];
                var run = times[k] - times[pivot];
                low[w] = Math.Max(low[w], (rise - tolerances[w]) / run);
                high[w] = Math.Min(high[w], (rise + tolerances[w]) / run);
            }
        }
    }
}
