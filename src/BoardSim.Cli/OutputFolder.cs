using System.Text;

namespace BoardSim.Cli;

/// <summary>
/// Writes the files of one run into a folder, all or none: each under a temporary name first, renamed when all are complete, so
/// that a run that fails or is killed leaves no half file under a final name.
/// </summary>
internal sealed class OutputFolder : IDisposable
{
    private readonly string folder;
    private readonly List<(string Temporary, string Final)> files = [];
    private readonly List<string> replaced = [];

    private OutputFolder(string folder) => this.folder = folder;

    /// <summary>Refuses a folder that cannot be one, before any work is done.</summary>
    /// <exception cref="InputException">The path is a file, or is empty.</exception>
    public static void Check(string folder)
    {
        if (string.IsNullOrWhiteSpace(folder))
        {
            throw new InputException("--out is empty; name the folder that results go to.");
        }

        if (File.Exists(folder))
        {
            throw new InputException($"{folder}: this is a file; name a folder that results go to.");
        }
    }

    /// <summary>Opens the folder, making it if need be.</summary>
    /// <exception cref="InputException">It cannot be made.</exception>
    public static OutputFolder Open(string folder)
    {
        Guard(folder, () => Directory.CreateDirectory(folder));
        return new OutputFolder(folder);
    }

    /// <summary>Writes a file under a temporary name.</summary>
    /// <param name="name">Its final name.</param>
    /// <param name="write">Writes the content.</param>
    public void Write(string name, Action<TextWriter> write)
    {
        var temporary = Path.Combine(folder, $".{name}.{Environment.ProcessId}.partial");
        files.Add((temporary, Path.Combine(folder, name)));
        Guard(temporary, () =>
        {
            using var writer = new StreamWriter(temporary, append: false, new UTF8Encoding(false), 1 << 16) { NewLine = "\n" };
            write(writer);
        });
    }

    /// <summary>Takes away a file of an earlier run that what is written now stands in for.</summary>
    public void Replaces(string name) => replaced.Add(Path.Combine(folder, name));

    /// <summary>Gives all files their final names.</summary>
    public void Commit()
    {
        foreach (var (temporary, final) in files)
        {
            Guard(final, () => File.Move(temporary, final, overwrite: true));
        }

        files.Clear();
        foreach (var old in replaced.Where(File.Exists))
        {
            Guard(old, () => File.Delete(old));
        }
    }

    /// <summary>Removes what was not committed.</summary>
    public void Dispose()
    {
        foreach (var (temporary, _) in files)
        {
            try
            {
                File.Delete(temporary);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                // A leftover under a temporary name misleads nobody, and the first error is the one to report.
            }
        }
    }

    private static void Guard(string path, Action work)
    {
        try
        {
            work();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            throw new InputException($"{path}: cannot be written: {e.Message}");
        }
    }
}
