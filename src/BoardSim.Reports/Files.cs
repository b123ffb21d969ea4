using System.Text;

namespace BoardSim.Reports;

/// <summary>Writes files and turns what the file system says into one clear error.</summary>
internal static class Files
{
    public static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);

    public static void Write(string path, string text) => Write(path, Utf8.GetBytes(text));

    public static void Write(string path, byte[] bytes)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(path);
        Guard(path, () => File.WriteAllBytes(path, bytes));
    }

    /// <summary>Runs file work on a path; a refusal becomes a <see cref="ReportException"/> that names the path.</summary>
    public static void Guard(string path, Action work)
    {
        try
        {
            work();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException or System.Security.SecurityException)
        {
            throw new ReportException(
                $"'{path}' cannot be written: {e.Message} Name a folder that exists or can be made, and that you may write to.", e);
        }
    }
}
