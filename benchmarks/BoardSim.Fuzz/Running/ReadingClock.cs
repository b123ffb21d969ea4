using System.Diagnostics;
using System.Runtime.InteropServices;

namespace BoardSim.Fuzz.Running;

/// <summary>
/// Time that the calling thread has spent on the processor; on systems without a clock for that, the wall's. What other programs
/// do meanwhile is not the reader's fault.
/// </summary>
internal sealed class ReadingClock
{
    /// <summary>CLOCK_THREAD_CPUTIME_ID of Linux's time.h.</summary>
    private const int ThreadTime = 3;

    private double started;

    public double Seconds { get; private set; }

    public void Start() => started = Now();

    public void Stop() => Seconds += Now() - started;

    private static double Now()
    {
        if (OperatingSystem.IsLinux() && GetTime(ThreadTime, out var time) == 0)
        {
            return time.Seconds + 1e-9 * time.Nanoseconds;
        }

        return Stopwatch.GetTimestamp() / (double)Stopwatch.Frequency;
    }

    [DllImport("libc", EntryPoint = "clock_gettime")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int GetTime(int clock, out Time time);

    [StructLayout(LayoutKind.Sequential)]
    private struct Time
    {
        public nint Seconds;
        public nint Nanoseconds;
    }
}
