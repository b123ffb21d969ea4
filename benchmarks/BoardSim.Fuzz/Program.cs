using System.Globalization;
using BoardSim.Fuzz.Running;

// fuzz [--reader netlist|scenario|board] [--seed S] [--count N] [--first K] [--threads T]   tries inputs; ends with 1 when one went wrong
// fuzz --reader R --seed S --show K                                                   prints one input, to look at or keep
const string Usage = "fuzz [--reader netlist|scenario|board] [--seed S] [--count N] [--first K] [--threads T] [--show K]";
CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
var options = new Dictionary<string, string>(StringComparer.Ordinal)
{
    ["--reader"] = "both",
    ["--seed"] = "1",
    ["--count"] = "20000",
    ["--first"] = "0",
    ["--threads"] = "1",
    ["--show"] = "",
};
for (var k = 0; k < args.Length; k += 2)
{
    if (k + 1 == args.Length || !options.ContainsKey(args[k]))
    {
        Console.Error.WriteLine($"'{args[k]}' is no option, or its value is missing: {Usage}");
        return 2;
    }

    options[args[k]] = args[k + 1];
}

if (!int.TryParse(options["--seed"], out var seed) || !int.TryParse(options["--count"], out var count) || count < 1
    || !int.TryParse(options["--first"], out var first) || first < 0 || !int.TryParse(options["--threads"], out var threads) || threads < 1)
{
    Console.Error.WriteLine($"Seed, count, first and threads are whole numbers, the last two from 0 and 1: {Usage}");
    return 2;
}

ISubject[] all = [new NetlistSubject(), new ScenarioSubject(), new BoardSubject()];
var subjects = all.Where(s => options["--reader"] == "both" || options["--reader"] == s.Name).ToList();
if (subjects.Count == 0)
{
    Console.Error.WriteLine($"There is no reader {options["--reader"]}: {Usage}");
    return 2;
}

if (int.TryParse(options["--show"], out var shown))
{
    Console.Write(new Campaign(subjects[0], seed, 1).Text(shown));
    return 0;
}

using var stop = new CancellationTokenSource();
Console.CancelKeyPress += (_, e) =>
{
    e.Cancel = !stop.IsCancellationRequested;
    stop.Cancel();
};
var passed = true;
foreach (var subject in subjects)
{
    var result = new Campaign(subject, seed, threads).Run(first, count, stop.Token);
    Report.Write(Console.Out, result, seed);
    passed &= result.Passed;
    if (result.Hangs)
    {
        // The thread that hangs would keep the process alive.
        Environment.Exit(1);
    }
}

return passed ? 0 : 1;
