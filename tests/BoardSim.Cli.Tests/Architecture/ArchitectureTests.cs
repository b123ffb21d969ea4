using System.Runtime.InteropServices;
using System.Xml.Linq;

namespace BoardSim.Cli.Tests.Architecture;

/// <summary>
/// The arrows between assemblies and between folders, as DEVELOPERS.md draws them. They are checked in the command line's test
/// project because it alone sees all assemblies.
/// </summary>
public class ArchitectureTests
{
    private const string Numerics = "BoardSim.Engine/Numerics";
    private const string Circuits = "BoardSim.Engine/Circuits";
    private const string Devices = "BoardSim.Engine/Devices";
    private const string Analyses = "BoardSim.Engine/Analyses";
    private const string Netlists = "BoardSim.Engine/Netlists";
    private const string Quantities = "BoardSim/Quantities";
    private const string Ageing = "BoardSim/Ageing";
    private const string Measurement = "BoardSim/Measurement";
    private const string Boards = "BoardSim/Boards";
    private const string Faults = "BoardSim/Faults";
    private const string Blocks = "BoardSim/Blocks";
    private const string Designs = "BoardSim/Designs";
    private const string Scenarios = "BoardSim/Scenarios";

    private static readonly BuiltAssembly[] Assemblies =
        [.. new[] { "BoardSim.Engine", "BoardSim", "BoardSim.Reports", "BoardSim.Cli" }.Select(BuiltAssembly.Read)];

    private static readonly string[] Engine = [Numerics, Circuits, Devices, Analyses, Netlists];
    private static readonly string[] Library = [Quantities, Ageing, Measurement, Boards, Faults, Blocks, Designs, Scenarios];
    private static readonly string[] Reports = ["BoardSim.Reports", "BoardSim.Reports/Figures", "BoardSim.Reports/Results", "BoardSim.Reports/Handout", "BoardSim.Reports/Notebooks", "BoardSim.Reports/Catalogue"];
    private static readonly string[] Cli = ["BoardSim.Cli", "BoardSim.Cli/Commands"];

    /// <summary>What each room may use. Every room is listed; one that is not here may use nothing.</summary>
    private static readonly Dictionary<string, string[]> MayUse = new()
    {
        [Numerics] = [],
        [Circuits] = [Numerics],
        [Devices] = [Circuits, Numerics],
        [Analyses] = [Circuits, Numerics],
        [Netlists] = Engine,
        [Quantities] = [],
        [Ageing] = [],
        [Measurement] = [Quantities, Ageing, .. Engine],
        [Boards] = [Quantities, Ageing, Measurement, .. Engine],
        [Faults] = [Quantities, Ageing, Measurement, Boards, .. Engine],
        [Blocks] = [Quantities, Ageing, Measurement, Boards, Faults, .. Engine],
        [Designs] = [Quantities, Ageing, Measurement, Boards, Faults, Blocks, .. Engine],
        [Scenarios] = [.. Library, .. Engine],
        ["BoardSim.Reports"] = [.. Reports, .. Library, .. Engine],
        ["BoardSim.Reports/Figures"] = ["BoardSim.Reports", .. Library, .. Engine],
        ["BoardSim.Reports/Results"] = ["BoardSim.Reports", .. Library, .. Engine],
        ["BoardSim.Reports/Catalogue"] = [.. Library, .. Engine],
        ["BoardSim.Reports/Handout"] = ["BoardSim.Reports", "BoardSim.Reports/Figures", .. Library, .. Engine],
        ["BoardSim.Reports/Notebooks"] = ["BoardSim.Reports", "BoardSim.Reports/Figures", .. Library, .. Engine],
        ["BoardSim.Cli"] = [.. Cli, .. Reports, .. Library, .. Engine],
        ["BoardSim.Cli/Commands"] = [.. Cli, .. Reports, .. Library, .. Engine],
    };

