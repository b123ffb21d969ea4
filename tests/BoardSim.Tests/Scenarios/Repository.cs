namespace BoardSim.Tests.Scenarios;

/// <summary>Finds the repository's files from wherever the tests run.</summary>
internal static class Repository
{
    public static string Root { get; } = Find();

    public static string Scenarios => Path.Combine(Root, "scenarios");

    public static IEnumerable<string> ScenarioFiles =>
        Directory.Exists(Scenarios) ? Directory.EnumerateFiles(Scenarios, "*.yaml", SearchOption.AllDirectories).Order(StringComparer.Ordinal) : [];

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
