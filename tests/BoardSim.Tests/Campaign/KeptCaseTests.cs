using BoardSim.Campaign;
using BoardSim.Campaign.Drawing;
using BoardSim.Campaign.Judging;

namespace BoardSim.Tests.Campaign;

/// <summary>
/// Cases that failed in the convergence campaign once, each with the cause in its name. What they are held to is outside the engine's
/// doing: power delivered is power absorbed and stored (Tellegen's theorem), currents at a node sum to zero (Kirchhoff), and a
/// refusal names what a search through the graph finds as well.
/// </summary>
public class KeptCaseTests
{
    public static TheoryData<string> Names => [.. Kept.Keys];

    private static Dictionary<string, CampaignCase> Kept { get; } = Read();

    [Theory]
    [MemberData(nameof(Names))]
    public void ConvergesOrIsRefusedForWhatIsWrong(string name)
    {
        var result = CaseRun.Run(Kept[name]);
        Assert.True(result.Verdict != Verdict.Failed, $"{name}: {result.Message}");
    }

    /// <summary>A few fresh cases of each block; the whole campaign is a program in benchmarks/.</summary>
    [Theory]
    [InlineData("bridge-bulk")]
    [InlineData("flyback-output")]
    [InlineData("relay-driver")]
    [InlineData("thermistor-input")]
    public void FreshCasesConvergeOrAreRefused(string block)
    {
        var failed = Enumerable.Range(0, 25)
            .Select(k => CaseRun.Run(CaseDraw.Draw(20, (ulong)k, block)))
            .Where(r => r.Verdict == Verdict.Failed)
            .Select(r => $"{r.Case.Origin}: {r.Message}");
        Assert.Empty(failed);
    }

    private static Dictionary<string, CampaignCase> Read()
    {
        using var stream = typeof(KeptCaseTests).Assembly.GetManifestResourceStream("campaign-cases.jsonl")!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd()
            .Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Select(CaseFile.Parse)
            .ToDictionary(c => c.Origin);
    }
}
