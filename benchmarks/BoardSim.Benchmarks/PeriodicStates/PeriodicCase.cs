using BoardSim.Benchmarks.WorkPrecision;
using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Analyses.PeriodicStates;
using BoardSim.Engine.Circuits;

namespace BoardSim.Benchmarks.PeriodicStates;

/// <summary>A board whose periodic state is searched for, and waited for, at the same accuracy.</summary>
/// <param name="Name">Name in the table.</param>
/// <param name="Board">The board.</param>
/// <param name="Point">Test point that is compared.</param>
internal sealed record PeriodicCase(string Name, Board Board, string Point)
{
    /// <summary>The agreement that settling has to reach: what the mean is still away from where it ends, relative to it.</summary>
    private const double Agreement = 1e-3;

    private const double Accuracy = 1e-3;

    /// <summary>Measures both.</summary>
    public PeriodicMeasurement Measure()
    {
        // Once for the compiler, then the shortest of several: whatever else the machine does only ever adds.
        Search();
        var (found, seconds) = Search();
        for (var round = 0; round < 8; round++)
        {
            seconds = Math.Min(seconds, Search().Seconds);
        }

        var mean = Mean(found.Waveforms.Times, found.Waveforms.Values(0));
        var (periods, settlingSeconds) = Settle(found.Evidence.Period, mean);
        return new PeriodicMeasurement(this, found.Evidence, seconds, mean, periods, settlingSeconds);
    }

    private Probe Probe => Probe.Voltage(Board.TestPoint(Point).Node, Board.TestPoint(Point).ReferenceNode);

    private (PeriodicResult Result, double Seconds) Search()
    {
        var system = new CircuitSystem(Board.Circuit.Clone());
        var options = new PeriodicOptions { Accuracy = Accuracy, UseInitialConditions = Board.StartsAtRest };
        var begun = Timing.Now;
        var found = PeriodicSteadyState.Run(system, options, [Probe]);
        return (found, Timing.Now - begun);
    }

    /// <summary>Runs an ordinary transient until the mean over a period has come within the agreement, and stays there.</summary>
    private (int Periods, double Seconds) Settle(double period, double mean)
    {
        const int most = 20_000;
        for (var stop = 64; ; stop = Math.Min(most, 2 * stop))
        {
            var system = new CircuitSystem(Board.Circuit.Clone());
            var options = new TransientOptions { Stop = stop * period, Accuracy = Accuracy, UseInitialConditions = Board.StartsAtRest };
            var begun = Timing.Now;
            var run = Transient.Run(system, options, [Probe]);
            var seconds = Timing.Now - begun;
            var settled = LastBeyond(run, period, mean, stop) + 2;
            if (settled < stop || stop == most)
            {
                // Steps are alike from the first period on, so the shorter run costs its share.
                return (settled, seconds * Math.Min(1, (double)settled / stop));
            }
        }
    }

    /// <summary>Number of the last period whose mean is off.</summary>
    private static int LastBeyond(TransientResult run, double period, double mean, int count)
    {
        var (last, k) = (-1, 0);
        for (var n = 0; n < count; n++)
        {
            var first = k;
            while (k < run.Times.Length - 1 && run.Times[k] < (n + 1) * period)
            {
                k++;
            }

            if (k > first && Math.Abs(Mean(run.Times[first..(k + 1)], run.Values(0)[first..(k + 1)]) - mean) > Agreement * Math.Abs(mean))
            {
                last = n;
            }
        }

        return last;
    }

    private static double Mean(double[] times, double[] values)
    {
        var sum = 0.0;
        for (var k = 1; k < times.Length; k++)
        {
            sum += 0.5 * (values[k] + values[k - 1]) * (times[k] - times[k - 1]);
        }

        return sum / (times[^1] - times[0]);
    }
}
