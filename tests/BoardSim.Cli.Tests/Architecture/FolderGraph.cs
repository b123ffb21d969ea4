namespace BoardSim.Cli.Tests.Architecture;

/// <summary>Which folder uses which, over several assemblies. A folder is named <c>Assembly/Folder/Subfolder</c>.</summary>
internal sealed class FolderGraph
{
    private readonly Dictionary<(string From, string To), TypeUse> arrows = [];

    public FolderGraph(params BuiltAssembly[] assemblies)
    {
        var byName = assemblies.ToDictionary(a => a.Name);
        foreach (var assembly in assemblies)
        {
            foreach (var use in assembly.Uses)
            {
                if (Place(byName, assembly.Name, use.From) is { } from && Place(byName, use.Assembly, use.To) is { } to && from != to)
                {
                    arrows.TryAdd((from, to), use);
                }
            }
        }

        Folders = [.. assemblies.SelectMany(a => a.Folders.Values.Select(f => Named(a.Name, f))).Distinct().Order(StringComparer.Ordinal)];
    }

    /// <summary>All folders that hold code.</summary>
    public IReadOnlyList<string> Folders { get; }

    /// <summary>A folder's first two parts: the assembly and the room within it.</summary>
    public static string Room(string folder) => string.Join('/', folder.Split('/').Take(2));

    /// <summary>Arrows from room to room that a list does not allow, each with an example.</summary>
    /// <param name="mayUse">For each room the rooms it may use; a room that is missing may use nothing.</param>
    public IReadOnlyList<string> Forbidden(IReadOnlyDictionary<string, string[]> mayUse) =>
    [
        .. arrows
            .Select(arrow => (From: Room(arrow.Key.From), To: Room(arrow.Key.To), Use: arrow.Value))
            .Where(arrow => arrow.From != arrow.To && !(mayUse.TryGetValue(arrow.From, out var allowed) && allowed.Contains(arrow.To)))
            .Select(arrow => $"{arrow.From} uses {arrow.To}: {arrow.Use.From} uses {arrow.Use.To}")
            .Order(StringComparer.Ordinal),
    ];

    /// <summary>
    /// Circles between folders that lie side by side, subfolders counted as part of the folder they are in. Between a folder and
    /// its own subfolders there is none to find: they are one room.
    /// </summary>
    public IReadOnlyList<string> Circles()
    {
        var found = new List<string>();
        var parents = Folders.SelectMany(Ancestors).Distinct().Prepend("");
        foreach (var parent in parents)
        {
            var next = new Dictionary<string, Dictionary<string, TypeUse>>();
            foreach (var ((from, to), use) in arrows)
            {
                if (Child(parent, from) is { } a && Child(parent, to) is { } b && a != b)
                {
                    next.TryAdd(a, []);
                    next[a].TryAdd(b, use);
                }
            }

            found.AddRange(CirclesIn(next));
        }

        return found;
    }

    /// <summary>Every folder that can be reached from itself is on a circle; the way back is told for the first of each.</summary>
    private static IEnumerable<string> CirclesIn(Dictionary<string, Dictionary<string, TypeUse>> next)
    {
        var told = new HashSet<string>();
        foreach (var start in next.Keys.Order(StringComparer.Ordinal))
        {
            if (!told.Contains(start) && WayBack(start, next) is { } way)
            {
                told.UnionWith(way);
                yield return string.Join("; ", way.Zip([.. way.Skip(1), start], (a, b) => $"{a} uses {b} ({next[a][b].From} uses {next[a][b].To})"));
            }
        }
    }

    private static List<string>? WayBack(string start, Dictionary<string, Dictionary<string, TypeUse>> next)
    {
        var cameFrom = new Dictionary<string, string>();
        var queue = new Queue<string>([start]);
        while (queue.TryDequeue(out var at))
        {
            foreach (var to in next.GetValueOrDefault(at, []).Keys.Order(StringComparer.Ordinal))
            {
                if (to == start)
                {
                    var way = new List<string>();
                    for (var step = at; step != start; step = cameFrom[step])
                    {
                        way.Insert(0, step);
                    }

                    return [start, .. way];
                }

                if (cameFrom.TryAdd(to, at))
                {
                    queue.Enqueue(to);
                }
            }
        }

        return null;
    }

    private static IEnumerable<string> Ancestors(string folder)
    {
        for (var cut = folder.LastIndexOf('/'); cut > 0; cut = folder.LastIndexOf('/', cut - 1))
        {
            yield return folder[..cut];
        }
    }

    /// <summary>The folder directly in <paramref name="parent"/> that holds a folder; null when it lies elsewhere or is the parent itself.</summary>
    private static string? Child(string parent, string folder)
    {
        var start = parent.Length == 0 ? 0 : parent.Length + 1;
        if (start > 0 && !folder.StartsWith(parent + "/", StringComparison.Ordinal))
        {
            return null;
        }

        var end = folder.IndexOf('/', start);
        return end < 0 ? folder : folder[..end];
    }

    private static string Named(string assembly, string folder) => folder.Length == 0 ? assembly : $"{assembly}/{folder}";

    private static string? Place(Dictionary<string, BuiltAssembly> assemblies, string assembly, string type) =>
        assemblies.TryGetValue(assembly, out var found) && found.Folders.TryGetValue(type, out var folder) ? Named(assembly, folder) : null;
}
