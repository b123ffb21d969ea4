using System.Globalization;
using BoardSim.Campaign.Judging;

namespace BoardSim.Campaign;

/// <summary>The summary of a campaign as text.</summary>
internal static class CampaignTable
{
    private const int Slowest = 3;

    public static void Write(IReadOnlyList<CaseResult> results, TimeSpan time, TextWriter output)
    {
        foreach (var failed in results.Where(r => r.Verdict == Verdict.Failed))
        {
            var c = failed.Case;
            Line(output, $"FAILED {c.Block}, {c.Origin} ({c.Method ?? "default"}, {c.Accuracy:g2}, {(c.Stop is null ? "operating point" : c.FromInitialConditions ? "initial conditions" : "from operating point")}): {failed.Message}");
        }

        foreach (var slow in results.OrderByDescending(r => r.Points).Take(Slowest))
        {
            Line(output, $"most work: {slow.Case.Block}, {slow.Case.Origin}: {slow.Points} points, {slow.Iterations} iterations, {slow.Seconds:F1} s");
        }

        foreach (var block in results.GroupBy(r => r.Case.Block).OrderBy(g => g.Key, StringComparer.Ordinal))
        {
            var converged = block.Where(r => r.Verdict == Verdict.Converged).ToList();
            var balances = converged.Where(r => r.Case.Stop is not null).Select(r => r.PowerBalance / r.Case.Accuracy).Order().ToList();
            Line(output, $"{block.Key,-20} {Counts(block)}; forced steps in {converged.Count(r => r.Forced > 0)}; power balance over accuracy: median {At(balances, 0.5):g2}, 99 % {At(balances, 0.99):g2}, most {At(balances, 1):g2}");
        }

        Line(output, $"{results.Count} cases in {time.TotalSeconds:F0} s");
        Line(output, $"{Counts(results)}");
    }

    /// <summary>One case in a line.</summary>
    /// <param name="result">The case.</param>
    public static string Row(CaseResult result) =>
        string.Create(CultureInfo.InvariantCulture, $"{result.Verdict,-9} {result.Case.Block}, {result.Case.Origin}: {result.Points} points, {result.Seconds:F2} s {result.Message}");

    private static string Counts(IEnumerable<CaseResult> results)
    {
        var by = results.ToLookup(r => r.Verdict);
        return string.Create(CultureInfo.InvariantCulture, $"{by[Verdict.Converged].Count()} converged, {by[Verdict.Refused].Count()} refused, {by[Verdict.Failed].Count()} failed");
    }

    private static double At(List<double> sorted, double share) => sorted.Count == 0 ? 0 : sorted[(int)Math.Round(share * (sorted.Count - 1))];

    private static void Line(TextWriter output, FormattableString text) => output.WriteLine(text.ToString(CultureInfo.InvariantCulture));
}
