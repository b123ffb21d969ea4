using BoardSim.Reports.Handout;
using BoardSim.Reports.Results;
using BoardSim.Scenarios;

namespace BoardSim.Reports;

/// <summary>
/// Writes everything that came out of a scenario into one folder: <c>result.json</c>, <c>waveforms.csv</c>, <c>sweep.csv</c>
/// when there is a sweep, <c>cases.csv</c> when there is a tolerance run, <c>circuit.cir</c> (and <c>circuit-NAME.cir</c> for each further condition), <c>figures/</c> with PNG
/// and SVG, <c>report.html</c> to print and hand out, and <c>CAUTION.txt</c> where the line side is touched. The same result
/// gives the same bytes, but for <c>solver.wallSeconds</c> in <c>result.json</c>.
/// </summary>
public static class ResultWriter
{
    /// <summary>Makes sure, before a long computation, that its results can be written.</summary>
    /// <param name="folder">The folder; it need not exist.</param>
    /// <exception cref="ReportException">It cannot be written, or holds files of others.</exception>
    public static void Check(string folder) => OutputFolder.Check(folder);

    /// <summary>Writes the results. They appear all at once; an earlier run's files in the folder are replaced, other files stay.</summary>
    /// <param name="result">The run.</param>
    /// <param name="folder">The folder; it is made when it does not exist.</param>
    /// <returns>Names of the files relative to the folder, in ordinal order.</returns>
    /// <exception cref="ReportException">The folder cannot be written, holds files of others, or a figure cannot be drawn.</exception>
    public static IReadOnlyList<string> Write(ScenarioResult result, string folder)
    {
        ArgumentNullException.ThrowIfNull(result);
        var files = new SortedDictionary<string, byte[]>(StringComparer.Ordinal)
        {
            ["waveforms.csv"] = Files.Utf8.GetBytes(WaveformsCsv.Write(result)),
        };
        if (result.Sweep is { } sweep)
            files["sweep.csv"] = Files.Utf8.GetBytes(SweepCsv.Write(sweep));
        if (result.Tolerance is { } tolerance)
            files["cases.csv"] = Files.Utf8.GetBytes(CasesCsv.Write(tolerance));
        var netlists = Netlists(result);
        foreach (var condition in result.Conditions)
            files[netlists[condition.Name]] = Files.Utf8.GetBytes(condition.NetlistText);
        List<(FigureSpec Spec, string Svg)> figures = [];
        foreach (var spec in result.Scenario.Figures)
        {
            var drawing = FigureRenderer.Draw(result, spec);
            var svg = drawing.ToSvg();
            files[$"figures/{spec.Id}.png"] = drawing.ToPng();
            files[$"figures/{spec.Id}.svg"] = Files.Utf8.GetBytes(svg);
            figures.Add((spec, svg));
        }

        if (result.Cautions.Count > 0)
            files["figures/CAUTION.txt"] = files["CAUTION.txt"] = Files.Utf8.GetBytes(string.Join("\n\n", result.Cautions) + "\n");
        files["report.html"] = Files.Utf8.GetBytes(HandoutPage.Write(result, figures));
        string[] names = [.. files.Keys.Append(OutputFolder.ResultFile).Order(StringComparer.Ordinal)];
        files[OutputFolder.ResultFile] = ResultJson.Write(result, netlists, names);
        OutputFolder.Write(folder, [.. files]);
        return names;
    }

    // The healthy circuit, or the first when none is healthy, has the plain name.
    private static Dictionary<string, string> Netlists(ScenarioResult result)
    {
        var main = result.Conditions.OrderBy(condition => !condition.IsHealthy).FirstOrDefault();
        return result.Conditions.ToDictionary(condition => condition.Name, condition => condition == main ? "circuit.cir" : $"circuit-{condition.Name}.cir");
    }
}
