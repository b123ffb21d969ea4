using System.Diagnostics;
using BoardSim.Scenarios;
using Spectre.Console;

namespace BoardSim.Cli.Commands;

/// <summary>Shows how far a run is: a bar on a terminal, a line now and then where messages go to a file or a pipe.</summary>
internal static class RunProgressView
{
    /// <summary>Runs with the progress shown.</summary>
    /// <param name="terminal">Where it is shown.</param>
    /// <param name="name">What is run.</param>
    /// <param name="options">How it is run.</param>
    /// <param name="run">Runs it.</param>
    public static T Follow<T>(Terminal terminal, string name, RunOptions options, Func<RunOptions, T> run) =>
        !terminal.Messages.Profile.Capabilities.Interactive
            ? run(options with { Progress = new Lines(terminal.Error, name) })
            : terminal.Messages.Progress().AutoClear(true)
                .Columns(new TaskDescriptionColumn(), new ProgressBarColumn(), new PercentageColumn(), new RemainingTimeColumn())
                .Start(context => run(options with { Progress = new Bar(context.AddTask(Markup.Escape(name))) }));

    private sealed class Bar(ProgressTask task) : IProgress<RunProgress>
    {
        public void Report(RunProgress value)
        {
            task.MaxValue = value.Total;
            task.Value = value.Done;
            task.Description = Markup.Escape($"{value.Done} of {value.Total}: {value.What}");
        }
    }

    private sealed class Lines(TextWriter writer, string name) : IProgress<RunProgress>
    {
        private static readonly TimeSpan Interval = TimeSpan.FromSeconds(10);

        private readonly Stopwatch since = Stopwatch.StartNew();

        public void Report(RunProgress value)
        {
            if (since.Elapsed > Interval)
            {
                since.Restart();
                writer.WriteLine($"{name}: {value.Done} of {value.Total} computed");
            }
        }
    }
}
