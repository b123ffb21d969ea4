namespace BoardSim.Fuzz.Running;

/// <summary>Tells what a campaign saw.</summary>
internal static class Report
{
    private const int MostShown = 20;

    public static void Write(TextWriter output, CampaignResult r, int seed)
    {
        const double mega = 1 << 20;
        output.WriteLine(FormattableString.Invariant($"{r.Subject}: {r.Inputs} inputs of seed {seed}, {r.Characters / mega:0} MB of text, {r.Duration.TotalSeconds:0} s"));
        foreach (var verdict in Enum.GetValues<Verdict>())
        {
            output.WriteLine(FormattableString.Invariant($"  {verdict.ToString().ToLowerInvariant(),-9} {r.Verdicts[(int)verdict]}"));
        }

        output.WriteLine(FormattableString.Invariant($"  slowest input {r.Slowest.Input}: {r.Slowest.Seconds * 1e3:0} ms to read"));
        output.WriteLine(FormattableString.Invariant($"  hungriest input {r.Hungriest.Input}: {r.Hungriest.Bytes / mega:0} MB allocated, most of it short-lived"));
        output.WriteLine(FormattableString.Invariant($"  memory of the process at most {r.PeakMemory / mega:0} MB above its start (limit {Campaign.MostMemory / mega:0})"));
        output.WriteLine(FormattableString.Invariant($"  failures {r.Failures.Count}"));
        foreach (var failure in r.Failures.DistinctBy(f => f.What.Split('\n').Take(4).Aggregate("", (a, b) => a + b)).Take(MostShown))
        {
            output.WriteLine(FormattableString.Invariant($"    input {failure.Input}: {failure.What}"));
        }
    }
}
