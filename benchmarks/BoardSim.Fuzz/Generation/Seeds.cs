using System.Reflection;

namespace BoardSim.Fuzz.Generation;

/// <summary>The texts that are mutated: circuits of the benchmarks, one with everything in it, and the shipped scenarios.</summary>
internal static class Seeds
{
    public static IReadOnlyList<string> Netlists { get; } = Load(".cir");

    public static IReadOnlyList<string> Scenarios { get; } = Load(".yaml");

    private static List<string> Load(string ending)
    {
        var assembly = Assembly.GetExecutingAssembly();
        var texts = new List<string>();
        foreach (var name in assembly.GetManifestResourceNames().Where(n => n.EndsWith(ending, StringComparison.Ordinal)).Order(StringComparer.Ordinal))
        {
            using var reader = new StreamReader(assembly.GetManifestResourceStream(name)!);
            texts.Add(reader.ReadToEnd());
        }

        return texts;
    }
}
