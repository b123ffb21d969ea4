using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.Envelopes;

/// <summary>What a run with leaps leaves, in order: stretches recorded step by step and computed periods; the gaps are filled at the end.</summary>
internal sealed class EnvelopeBook(int probes, double accuracy)
{
    /// <summary>Computed periods on either side of a gap that its waveforms are laid through.</summary>
    private const int Beside = 2;

    private readonly List<Entry> entries = [];

    /// <summary>Periods that were filled in; known after <see cref="Finish"/>.</summary>
    public int Interpolated { get; private set; }

    /// <summary>Samples recorded step by step so far.</summary>
    public long Count { get; private set; }

    /// <summary>Adds a stretch with absolute times.</summary>
    public void Add(RecordPiece piece, IEnumerable<CircuitEvent> events) => Add(new Entry(piece, [.. events], null, 0, 0));

    /// <summary>Adds a computed period.</summary>
    /// <param name="period">The period; its times count from its start.</param>
    /// <param name="origin">Start of period 0 in seconds.</param>
    /// <param name="length">Length of a period in seconds.</param>
    public void Add(ComputedPeriod period, double origin, double length) => Add(new Entry(period.Record, [], period, origin, length));

    /// <summary>Puts all together.</summary>
    /// <param name="start">Instant from which on samples are kept.</param>
    /// <param name="resolution">Distance in seconds down to which samples are set in the gaps.</param>
    /// <param name="events">Receives the changes of discrete states.</param>
    public RecordPiece Finish(double start, double resolution, List<CircuitEvent> events)
    {
        var times = new List<double>();
        var columns = Enumerable.Range(0, probes).Select(_ => new List<double>()).ToArray();
        for (var e = 0; e < entries.Count; e++)
        {
            var entry = entries[e];
            if (e > 0 && Gap(entries[e - 1], entry) > 0)
            {
                Fill(e, resolution, times, columns, events);
            }

            var offset = entry.Period is { } period ? entry.Origin + period.Number * entry.Length : 0;
            times.AddRange(entry.Period is null ? entry.Piece.Times : entry.Piece.Times.Select(t => offset + t));
            for (var p = 0; p < probes; p++)
            {
                columns[p].AddRange(entry.Piece.Values[p]);
            }

            events.AddRange(entry.Period is { } computed ? computed.Happened.Zip(computed.EventTimes, (h, t) => new CircuitEvent(offset + t, h.Part, h.State)) : entry.Events);
        }

        return Cut(start, times, columns);
    }

    private void Add(Entry entry)
    {
        entries.Add(entry);
        Count += entry.Piece.Times.Length;
    }

    /// <summary>Periods that are missing between two entries.</summary>
    private static int Gap(Entry a, Entry b) =>
        a.Period is { } from && b.Period is { } to && a.Origin == b.Origin ? to.Number - from.Number - 1 : 0;

    private void Fill(int after, double resolution, List<double> times, List<double>[] columns, List<CircuitEvent> events)
    {
        var (a, b) = (entries[after - 1], entries[after]);
        var gap = Gap(a, b);
        var nodes = new List<ComputedPeriod> { a.Period!, b.Period! };
        Extend(nodes, after - 1, -1, gap);
        Extend(nodes, after, +1, gap);
        var middle = a.Period!.Number + gap / 2;
        var all = nodes.ToArray();
        var tolerance = Enumerable.Range(0, probes).Select(p => accuracy * Math.Max(Peak(a.Piece.Values[p]), Peak(b.Piece.Values[p]))).ToArray();
        var early = new WaveformFill(all, a.Period, a.Length, resolution, tolerance);
        var late = new WaveformFill(all, b.Period!, a.Length, resolution, tolerance);
        for (var n = a.Period.Number + 1; n < b.Period!.Number; n++)
        {
            (n <= middle ? early : late).Write(n, a.Origin + n * a.Length, times, columns, events);
            Interpolated++;
        }
    }

    /// <summary>Looks for one more computed period on one side, not so near that it adds nothing but noise.</summary>
    private void Extend(List<ComputedPeriod> nodes, int from, int direction, int gap)
    {
        var nearest = entries[from].Period!;
        for (var e = from + direction; e >= 0 && e < entries.Count; e += direction)
        {
            if (entries[e].Period is not { } period || entries[e].Origin != entries[from].Origin || !period.HappensAs(nearest))
            {
                return;
            }

            if (Math.Abs(period.Number - nearest.Number) >= gap / Beside)
            {
                nodes.Add(period);
                return;
            }
        }
    }

    private static double Peak(double[] values) => values.Max(Math.Abs);

    private static RecordPiece Cut(double start, List<double> times, List<double>[] columns)
    {
        var first = start > 0 ? times.FindIndex(t => t >= start) : 0;
        if (first <= 0)
        {
            return new RecordPiece([.. times], [.. columns.Select(c => c.ToArray())]);
        }

        var (t0, t1) = (times[first - 1], times[first]);
        var share = (start - t0) / (t1 - t0);
        var exact = t1 > start;
        return new RecordPiece(
            [.. exact ? [start] : Array.Empty<double>(), .. times.Skip(first)],
            [.. columns.Select(c => (double[])[.. exact ? [c[first - 1] + share * (c[first] - c[first - 1])] : Array.Empty<double>(), .. c.Skip(first)])]);
    }

    private sealed record Entry(RecordPiece Piece, CircuitEvent[] Events, ComputedPeriod? Period, double Origin, double Length);
}
