using System.Text;
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
        byte[] bytes;
        try
        {
            using var stream = File.OpenRead(path);
            if (stream.Length > YamlText.LongestFile)
            {
                throw Unreadable(path, $"the file is longer than {YamlText.LongestFile / 1024} KiB, which no scenario needs");
            }

            bytes = new byte[stream.Length];
            stream.ReadExactly(bytes);
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException)
        {
            throw Unreadable(path, "there is no such file");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            throw Unreadable(path, Directory.Exists(path) ? "this is a folder; name the files in it" : $"the file cannot be read: {e.Message}");
        }

        try
        {
            var text = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true).GetString(bytes);
            return Parse(text.TrimStart('\uFEFF'), path);
        }
        catch (DecoderFallbackException)
        {
            throw Unreadable(path, "this is not text in UTF-8, which scenarios are written in");
        }
    }

    /// <summary>Reads a text.</summary>
    /// <param name="text">The text of a scenario file.</param>
    /// <param name="name">Name of the file for messages; without folder and extension it becomes the scenario's id.</param>
    /// <exception cref="ScenarioException">The text is not a valid scenario; it has every finding with line and column.</exception>
    public static Scenario Parse(string text, string name)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        var findings = new Findings(name);
        var id = Path.GetFileNameWithoutExtension(name);
        if (id.Trim('.', ' ').Length == 0)
        {
            throw Unreadable(name, "the file needs a name before its extension; results are put into a folder of that name");
        }

        var root = YamlText.Read(text, findings);
        Scenario? scenario = null;
        try
        {
            scenario = root is null ? null : ScenarioReader.Read(root, id, findings);
        }
        catch (ReadingEndedException)
        {
            // The reasons are among the findings.
        }

        findings.ThrowIfAny();
        return scenario ?? throw new InvalidOperationException($"{name}: nothing was read and nothing was found wrong.");
    }

    private static ScenarioException Unreadable(string path, string why) => new([new Finding(path, 0, 0, "", why)]);
}
