using System.Collections.Concurrent;
using System.Diagnostics;
using BoardSim.Fuzz.Generation;

namespace BoardSim.Fuzz.Running;

/// <summary>Tries many inputs on one reader, watches time and memory, and keeps what went wrong.</summary>
internal sealed class Campaign(ISubject subject, int seed, int threads)
{
    /// <summary>An input that takes longer to read has failed, in seconds.</summary>
    private const double LongestReading = 1;

    /// <summary>An input has failed that takes longer in all by the wall's clock: what can be read is also written, read again, compiled and run.</summary>
    private const double LongestInput = 20;

    /// <summary>An input that takes longer is taken for one that never ends, in seconds.</summary>
    private const double Hang = 60;

    /// <summary>Memory above what the program needs by itself, in bytes.</summary>
    public const long MostMemory = 200L << 20;

    /// <summary>One input in so many is run as well.</summary>
    private const int RunOneIn = 40;

    private readonly ConcurrentBag<Failure> failures = [];
    private readonly long[] verdicts = new long[Enum.GetValues<Verdict>().Length];
    private readonly Lock gate = new();
    private readonly (long Since, int Input)[] busy = new (long, int)[threads];
    private (double Seconds, int Input) slowest;
    private (long Bytes, int Input) hungriest;
    private long characters;

    /// <summary>Text of an input.</summary>
    public string Text(int input) => subject.Make(DiceOf(input));

    /// <summary>Tries the inputs from a first one on.</summary>
    /// <param name="first">Number of the first input.</param>
    /// <param name="count">How many.</param>
    /// <param name="stop">Ends the campaign early.</param>
    /// <returns>What was seen.</returns>
    public CampaignResult Run(int first, int count, CancellationToken stop)
    {
        WarmUp();
        var watch = Stopwatch.StartNew();
        var memory = MemoryNow();
        var peak = memory;
        var next = first - 1;
        var workers = Enumerable.Range(0, threads).Select(worker => new Thread(() =>
        {
            for (int input; (input = Interlocked.Increment(ref next)) < first + count && !stop.IsCancellationRequested;)
            {
                busy[worker] = (Stopwatch.GetTimestamp(), input);
                One(input);
                busy[worker] = (0, 0);
            }
        })).ToList();
        workers.ForEach(w => w.Start());
        while (workers.Any(w => w.IsAlive))
        {
            Thread.Sleep(20);
            peak = Math.Max(peak, MemoryNow());
            foreach (var (since, input) in busy.ToArray())
            {
                if (since != 0 && Stopwatch.GetElapsedTime(since).TotalSeconds > Hang)
                {
                    failures.Add(new Failure(input, $"still busy after {Hang} s"));
                    return Result(count, watch, peak - memory, hangs: true);
                }
            }
        }

        return Result(Math.Min(next, first + count) - first, watch, peak - memory, hangs: false);
    }

    private CampaignResult Result(int inputs, Stopwatch watch, long memory, bool hangs) => new(
        subject.Name, inputs, Interlocked.Read(ref characters), verdicts, slowest, hungriest, memory, watch.Elapsed, hangs, [.. failures.OrderBy(f => f.Input)]);

    /// <summary>Loads and compiles what every input needs, so that neither time nor memory of that is charged to one.</summary>
    private void WarmUp()
    {
        for (var input = -1; input > -200; input--)
        {
            try
            {
                subject.Try(Text(input), IsRun(input), new ReadingClock());
            }
#pragma warning disable CA1031 // Loading is all that this is about.
            catch (Exception)
#pragma warning restore CA1031
            {
            }
        }

        GC.Collect();
        GC.WaitForPendingFinalizers();
        GC.Collect();
    }

    private void One(int input)
    {
        var text = Text(input);
        var bytes = GC.GetAllocatedBytesForCurrentThread();
        var (start, reading) = (Stopwatch.GetTimestamp(), new ReadingClock());
        try
        {
            var verdict = subject.Try(text, IsRun(input), reading);
            Interlocked.Increment(ref verdicts[(int)verdict]);
        }
#pragma warning disable CA1031 // Whatever comes out is what this program is looking for.
        catch (Exception fault)
#pragma warning restore CA1031
        {
            failures.Add(new Failure(input, $"{fault.GetType().Name}: {fault.Message}\n{fault.StackTrace}"));
        }

        var seconds = reading.Seconds;
        bytes = GC.GetAllocatedBytesForCurrentThread() - bytes;
        if (seconds > LongestReading)
        {
            failures.Add(new Failure(input, FormattableString.Invariant($"took {seconds:0.0} s to read")));
        }

        var whole = Stopwatch.GetElapsedTime(start).TotalSeconds;
        if (whole > LongestInput)
        {
            failures.Add(new Failure(input, FormattableString.Invariant($"took {whole:0.0} s in all")));
        }

        Interlocked.Add(ref characters, text.Length);
        lock (gate)
        {
            slowest = seconds > slowest.Seconds ? (seconds, input) : slowest;
            hungriest = bytes > hungriest.Bytes ? (bytes, input) : hungriest;
        }
    }

    private Dice DiceOf(int input) => new(unchecked(seed * 1_000_003 + input));

    private static bool IsRun(int input) => input % RunOneIn == 0;

    private static long MemoryNow()
    {
        using var process = Process.GetCurrentProcess();
        return process.WorkingSet64;
    }
}

/// <summary>An input that went wrong.</summary>
/// <param name="Input">Its number.</param>
/// <param name="What">What happened.</param>
internal sealed record Failure(int Input, string What);

/// <summary>What a campaign saw.</summary>
internal sealed record CampaignResult(
    string Subject,
    int Inputs,
    long Characters,
    IReadOnlyList<long> Verdicts,
    (double Seconds, int Input) Slowest,
    (long Bytes, int Input) Hungriest,
    long PeakMemory,
    TimeSpan Duration,
    bool Hangs,
    IReadOnlyList<Failure> Failures)
{
    /// <summary>Whether nothing went wrong.</summary>
    public bool Passed => Failures.Count == 0 && PeakMemory <= Campaign.MostMemory;
}
