namespace BoardSim.Tests.Scenarios;

/// <summary>Finds the repository's files from wherever the tests run.</summary>
internal static class Repository
{
    public static string Root { get; } = Find();

    public static string Scenarios => Path.Combine(Root, "scenarios");

    public static string Boards => Path.Combine(Scenarios, "boards");

    public static IEnumerable<string> ScenarioFiles => Yaml(Scenarios).Where(f => !f.StartsWith(Boards + Path.DirectorySeparatorChar, StringComparison.Ordinal));

    public static IEnumerable<string> BoardFiles => Yaml(Boards);

    private static IEnumerable<string> Yaml(string folder) =>
        Directory.Exists(folder) ? Directory.EnumerateFiles(folder, "*.yaml", SearchOption.AllDirectories).Order(StringComparer.Ordinal) : [];

    private static string Find()
    {
        for (var folder = AppContext.BaseDirectory; folder is not null; folder = Path.GetDirectoryName(folder))
        {
            if (File.Exists(Path.Combine(folder, "BoardSim.sln")))
            {
                return folder;
            }
        }

        throw new DirectoryNotFoundException($"No folder above {AppContext.BaseDirectory} holds BoardSim.sln.");
    }
}
