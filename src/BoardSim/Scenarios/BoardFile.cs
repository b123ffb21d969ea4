using BoardSim.Designs;
using BoardSim.Scenarios.Reader;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios;

/// <summary>Reads board files: blocks that are wired into a board. All that is wrong with a file is told at once.</summary>
public static class BoardFile
{
    /// <summary>Reads a file.</summary>
    /// <param name="path">Path of the file; its name without extension becomes the board's id.</param>
    /// <exception cref="ScenarioException">The file cannot be read or is not a valid board; it has every finding with line and column.</exception>
    public static BoardPlan Read(string path)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(path);
        return Parse(TextFile.Read(path, "boards"), path);
    }

    /// <summary>Reads a text.</summary>
    /// <param name="text">The text of a board file.</param>
    /// <param name="name">Name of the file for messages; without folder and extension it becomes the board's id.</param>
    /// <exception cref="ScenarioException">The text is not a valid board; it has every finding with line and column.</exception>
    public static BoardPlan Parse(string text, string name)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        var findings = new Findings(name);
        var root = YamlText.Read(text, findings);
        BoardPlan? plan = null;
        try
        {
            plan = root is null ? null : BoardReader.Read(root, Path.GetFileNameWithoutExtension(name), findings);
        }
        catch (ReadingEndedException)
        {
            // The reasons are among the findings.
        }

        findings.ThrowIfAny();
        return plan ?? throw new InvalidOperationException($"{name}: nothing was read and nothing was found wrong.");
    }
}
