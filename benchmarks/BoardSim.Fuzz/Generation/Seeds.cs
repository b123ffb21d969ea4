using System.Reflection;

namespace BoardSim.Fuzz.Generation;

/// <summary>The texts that are mutated: circuits of the benchmarks, one with everything in it, and the shipped scenarios and boards.</summary>
internal static class Seeds
{
    public static IReadOnlyList<string> Netlists { get; } = Load(".cir");

    public static IReadOnlyList<string> Scenarios { get; } = Load(".yaml");

    /// <summary>Board files by name, as scenarios name them.</summary>
    public static IReadOnlyDictionary<string, string> BoardFiles { get; } = LoadNamed(".board");

    public static IReadOnlyList<string> Boards { get; } = [.. BoardFiles.Values];

    private static List<string> Load(string ending) => [.. LoadNamed(ending).Values];

    private static SortedDictionary<string, string> LoadNamed(string ending)
    {
        var assembly = Assembly.GetExecutingAssembly();
        var texts = new SortedDictionary<string, string>(StringComparer.Ordinal);
        foreach (var name in assembly.GetManifestResourceNames().Where(n => n.EndsWith(ending, StringComparison.Ordinal)).Order(StringComparer.Ordinal))
        {
            using var reader = new StreamReader(assembly.GetManifestResourceStream(name)!);
            texts.Add(name[..^ending.Length], reader.ReadToEnd());
        }

        return texts;
    }
}
