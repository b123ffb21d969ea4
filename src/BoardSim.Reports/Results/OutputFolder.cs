using BoardSim.Scenarios;

namespace BoardSim.Reports.Results;

/// <summary>
/// Puts a set of files into a folder all at once: they are written into a hidden folder beside it, which then takes its name. A
/// run that is killed leaves the folder as it was, but for the finished cases that it may go on from. Only files that an earlier run lists as its own are ever replaced or removed.
/// </summary>
internal static class OutputFolder
{
    public const string ResultFile = "result.json";

    /// <summary>Checks, before any work is done, that the folder can be written.</summary>
    public static void Check(string folder)
    {
        var target = FullName(folder);
        if (File.Exists(target))
            throw new ReportException($"'{folder}' is a file; name a folder for the results.");
        _ = Owned(target, folder);
        // The surest test of a permission is to use it.
        var trial = Beside(target);
        Files.Guard(folder, () =>
        {
            var parent = Path.GetDirectoryName(target)!;
            var made = Missing(parent);
            Directory.CreateDirectory(trial);
            Directory.Delete(trial);
            foreach (var empty in made)
                Directory.Delete(empty);
            if (Directory.Exists(target))
            {
                var inside = Path.Combine(target, Path.GetFileName(trial));
                Directory.CreateDirectory(inside);
                Directory.Delete(inside);
            }
        }, trial);
    }

    /// <summary>Writes files (relative name with forward slashes, and content) into the folder.</summary>
    public static void Write(string folder, IReadOnlyList<KeyValuePair<string, byte[]>> files)
    {
        var target = FullName(folder);
        if (File.Exists(target))
            throw new ReportException($"'{folder}' is a file; name a folder for the results.");
        var owned = Owned(target, folder);
        RefuseClashes(target, folder, files, owned);
        var fresh = Beside(target);
        try
        {
            Files.Guard(folder, () =>
            {
                foreach (var (name, content) in files)
                {
                    var path = Path.Combine(fresh, name);
                    Directory.CreateDirectory(Path.GetDirectoryName(path)!);
                    File.WriteAllBytes(path, content);
                }

                if (!Directory.Exists(target))
                    Directory.Move(fresh, target);
                else
                    Replace(fresh, target, owned);
            }, fresh);
        }
        finally
        {
            if (Directory.Exists(fresh))
                Directory.Delete(fresh, recursive: true);
        }
    }

    private static string FullName(string folder)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(folder);
        return Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder));
    }

    // Names the process, so that two runs at once do not meet.
    private static string Beside(string target)
    {
        var parent = Path.GetDirectoryName(target)
            ?? throw new ReportException($"'{target}' is the root of a drive; name a folder below it for the results.");
        return Path.Combine(parent, $".{Path.GetFileName(target)}.{Environment.ProcessId:x}-{Guid.NewGuid():N}.partial");
    }

    private static List<string> Missing(string folder)
    {
        List<string> missing = [];
        for (var at = folder; at is not null && !Directory.Exists(at); at = Path.GetDirectoryName(at))
            missing.Add(at);
        return missing;
    }

    // What an earlier run wrote. A folder that holds something else altogether is not touched.
    private static HashSet<string> Owned(string target, string folder)
    {
        if (!Directory.Exists(target))
            return [];
        HashSet<string> owned = [];
        Files.Guard(folder, () =>
        {
            var result = Path.Combine(target, ResultFile);
            if (File.Exists(result) && ResultJson.FilesOf(File.ReadAllBytes(result)) is { } files)
                owned = [.. files.Where(IsInside), ResultFile];
            else if (Directory.EnumerateFileSystemEntries(target).Any(path => !CaseStore.IsStore(Path.GetFileName(path))))
                throw new ReportException(
                    $"'{folder}' holds files that are not those of an earlier run, and they are not to be mixed up; name a new or an empty folder.");
        });
        return owned;
    }

    // The list comes from a file that anyone may have edited: it must not lead out of the folder.
    private static bool IsInside(string name) =>
        name.Length > 0 && !Path.IsPathRooted(name) && !name.Split('/', '\\').Contains("..") && !name.Contains(':', StringComparison.Ordinal);

    private static void RefuseClashes(string target, string folder, IReadOnlyList<KeyValuePair<string, byte[]>> files, HashSet<string> owned)
    {
        foreach (var (name, _) in files)
            if (!owned.Contains(name) && Path.Exists(Path.Combine(target, name)))
                throw new ReportException(
                    $"'{folder}' has a file '{name}' that no earlier run wrote, and this run would overwrite it; move it away or name another folder.");
    }

    private static void Replace(string fresh, string target, HashSet<string> owned)
    {
        // Taken aside first and thrown away last: at every instant either all of the old files or all of the new ones exist.
        var old = fresh[..^".partial".Length] + ".old";
        Directory.Move(target, old);
        try
        {
            Directory.Move(fresh, target);
        }
        catch
        {
            Directory.Move(old, target);
            throw;
        }

        foreach (var path in Directory.EnumerateFiles(old, "*", SearchOption.AllDirectories))
        {
            var name = Path.GetRelativePath(old, path).Replace('\\', '/');
            if (owned.Contains(name))
            {
                File.Delete(path);
                continue;
            }

            var home = Path.Combine(target, name);
            Directory.CreateDirectory(Path.GetDirectoryName(home)!);
            File.Move(path, home);
        }

        KeepEmptyFolders(old, target, owned);
        Directory.Delete(old, recursive: true);
    }

    // A folder that someone else made stays, even an empty one.
    private static void KeepEmptyFolders(string old, string target, HashSet<string> owned)
    {
        var ours = owned.Select(name => Path.GetDirectoryName(name)!.Replace('\\', '/')).ToHashSet();
        foreach (var path in Directory.EnumerateDirectories(old, "*", SearchOption.AllDirectories))
        {
            var name = Path.GetRelativePath(old, path).Replace('\\', '/');
            if (!ours.Contains(name))
                Directory.CreateDirectory(Path.Combine(target, name));
        }
    }
}
