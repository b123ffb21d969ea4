using BoardSim.Scenarios.Reader;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios;

/// <summary>Reads scenario files. All that is wrong with a file is told at once.</summary>
public static class ScenarioFile
{
    /// <summary>Reads a file.</summary>
    /// <param name="path">Path of the file; its name without extension becomes the scenario's id.</param>
    /// <exception cref="ScenarioException">The file cannot be read or is not a valid scenario; it has every finding with line and column.</exception>
    public static Scenario Read(string path)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(path);
        return Parse(TextFile.Read(path, "scenarios"), path);
    }

    /// <summary>Reads a text.</summary>
    /// <param name="text">The text of a scenario file.</param>
    /// <param name="name">Name of the file for messages; without folder and extension it becomes the scenario's id. A board file that the text
    /// names is looked for from its folder.</param>
    /// <exception cref="ScenarioException">The text is not a valid scenario; it has every finding with line and column.</exception>
    public static Scenario Parse(string text, string name)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        var findings = new Findings(name);
        var id = Path.GetFileNameWithoutExtension(name);
        if (id.Trim('.', ' ').Length == 0)
        {
            throw TextFile.Unreadable(name, "the file needs a name before its extension; results are put into a folder of that name");
        }

        var root = YamlText.Read(text, findings);
        Scenario? scenario = null;
        try
        {
            scenario = root is null ? null : ScenarioReader.Read(root, id, Path.GetDirectoryName(name) ?? "", findings);
        }
        catch (ReadingEndedException)
        {
            // The reasons are among the findings.
        }

        findings.ThrowIfAny();
        return scenario ?? throw new InvalidOperationException($"{name}: nothing was read and nothing was found wrong.");
    }

}
