using System.Text;
using BoardSim.Scenarios;

namespace BoardSim.Reports.Results;

/// <summary>
/// All waveforms of a run as one table. First column <c>time</c> in seconds (<c>frequency</c> in hertz for a frequency response), then one column for each condition and observation,
/// named with condition, test point, reference and unit. Every condition was computed on time steps of its own; the table has
/// the instants of all of them, and a waveform's value between two of its own samples lies on the straight line that joins
/// them, which is what a waveform is here, so nothing is made up. An instant stands twice where a waveform jumps (left
/// and right value); a field is empty where nothing was recorded. Samples are left out where the line between their neighbours
/// passes within half the run's relative accuracy, at most 5e-4, of the waveform's peak-to-peak value.
/// </summary>
internal static class WaveformsCsv
{
    public static string Write(ScenarioResult result)
    {
        var tolerance = Math.Min(5e-4, result.Scenario.Run.Accuracy / 2);
        var columns = result.Conditions.SelectMany(condition => Thin(condition.Waveforms, tolerance).Select(trace => (Head: Head(condition, trace.Signal), Trace: trace))).ToList();
        var text = new StringBuilder();
        CsvText.Line(text, columns.Select(column => column.Head).Prepend(result.Scenario.Run.Kind == RunKind.FrequencyResponse ? "frequency" : "time"));
        var cursors = columns.Select(column => new Cursor(column.Trace)).ToArray();
        var row = new string[cursors.Length + 1];
        foreach (var (time, jump) in Instants(columns.Select(column => column.Trace)))
        {
            Row(time, right: false);
            if (jump)
                Row(time, right: true);
        }

        return text.ToString();

        void Row(double time, bool right)
        {
            row[0] = CsvText.Number(time);
            for (var k = 0; k < cursors.Length; k++)
                row[k + 1] = CsvText.Value(cursors[k].At(time, right));
            CsvText.Line(text, row);
        }
    }

    private static string Head(ConditionResult condition, SignalInfo signal) =>
        signal.Reference.Length == 0
            ? $"{condition.Name}: {signal.Name} ({signal.Unit})"
            : $"{condition.Name}: {signal.Name} against {signal.Reference} ({signal.Unit})";

    private static SignalTrace[] Thin(IReadOnlyList<SignalTrace> traces, double tolerance)
    {
        // Probes of one run are sampled together; each such group keeps its instants in common.
        var thinned = new SignalTrace[traces.Count];
        foreach (var group in Enumerable.Range(0, traces.Count).GroupBy(k => traces[k].Times, SameTimes.Instance))
        {
            var members = group.ToList();
            var kept = Thinning.Keep(
                group.Key, [.. members.Select(k => traces[k].Values)],
                [.. members.Select(k => tolerance * (traces[k].Values.DefaultIfEmpty(0).Max() - traces[k].Values.DefaultIfEmpty(0).Min()))]);
            double[] times = [.. kept.Select(k => group.Key[k])];
            foreach (var k in members)
                thinned[k] = traces[k] with { Times = times, Values = [.. kept.Select(at => traces[k].Values[at])] };
        }

        return thinned;
    }

    private sealed class SameTimes : IEqualityComparer<double[]>
    {
        public static readonly SameTimes Instance = new();

        public bool Equals(double[]? x, double[]? y) => ReferenceEquals(x, y) || (x is not null && y is not null && x.AsSpan().SequenceEqual(y));

        public int GetHashCode(double[] obj) => obj.Length == 0 ? 0 : HashCode.Combine(obj.Length, obj[0], obj[^1]);
    }

    // All instants in order, each once, and whether any waveform jumps there.
    private static IEnumerable<(double Time, bool Jump)> Instants(IEnumerable<SignalTrace> traces)
    {
        // Observations of one condition often share their instants; each array is walked once.
        var arrays = traces.Select(trace => trace.Times).Distinct().ToList();
        HashSet<double> jumps = [];
        foreach (var times in arrays)
            for (var k = 1; k < times.Length; k++)
                if (times[k] == times[k - 1])
                    jumps.Add(times[k]);
        double[] all = [.. arrays.SelectMany(times => times)];
        Array.Sort(all);
        var last = double.NegativeInfinity;
        foreach (var time in all)
        {
            // Instants that print alike are one: rounding makes 0.0012 and its neighbour out of the same moment.
            var jump = jumps.Contains(time);
            if (time == last || (!jump && time - last <= 1e-12 * Math.Abs(time)))
                continue;
            last = time;
            yield return (time, jump);
        }
    }

    /// <summary>Walks along a waveform in step with the table.</summary>
    private sealed class Cursor(SignalTrace trace)
    {
        private int next;

        public double At(double time, bool right)
        {
            var (times, values) = (trace.Times, trace.Values);
            if (times.Length == 0 || time < times[0] || time > times[^1])
                return double.NaN;
            while (next < times.Length && times[next] < time)
                next++;
            if (times[next] != time)
                return values[next - 1] + ((values[next] - values[next - 1]) * ((time - times[next - 1]) / (times[next] - times[next - 1])));
            var last = next;
            while (right && last + 1 < times.Length && times[last + 1] == time)
                last++;
            return values[last];
        }
    }
}
