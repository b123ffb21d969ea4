namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>Turns a record into columns and back, so that its time can be counted anew and its end cut to length.</summary>
internal static class Columns
{
    /// <summary>Time first, then a column for each probe.</summary>
    public static double[][] Of(Recorder recorder, int probes) => [.. Enumerable.Range(0, probes + 1).Select(recorder.Samples.Column)];

    /// <summary>The samples with these columns.</summary>
    public static SampleStore Store(double[][] columns)
    {
        var store = new SampleStore(columns.Length);
        for (var k = 0; k < columns[0].Length; k++)
        {
            var row = store.Add();
            for (var c = 0; c < columns.Length; c++)
            {
                row[c] = columns[c][k];
            }
        }

        return store;
    }
}
