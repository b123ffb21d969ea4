using BoardSim.Cli;

using var cancellation = new CancellationTokenSource();
Console.CancelKeyPress += (_, e) =>
{
    // The first Ctrl-C lets the run end in order (no half-written output); a second one ends the process.
    e.Cancel = !cancellation.IsCancellationRequested;
    cancellation.Cancel();
};
return CommandLine.Run(args, Console.Out, Console.Error, cancellation.Token);
