using System.Globalization;
using BoardSim.Reports.Figures;
using BoardSim.Scenarios;

namespace BoardSim.Reports.Notebooks;

/// <summary>
/// The page of a notebook that is run: it prints tables, and puts figures and the scenario of each run into one folder, so that
/// the same cells work from a command line and in a notebook's kernel.
/// </summary>
public sealed class NotebookPage
{
    /// <summary>Start of the line that says where a figure was written to.</summary>
    public const string FigureMark = "figure: ";

    // A notebook's column is about a thousand pixels wide; for a projector there is the SVG beside it.
    private const double Scale = 0.625;

    /// <summary>Opens a page and makes its folder.</summary>
    /// <param name="folder">Folder for figures and scenarios; files of the same names are replaced.</param>
    /// <exception cref="ReportException">The folder cannot be made.</exception>
    public NotebookPage(string folder)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(folder);
        Folder = folder;
        Files.Guard(folder, () => Directory.CreateDirectory(folder));
        CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
    }

    /// <summary>Called with the PNG image of each figure after it has been written; a kernel sets it to show the figure in the notebook.</summary>
    public static Action<byte[]>? Shown { get; set; }

    /// <summary>Folder that the page writes to.</summary>
    public string Folder { get; }

    /// <summary>
    /// Runs a scenario that is put together from parts, such as a bench that several runs share and the conditions of this one.
    /// Prints its tables, draws its figures, and leaves the scenario as a file in the folder, where <c>run</c> of the command line
    /// takes it as it is.
    /// </summary>
    /// <param name="name">Name of the run and of its files: lower case words joined by hyphens.</param>
    /// <param name="parts">Parts of a scenario file, put one below the other.</param>
    /// <returns>What came out.</returns>
    /// <exception cref="ScenarioException">The parts together are no valid scenario; the message names line and column of the file in the folder.</exception>
    /// <exception cref="ScenarioRunException">A condition could not be computed.</exception>
    /// <exception cref="ReportException">A figure cannot be drawn, or a file cannot be written.</exception>
    public ScenarioResult Run(string name, params IReadOnlyList<string> parts)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        ArgumentNullException.ThrowIfNull(parts);
        var path = Path.Combine(Folder, name + ".yaml");
        var text = string.Concat(parts.Select(part => part.TrimEnd() + "\n"));
        Files.Write(path, text);
        var result = ScenarioRunner.Run(ScenarioFile.Parse(text, path));
        Console.Out.Write(ResultTables.All(result));
        foreach (var spec in result.Scenario.Figures)
            Show($"{name}-{spec.Id}", FigureRenderer.Draw(result, spec) with { Footer = Footer(result) });
        return result;
    }

    /// <summary>Writes a figure as PNG and SVG, and says where.</summary>
    /// <param name="name">Name of the files without extension: lower case words joined by hyphens.</param>
    /// <param name="drawing">The figure.</param>
    /// <exception cref="ReportException">The name is no file name, the figure cannot be drawn or a file cannot be written.</exception>
    public void Show(string name, Drawing drawing)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        ArgumentNullException.ThrowIfNull(drawing);
        if (Path.GetFileName(name) != name)
            throw new ReportException($"The figure name '{name}' cannot be a file name; use letters, digits and hyphens.");
        var path = Path.Combine(Folder, name + ".png");
        var png = drawing.ToPng(Scale);
        Files.Write(path, png);
        drawing.SaveSvg(Path.Combine(Folder, name + ".svg"));
        Console.Out.WriteLine(FigureMark + path.Replace('\\', '/'));
        Shown?.Invoke(png);
    }

    /// <summary>Prints the cautions, a line each.</summary>
    /// <param name="cautions">The cautions of a board, see <see cref="Boards.Cautions"/>, or of a run.</param>
    public static void Caution(IReadOnlyList<string> cautions)
    {
        ArgumentNullException.ThrowIfNull(cautions);
        foreach (var caution in cautions)
            Console.Out.WriteLine("CAUTION: " + caution);
    }

    private static string Footer(ScenarioResult result) =>
        result.Cautions.Count == 0 ? "" : "LINE SIDE: computed values do not make a measurement safe. Isolate, discharge, prove dead.";
}
