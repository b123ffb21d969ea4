using System.Text.Json;
using BoardSim.Reports.Figures;
using BoardSim.Scenarios;

namespace BoardSim.Reports.Tests.Results;

/// <summary>What a tolerance run leaves in files and figures. The numbers are made up: four boards and two corners of one value under two conditions.</summary>
public sealed class ToleranceOutputTests : IDisposable
{
    private static readonly FigureSpec Histogram = new() { Id = "spread", Kind = FigureKind.Histogram, Title = "Ripple over four boards", Show = ["ripple"], Conditions = ["healthy", "aged"] };

    private readonly string folder = Sample.TemporaryFolder();

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void Each_board_has_a_row_and_a_failure_its_words()
    {
        ResultWriter.Write(Run([10, 11, 12, 11], [40, double.NaN, 44, 42]), Path.Combine(folder, "out"));

        Assert.Equal(
            """
            board,kind,bulk.esr (ohm),healthy: ripple (V),aged: ripple (V),failure
            0,drawn,0.9,10,40,
            1,drawn,1.1,11,,"aged, board 1: no convergence, and nothing else"
            2,drawn,1,12,44,
            3,drawn,1.05,11,42,
            0,corner,0.8,9,38,
            1,corner,1.2,13,46,

            """.ReplaceLineEndings("\n"),
            File.ReadAllText(Path.Combine(folder, "out", "cases.csv")));
    }

    // By hand: mean of 10, 11, 12, 11 is 11, its deviation sqrt(2/3); of 40, 44, 42 the median is 42.
    [Fact]
    public void The_account_has_statistics_and_counts()
    {
        ResultWriter.Write(Run([10, 11, 12, 11], [40, double.NaN, 44, 42]), Path.Combine(folder, "out"));

        using var json = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(folder, "out", "result.json")));
        var run = json.RootElement.GetProperty("tolerance");
        var (healthy, aged) = (run.GetProperty("series")[0], run.GetProperty("series")[1]);
        Assert.Equal(11, healthy.GetProperty("mean").GetDouble(), 12);
        Assert.Equal(Math.Sqrt(2 / 3.0), healthy.GetProperty("standardDeviation").GetDouble(), 12);
        Assert.Equal((9, 13), (healthy.GetProperty("lowestCorner").GetDouble(), healthy.GetProperty("highestCorner").GetDouble()));
        Assert.Equal((3, 1), (aged.GetProperty("count").GetInt32(), aged.GetProperty("withoutValue").GetInt32()));
        Assert.Equal(42, aged.GetProperty("percentiles").GetProperty("p50").GetDouble());
        Assert.Equal((12, 1), (run.GetProperty("cases").GetProperty("total").GetInt32(), run.GetProperty("cases").GetProperty("failed").GetInt32()));
        Assert.Equal("aged, board 1", run.GetProperty("cases").GetProperty("firstFailures")[0].GetProperty("case").GetString());
    }

    // Every board with a number stands in one class, and values that come in steps have a class each: 10, 11, 12 at heights 1, 2, 1.
    [Fact]
    public void A_histogram_counts_every_board_once()
    {
        var figure = (Figure)FigureRenderer.Draw(Run([10, 11, 12, 11], [11, 12, double.NaN, 12]), Histogram);

        var traces = figure.Panels[0].Traces;
        Assert.Equal([9.5, 9.5, 10.5, 10.5, 11.5, 11.5, 12.5, 12.5], traces[0].X);
        Assert.Equal([0, 1, 1, 2, 2, 1, 1, 0], traces[0].Y);
        Assert.Equal([10.5, 10.5, 11.5, 11.5, 12.5, 12.5], traces[1].X);
        Assert.Equal([0, 1, 1, 2, 2, 0], traces[1].Y);
        Assert.Equal("V", figure.X.Unit);
    }

    [Fact]
    public void Values_that_scatter_freely_are_put_into_classes()
    {
        var values = Enumerable.Range(0, 500).Select(k => Math.Sqrt(k)).ToArray();

        var figure = (Figure)FigureRenderer.Draw(Run(values, values), Histogram);

        var heights = figure.Panels[0].Traces[0].Y;
        Assert.Equal(500, heights.Where((_, k) => k % 2 == 1).Sum());

        // Twice the cube root of 500 is 15.9.
        Assert.Equal(2 * (16 + 1), heights.Count);
    }

    [Fact]
    public void Boards_that_are_all_alike_can_be_drawn()
    {
        var figure = FigureRenderer.Draw(Run([5, 5, 5, 5], [5, 5, 5, 5]), Histogram);

        Assert.Equal(4, ((Figure)figure).Panels[0].Traces[0].Y.Max());
        Assert.NotEmpty(figure.ToPng());
    }

    private static ScenarioResult Run(double[] healthy, double[] aged) => SampleRun.Create() with
    {
        Tolerance = new ToleranceResult
        {
            Inputs = [new ToleranceInput("bulk.esr", ["healthy", "aged"], "ohm", 1, "20 %, uniform", [0.9, 1.1, 1, 1.05, 0.8, 1.2])],
            Samples = healthy.Length,
            Corners = 2,
            Seed = 1,
            Series = [Series("healthy", healthy, [9, 13]), Series("aged", aged, [38, 46])],
            Evidence = new Engine.Analyses.SolverEvidence(),
            Cases = new CaseCount(12, [new CaseFailure(3, "aged, board 1", "no convergence, and nothing else")]),
        },
    };

    private static ToleranceSeries Series(string condition, double[] values, double[] corners) =>
        new() { Condition = condition, Name = "ripple", Label = "Ripple, peak to peak", Unit = "V", Values = values, CornerValues = corners };
}
