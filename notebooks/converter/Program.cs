using BoardSim.Notebooks;

// render [NAME...]: runs the sources and writes the rendered notebooks. check [NAME...]: runs the sources and compares what they
// print with the rendered notebooks. Without names, all of them. To be run in the folder of the solution.
var root = Directory.GetCurrentDirectory();
if (args.Length == 0 || args[0] is not ("render" or "check") || !File.Exists(Path.Combine(root, "BoardSim.sln")))
{
    Console.Error.WriteLine("In the folder of BoardSim.sln: dotnet run -c Release --project notebooks/converter -- render|check [NAME...]");
    return 2;
}

var sources = Directory.GetFiles(Path.Combine(root, "notebooks"), "??-*.cs").Order(StringComparer.Ordinal).ToList();
var unknown = args.Skip(1).Where(name => !sources.Any(source => Path.GetFileNameWithoutExtension(source) == name)).ToList();
if (unknown.Count > 0)
{
    Console.Error.WriteLine($"There is no notebook {string.Join(", ", unknown)}; there are {string.Join(", ", sources.Select(Path.GetFileNameWithoutExtension))}.");
    return 2;
}

var failed = 0;
foreach (var source in sources.Where(source => args.Length == 1 || args.Contains(Path.GetFileNameWithoutExtension(source))))
{
    var name = Path.GetFileNameWithoutExtension(source);
    var rendered = Path.ChangeExtension(source, ".ipynb");
    try
    {
        if (args[0] == "render")
            Render(source, rendered);
        else if (!File.Exists(rendered))
            throw new NotebookException($"{name}: has not been rendered yet.");
        else if (PrintedNumbers.Difference(SourceRun.Printed(root, $"notebooks/{name}.cs"), PrintedNumbers.Of(File.ReadAllText(rendered))) is { } difference)
            throw new NotebookException($"{name}: {difference}.");
        Console.WriteLine($"{name}: {(args[0] == "render" ? "rendered" : "prints what the rendered notebook says")}");
    }
    catch (NotebookException e)
    {
        Console.WriteLine($"FAILED: {e.Message}");
        failed++;
    }
}

return failed == 0 ? 0 : 1;

void Render(string source, string rendered)
{
    var text = File.ReadAllText(source);
    var name = Path.GetFileName(source);
    var copy = Path.Combine("out", "notebooks", "marked", name);
    Directory.CreateDirectory(Path.Combine(root, "out", "notebooks", "marked"));
    File.WriteAllText(Path.Combine(root, copy), MarkedCopy.Write(PercentFormat.Read(text, name), "../../../notebooks"));
    var outputs = CellOutput.Sort(SourceRun.Printed(root, copy), name);
    File.WriteAllText(rendered, RenderedNotebook.Write(name, text, outputs, path => File.ReadAllBytes(Path.Combine(root, path))));
}
