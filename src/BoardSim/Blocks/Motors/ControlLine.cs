using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Motors;

/// <summary>What a bench puts on a control line: high from one instant to another, several times.</summary>
internal static class ControlLine
{
    private const double Edge = 100e-9;

    /// <summary>The waveform.</summary>
    /// <param name="volts">Voltage while high.</param>
    /// <param name="high">Stretches in seconds, in any order, not overlapping; empty ones are left out.</param>
    public static PiecewiseLinearWaveform Of(double volts, params (double From, double To)[] high)
    {
        List<(double Time, double Volts)> points = [(0, 0)];
        foreach (var (from, to) in high.Where(h => h.To > h.From).OrderBy(h => h.From))
        {
            if (from <= points[^1].Time && points[^1].Time > 0)
            {
                // Goes on where the one before ends.
                points.RemoveRange(points.Count - 2, 2);
            }
            else
            {
                points.AddRange([(from, 0), (from + Edge, volts)]);
            }

            points.AddRange([(to, volts), (to + Edge, 0)]);
        }

        return new PiecewiseLinearWaveform([.. points.Select(p => p.Time)], [.. points.Select(p => p.Volts)]);
    }
}
