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
    /// <param name="path">What the user named.</param>
    /// <param name="work">The file work.</param>
    /// <param name="temporary">A working name that means nothing to the user and is not to stand in the message.</param>
    public static void Guard(string path, Action work, string? temporary = null)
    {
        try
        {
            work();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException or System.Security.SecurityException)
        {
            var reason = temporary is null ? e.Message : e.Message.Replace(temporary, path, StringComparison.Ordinal);
            throw new ReportException(
                $"'{path}' cannot be written: {reason} Name a folder that exists or can be made, and that you may write to.", e);
        }
    }
}
