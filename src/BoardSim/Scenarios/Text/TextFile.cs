using System.Text;

namespace BoardSim.Scenarios.Text;

/// <summary>Reads the text of a file, and says in the words of a finding why it cannot be read.</summary>
internal static class TextFile
{
    /// <summary>The text.</summary>
    /// <param name="path">Path of the file.</param>
    /// <param name="what">What is read, in the plural, such as <c>scenarios</c>.</param>
    /// <exception cref="ScenarioException">The file cannot be read.</exception>
    public static string Read(string path, string what)
    {
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
            return new UTF8Encoding(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true).GetString(bytes).TrimStart('\uFEFF');
        }
        catch (DecoderFallbackException)
        {
            throw Unreadable(path, $"this is not text in UTF-8, which {what} are written in");
        }
    }

    /// <summary>A file that cannot be read at all.</summary>
    public static ScenarioException Unreadable(string path, string why) => new([new Finding(path, 0, 0, "", why)]);
}
