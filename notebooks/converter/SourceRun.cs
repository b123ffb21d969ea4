using System.Diagnostics;

namespace BoardSim.Notebooks;

/// <summary>Runs a source as the file-based app that it is.</summary>
internal static class SourceRun
{
    // A notebook takes half a minute with its build; a machine that is busy with other things gets ten times that.
    private static readonly TimeSpan Longest = TimeSpan.FromMinutes(6);

    /// <summary>What it prints.</summary>
    /// <param name="root">Folder of the solution, which the source is run in.</param>
    /// <param name="path">Path of the source from there.</param>
    /// <exception cref="NotebookException">It does not build, fails, or takes too long.</exception>
    public static string Printed(string root, string path)
    {
        using var process = Process.Start(new ProcessStartInfo("dotnet", ["run", "-c", "Release", path])
        {
            WorkingDirectory = root,
            RedirectStandardOutput = true,
            RedirectStandardInput = true,
            StandardOutputEncoding = System.Text.Encoding.UTF8,
        })!;
        process.StandardInput.Close();
        var printed = process.StandardOutput.ReadToEndAsync();
        if (!process.WaitForExit(Longest))
        {
            process.Kill(entireProcessTree: true);
            throw new NotebookException($"{path}: stopped after {Longest.TotalMinutes:0} minutes.");
        }

        var text = printed.GetAwaiter().GetResult();
        return process.ExitCode == 0 ? text : throw new NotebookException($"{path}: ended with {process.ExitCode}; 'dotnet run {path}' shows why.\n{text}");
    }
}
