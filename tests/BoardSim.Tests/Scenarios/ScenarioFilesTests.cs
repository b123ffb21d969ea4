using BoardSim.Scenarios;

namespace BoardSim.Tests.Scenarios;

/// <summary>Every scenario of the repository is a test of its own: what it expects has to come out.</summary>
public class ScenarioFilesTests
{
    public static TheoryData<string> Files =>
        new(Repository.ScenarioFiles.Select(f => Path.GetRelativePath(Repository.Scenarios, f).Replace('\\', '/')));

    [Theory]
    [MemberData(nameof(Files))]
    public void Expectations_hold(string file)
    {
        var result = ScenarioRunner.Run(ScenarioFile.Read(Path.Combine(Repository.Scenarios, file)));

        Assert.NotEmpty(result.Expectations);
        Assert.True(
            result.AllHold,
            string.Join('\n', result.Expectations.Where(e => !e.Holds).Select(e => $"{e.Text}: found {e.Found}")));
    }

    [Fact]
    public void No_two_scenarios_share_a_name() =>
        Assert.Empty(Repository.ScenarioFiles.GroupBy(Path.GetFileName, StringComparer.OrdinalIgnoreCase).Where(g => g.Count() > 1).Select(g => g.Key));
}
