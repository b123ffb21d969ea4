using BoardSim.Reports.Notebooks;
using BoardSim.Scenarios;

namespace BoardSim.Reports.Tests.Notebooks;

/// <summary>A page writes what its cells ask for into its folder.</summary>
public sealed class NotebookPageTests : IDisposable
{
    private const string Bench = """
        block: thermistor-input
        run: {compute: operating-point}
        observe:
          indicated: {label: Indicated, readout: indicated-temperature}
        """;

    private const string Lesson = """
        title: Shorted
        conditions:
          healthy: {label: Healthy}
          shorted: {label: Shorted, faults: {sensor-shorted: present}}
        sweep: {vary: sensor.temperature, label: Chamber, points: [0 degC, 50 degC], record: [indicated]}
        expect:
          - {that: indicated of shorted > 100 degC, why: The table ends there.}
        figures:
          sweep: {kind: sweep, title: Shorted, show: [indicated]}
        """;

    private readonly string folder = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void A_run_leaves_its_figures_and_a_scenario_that_gives_the_same()
    {
        var result = new NotebookPage(folder).Run("shorted", Bench, Lesson);
        var again = ScenarioRunner.Run(ScenarioFile.Read(Path.Combine(folder, "shorted.yaml")));
        Assert.Equal(result.Condition("shorted").Value("indicated"), again.Condition("shorted").Value("indicated"));
        Assert.True(result.AllHold);
        Assert.True(File.Exists(Path.Combine(folder, "shorted-sweep.png")));
        Assert.StartsWith("<svg", File.ReadAllText(Path.Combine(folder, "shorted-sweep.svg"))[..400].Split("?>")[^1].Trim(), StringComparison.Ordinal);
    }

    [Fact]
    public void Tables_have_a_column_for_each_condition_and_a_row_for_each_point()
    {
        var text = ResultTables.All(new NotebookPage(folder).Run("shorted", Bench, Lesson));
        Assert.Matches(@"Indicated +\S+ degC +105\.00 degC\n", text);
        Assert.Matches(@"50\.00 degC +\S+ degC +105\.00 degC\n", text);
        Assert.Contains("Holds: indicated of shorted > 100 degC", text, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_wrong_is_told_with_its_line_in_the_file_that_was_left()
    {
        var e = Assert.Throws<ScenarioException>(() => new NotebookPage(folder).Run("wrong", Bench, Lesson.Replace("sensor-shorted", "sensor-shortd")));
        Assert.Contains("wrong.yaml:8:", e.Message, StringComparison.Ordinal);
    }
}