    /// <summary>Packages, and the folders that may know them.</summary>
    private static readonly Dictionary<string, string[]> Packages = new()
    {
        ["MathNet.Numerics"] = [Measurement],
        ["YamlDotNet"] = ["BoardSim/Scenarios/Text"],
        ["ScottPlot"] = ["BoardSim.Reports/Figures"],
        ["SkiaSharp"] = ["BoardSim.Reports/Figures"],
        ["System.CommandLine"] = Cli,
        ["Spectre.Console"] = Cli,
        ["Spectre.Console.Ansi"] = Cli,
    };

    internal static FolderGraph Whole { get; } = new(Assemblies);

    [Fact]
    public void Rooms_use_only_what_their_arrows_allow() => Assert.Empty(Whole.Forbidden(MayUse));

    [Fact]
    public void Every_room_has_its_arrows_listed() =>
        Assert.Equal(MayUse.Keys.Order(StringComparer.Ordinal), Whole.Folders.Select(FolderGraph.Room).Distinct().Order(StringComparer.Ordinal));

    [Fact]
    public void No_folders_use_each_other_in_a_circle() => Assert.Empty(Whole.Circles());

    [Fact]
    public void Packages_are_known_only_where_they_belong()
    {
        var found = new List<string>();
        foreach (var assembly in Assemblies)
        {
            foreach (var use in assembly.Uses.Where(u => !IsFramework(u.Assembly) && !Assemblies.Any(a => a.Name == u.Assembly)))
            {
                var folder = assembly.Folders.TryGetValue(use.From, out var inside) ? $"{assembly.Name}/{inside}".TrimEnd('/') : assembly.Name;
                if (!(Packages.TryGetValue(use.Assembly, out var places) && places.Any(place => folder == place || folder.StartsWith(place + "/", StringComparison.Ordinal))))
                {
                    found.Add($"{folder}: {use.From} uses {use.To} of {use.Assembly}");
                }
            }
        }

        Assert.Empty(found);
    }

    [Fact]
    public void The_engine_refers_to_nothing_but_the_framework() =>
        Assert.DoesNotContain(Assemblies[0].References, reference => !IsFramework(reference));

    [Theory]
    [InlineData("BoardSim.Engine", "")]
    [InlineData("BoardSim", "BoardSim.Engine MathNet.Numerics YamlDotNet")]
    [InlineData("BoardSim.Reports", "BoardSim ScottPlot")]
    [InlineData("BoardSim.Cli", "BoardSim.Reports Spectre.Console System.CommandLine")]
    public void Projects_ask_for_no_other_project_or_package(string project, string expected)
    {
        // A package that is asked for and not used leaves no trace in the assembly, so the project files are read as well.
        var file = XDocument.Load(Path.Combine(Root(), "src", project, project + ".csproj"));
        var asked = file.Descendants("ProjectReference").Select(r => Path.GetFileNameWithoutExtension(r.Attribute("Include")!.Value.Replace('\\', '/')))
            .Concat(file.Descendants("PackageReference").Select(r => r.Attribute("Include")!.Value));
        Assert.Equal(expected, string.Join(' ', asked.Order(StringComparer.Ordinal)));
    }

    [Fact]
    public void Namespaces_follow_folders()
    {
        // A subfolder may go without a name of its own, a room may not.
        var wrong = Assemblies.SelectMany(assembly => assembly.Folders.Select(type => (assembly, Type: type.Key, Folder: type.Value)))
            .Where(t => t.Folder.Length > 0)
            .Where(t =>
            {
                var space = t.Type[..Math.Max(0, t.Type.LastIndexOf('.'))];
                var full = $"{t.assembly.Name}.{t.Folder.Replace('/', '.')}";
                var room = $"{t.assembly.Name}.{t.Folder.Split('/')[0]}";
                return !(full + ".").StartsWith(space + ".", StringComparison.Ordinal) || !(space + ".").StartsWith(room + ".", StringComparison.Ordinal);
            })
            .Select(t => $"{t.Type} lies in {t.assembly.Name}/{t.Folder}");
        Assert.Empty(wrong);
    }

    private static bool IsFramework(string assembly) => File.Exists(Path.Combine(RuntimeEnvironment.GetRuntimeDirectory(), assembly + ".dll"));

    private static string Root()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "BoardSim.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException("The tests must run from a build inside the repository.");
    }
}
