namespace BoardSim.Engine.Analyses.Envelopes;

/// <summary>Leaves out samples that straight lines through the others replace: the "swinging door" of process data recorders (from memory).</summary>
internal static class SampleThinning
{
    /// <summary>Samples that are needed, by their number.</summary>
    /// <param name="record">The samples.</param>
    /// <param name="tolerance">How far a straight line may be off, by probe.</param>
    /// <param name="resolution">Longest distance in seconds between samples that are kept; 0 for no limit.</param>
    public static List<int> Needed(RecordPiece record, double[] tolerance, double resolution)
    {
        var (times, values) = (record.Times, record.Values);
        var needed = new List<int>();
        var low = new double[values.Length];
        var high = new double[values.Length];
        var from = -1;
        for (var i = 0; i < times.Length; i++)
        {
            if (from >= 0 && Narrow(i) && !(resolution > 0 && times[i] - times[from] > resolution))
            {
                continue;
            }

            // The door is shut: the sample before is needed, and the next line starts from it.
            from = from < 0 ? i : Math.Max(from + 1, i - 1);
            needed.Add(from);
            Array.Fill(low, double.NegativeInfinity);
            Array.Fill(high, double.PositiveInfinity);
            if (i > from)
            {
                Narrow(i);
            }
        }

        return needed;

        bool Narrow(int i)
        {
            var open = true;
            var dt = times[i] - times[from];
            for (var p = 0; p < values.Length; p++)
            {
                var rise = values[p][i] - values[p][from];
                low[p] = Math.Max(low[p], (rise - tolerance[p]) / dt);
                high[p] = Math.Min(high[p], (rise + tolerance[p]) / dt);
                open &= low[p] <= high[p];
            }

            return open;
        }
    }
}
