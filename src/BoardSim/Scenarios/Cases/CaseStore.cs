using System.Diagnostics;
using System.Text.Json;
using BoardSim.Scenarios.Cases;

namespace BoardSim.Scenarios;

/// <summary>
/// Keeps finished cases of sweeps and tolerance runs in a file, so that a run that was cancelled or killed can go on, and so that
/// machines can share the cases between them. Cases are added from several threads and written now and then.
/// </summary>
public sealed class CaseStore : IDisposable
{
    /// <summary>Name of the file of a run that has not ended.</summary>
    public const string PartialName = "cases.partial.jsonl";

    private const string ShardPattern = "cases.shard-*.jsonl";

    /// <summary>Longest time that finished cases wait to be written: what a killed run loses at most.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(2);

    private readonly Lock gate = new();
    private readonly Scenario scenario;
    private readonly Dictionary<int, CaseRecord> known = [];
    private readonly List<CaseRecord> waiting = [];
    private readonly Stopwatch sinceWritten = Stopwatch.StartNew();
    private long kept;

    /// <summary>Prepares a store; nothing is read or written yet.</summary>
    /// <param name="scenario">The scenario whose cases these are.</param>
    /// <param name="path">Path of the file that finished cases are written to.</param>
    public CaseStore(Scenario scenario, string path)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentException.ThrowIfNullOrWhiteSpace(path);
        this.scenario = scenario;
        Path = path;
    }

    /// <summary>Path of the file that finished cases are written to.</summary>
    public string Path { get; }

    /// <summary>Cases that were read or have been written.</summary>
    public int Finished
    {
        get
        {
            lock (gate)
            {
                return known.Count + waiting.Count;
            }
        }
    }

    /// <summary>Name of the file of a shard.</summary>
    /// <param name="shard">The shard.</param>
    public static string NameOf(Shard shard)
    {
        ArgumentNullException.ThrowIfNull(shard);
        return $"cases.shard-{shard.Index}-of-{shard.Count}.jsonl";
    }

    /// <summary>True for the name of a file that a store writes.</summary>
    /// <param name="name">Name without folder.</param>
    public static bool IsStore(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return name == PartialName || (name.StartsWith("cases.shard-", StringComparison.Ordinal) && name.EndsWith(".jsonl", StringComparison.Ordinal));
    }

    /// <summary>Reads what earlier runs finished: the file of this store, and those of all shards beside it. A last line that a killed run left
    /// half written is taken off.</summary>
    /// <exception cref="CaseStoreException">A file cannot be read, or belongs to another scenario or version.</exception>
    public void Load()
    {
        var folder = System.IO.Path.GetDirectoryName(System.IO.Path.GetFullPath(Path))!;
        var files = Directory.Exists(folder) ? Directory.EnumerateFiles(folder, ShardPattern).Order(StringComparer.Ordinal).ToList() : [];
        foreach (var file in files.Where(f => System.IO.Path.GetFileName(f) != System.IO.Path.GetFileName(Path)))
        {
            Read(file);
        }

        if (File.Exists(Path))
        {
            kept = Read(Path);
        }
    }

    /// <summary>Writes what is waiting.</summary>
    /// <exception cref="CaseStoreException">The file cannot be written.</exception>
    public void Flush()
    {
        lock (gate)
        {
            Write();
        }
    }

    /// <summary>Removes the file: the run has ended and its results are elsewhere.</summary>
    public void Delete()
    {
        lock (gate)
        {
            waiting.Clear();
            Guard(() => File.Delete(Path));
        }
    }

    /// <summary>Writes what is waiting.</summary>
    public void Dispose() => Flush();

    internal bool TryGet(int number, out CaseRecord record)
    {
        lock (gate)
        {
            return known.TryGetValue(number, out record!);
        }
    }

    internal void Add(CaseRecord record)
    {
        lock (gate)
        {
            waiting.Add(record);
            if (sinceWritten.Elapsed > Patience)
            {
                Write();
            }
        }
    }

    private void Write()
    {
        sinceWritten.Restart();
        if (waiting.Count == 0)
        {
            return;
        }

        Guard(() =>
        {
            Directory.CreateDirectory(System.IO.Path.GetDirectoryName(System.IO.Path.GetFullPath(Path))!);
            using var stream = new FileStream(Path, FileMode.OpenOrCreate, FileAccess.Write, FileShare.Read);
            stream.SetLength(kept);
            stream.Position = kept;
            if (kept == 0)
            {
                stream.Write(CaseLine.Header(scenario));
            }

            foreach (var record in waiting)
            {
                stream.Write(CaseLine.Case(record));
            }

            kept = stream.Position;
        });
        foreach (var record in waiting)
        {
            known[record.Number] = record;
        }

        waiting.Clear();
    }

    /// <summary>Reads a file; the length of it that is good.</summary>
    private long Read(string file)
    {
        byte[] bytes = [];
        Guard(() => bytes = File.ReadAllBytes(file), "read");
        var good = 0;
        for (var end = Array.IndexOf(bytes, (byte)'\n'); end >= 0; end = Array.IndexOf(bytes, (byte)'\n', good))
        {
            var line = bytes.AsMemory(good, end - good);
            if (good == 0)
            {
                CheckHeader(file, line);
            }
            else if (CaseLine.Case(line) is { } record)
            {
                known[record.Number] = record;
            }
            else
            {
                throw new CaseStoreException($"'{file}' has a line at byte {good} that is no finished case; delete the file to compute its cases anew.");
            }

            good = end + 1;
        }

        return good;
    }

    private void CheckHeader(string file, ReadOnlyMemory<byte> line)
    {
        string? problem;
        try
        {
            using var header = JsonDocument.Parse(line);
            problem = CaseLine.Problem(header.RootElement, scenario);
        }
        catch (JsonException)
        {
            problem = "it is no file of finished cases of this program";
        }

        if (problem is not null)
        {
            throw new CaseStoreException($"'{file}': {problem}; delete it to compute its cases anew.");
        }
    }

    private void Guard(Action work, string what = "written")
    {
        try
        {
            work();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            throw new CaseStoreException($"'{Path}' cannot be {what}: {e.Message}", e);
        }
    }
}
