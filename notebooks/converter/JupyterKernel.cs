using System.Reflection;
using System.Runtime.InteropServices;
using BoardSim.Reports.Notebooks;

namespace BoardSim.Notebooks;

/// <summary>Makes the cells feel at home in Jupyter's C# kernel, which starts in the notebooks' folder and knows no runtime folders.</summary>
public static class JupyterKernel
{
    private static bool started;

    /// <summary>Moves to the folder above the notebooks, finds the drawing library's native part, and shows figures in the notebook.</summary>
    /// <param name="display">Shows a piece of HTML below the cell that runs.</param>
    public static void Start(Action<string> display)
    {
        ArgumentNullException.ThrowIfNull(display);
        NotebookPage.Shown = png => display($"<img alt=\"figure\" src=\"data:image/png;base64,{Convert.ToBase64String(png)}\" />");
        if (started)
            return;
        started = true;
        if (!File.Exists("BoardSim.sln"))
            Directory.SetCurrentDirectory("..");
        foreach (var assembly in new[] { Assembly.Load("SkiaSharp"), Assembly.Load("HarfBuzzSharp") })
            NativeLibrary.SetDllImportResolver(assembly, Native);
    }

    private static nint Native(string name, Assembly assembly, DllImportSearchPath? search)
    {
        var here = Path.GetDirectoryName(typeof(JupyterKernel).Assembly.Location)!;
        var system = OperatingSystem.IsWindows() ? "win" : OperatingSystem.IsMacOS() ? "osx" : "linux";
        var architecture = RuntimeInformation.ProcessArchitecture.ToString().ToLowerInvariant();
        foreach (var folder in new[] { $"{system}-{architecture}", system })
        {
            var native = Path.Combine(here, "runtimes", folder, "native");
            var file = new[] { $"{name}.so", $"{name}.dll", $"{name}.dylib" }.Select(end => Path.Combine(native, end)).FirstOrDefault(File.Exists);
            if (file is not null)
                return NativeLibrary.Load(file);
        }

        return 0;
    }
}
