using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Measurement;

/// <summary>
/// Analytic curves as samples. A straight line between samples of a sine with N samples per period misses the arc by at most
/// (2 pi/N)^2/8 of the amplitude and lowers the rms by (2 pi/N)^2/12: with N = 2000, 1.2e-6 and 8e-7.
/// </summary>
internal static class Sampled
{
    public static Waveform Curve(Func<double, double> f, double from, double to, int pieces, Unit? unit = null, string name = "test")
    {
        var t = Enumerable.Range(0, pieces + 1).Select(k => k == pieces ? to : from + (to - from) * k / pieces).ToArray();
        return new Waveform(name, unit ?? Unit.Volt, t, [.. t.Select(f)]);
    }

    /// <summary>A periodic curve of period one, over whole periods.</summary>
    public static Waveform Cycles(Func<double, double> f, double frequency, int cycles = 1, int perCycle = 2000, Unit? unit = null) =>
        Curve(t => f(frequency * t), 0, cycles / frequency, cycles * perCycle, unit);

    /// <summary>A pulse train with ideal edges that starts high.</summary>
    public static Waveform Pulses(double low, double high, double duty, double period, int cycles, Unit? unit = null)
    {
        var (t, v) = (new List<double>(), new List<double>());
        for (var k = 0; k < cycles; k++)
        {
            t.AddRange([k * period, (k + duty) * period, (k + duty) * period, (k + 1) * period]);
            v.AddRange([high, high, low, low]);
        }

        return new Waveform("pulses", unit ?? Unit.Volt, t.ToArray(), v.ToArray());
    }

    public static Waveform Points(params (double Time, double Value)[] points) =>
        new("points", Unit.Volt, points.Select(p => p.Time).ToArray(), points.Select(p => p.Value).ToArray());

    /// <summary>Triangle of amplitude one and period one, sampled exactly at its corners when the sample count is a multiple of four.</summary>
    public static double Triangle(double x)
    {
        x -= Math.Floor(x);
        return x < 0.25 ? 4 * x : x < 0.75 ? 2 - 4 * x : 4 * x - 4;
    }
}
