using System.Numerics;
using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Measurement;

/// <summary>Metrics of responses on transfer functions whose margins are known in closed form.</summary>
public class ResponseMetricTests
{
    private static (Waveform Level, Waveform Phase) Response(Func<Complex, Complex> transfer, double from = 0.1, double to = 1e5)
    {
        double[] hertz = [.. Enumerable.Range(0, (int)(50 * Math.Log10(to / from)) + 1).Select(k => from * Math.Pow(10, k / 50.0))];
        Complex[] values = [.. hertz.Select(f => transfer(new Complex(0, 2 * Math.PI * f)))];
        double[] phase = [.. values.Select(v => v.Phase * 180 / Math.PI)];
        for (var k = 1; k < phase.Length; k++)
        {
            phase[k] += 360 * Math.Round((phase[k - 1] - phase[k]) / 360);
        }

        return (new Waveform("level", Unit.Decibel, hertz, [.. values.Select(v => 20 * Math.Log10(v.Magnitude))]), new Waveform("phase", Unit.Degree, hertz, phase));
    }

    private static double Of(string id, Waveform wave, params (string Key, double Value)[] with) => Metrics.Get(id).Evaluate(wave, with).Value;

    // An integrator with a pole at its own crossover: crosses where w^2 (1 + w^2) = 1 in units of it, w = sqrt((sqrt 5 - 1) / 2) = 0.78615, with a margin of
    // 90 deg - atan(0.78615) = 51.83 deg (Ogata, Modern Control Engineering, 5th edition, section 7-7; closed form).
    [Fact]
    public void Margin_of_an_integrator_with_a_pole()
    {
        var w0 = 2 * Math.PI * 100;
        var (level, phase) = Response(s => -(-w0 / s / (1 + s / w0)));
        Assert.Equal(78.615, Of("crossing-frequency", level, ("level", 0)), 0.05);

        // Sent in and come back differ by the half turn of negative feedback: the response observed is minus the loop gain.
        var (_, back) = Response(s => -(w0 / s / (1 + s / w0)));
        Assert.Equal(51.83, Metrics.Get("phase-margin").Evaluate(level, back).Value, 0.05);
        Assert.Equal(-128.17, Metrics.Get("phase-margin").Evaluate(level, phase).Value, 0.05);
    }

    // 10 / (s (s + 1) (s + 5)), a textbook's loop (Ogata, Modern Control Engineering, 5th edition, section 7-7, from memory: 8 dB and 21 deg, read off asymptotes).
    // Exactly: by Routh's criterion s^3 + 6 s^2 + 5 s + K is stable up to K = 30, a gain margin of 20 lg 3; the margin of phase follows from |G| = 1 at w = 1.2271.
    [Fact]
    public void Margins_of_a_textbook_loop()
    {
        var (level, _) = Response(s => 10 / (s * (s + 1) * (s + 5)), 1e-3, 10);
        var (_, back) = Response(s => -(10 / (s * (s + 1) * (s + 5))), 1e-3, 10);
        Assert.Equal(20 * Math.Log10(3), Metrics.Get("gain-margin").Evaluate(level, back).Value, 0.02);
        Assert.Equal(25.39, Metrics.Get("phase-margin").Evaluate(level, back).Value, 0.05);
    }

    [Fact]
    public void Corner_of_a_low_pass_and_hump_of_a_resonance()
    {
        var (level, _) = Response(s => 1 / (1 + s / (2 * Math.PI * 1e3)));
        Assert.Equal(1e3, Of("corner-frequency", level), 2);
        Assert.Equal(-20, Of("response-at", level, ("frequency", 1e4)), 0.1);

        // Q = 10: 20 dB at resonance, the highest at f0 sqrt(1 - 1 / 2 Q^2) with Q / sqrt(1 - 1 / 4 Q^2) (Desoer and Kuh, Basic Circuit Theory, 1969, chapter 7; closed form).
        var w0 = 2 * Math.PI * 1e3;
        var (hump, _) = Response(s => 1 / (1 + s / (10 * w0) + s * s / (w0 * w0)));
        Assert.Equal(20.01, Of("response-highest", hump), 0.05);
        Assert.Equal(1, Of("frequency-of-highest", hump) / 997.5, 0.025);
    }

    [Fact]
    public void Without_a_crossing_there_is_no_value_but_a_reason()
    {
        var (level, _) = Response(s => 2, 1, 1e3);
        var none = Metrics.Get("crossing-frequency").Evaluate(level, ("level", 0));
        Assert.False(none.HasValue);
        Assert.Contains("does not fall through", none.Reason, StringComparison.Ordinal);
        Assert.Contains("outside the computed frequencies", Metrics.Get("response-at").Evaluate(level, ("frequency", 1e6)).Reason, StringComparison.Ordinal);
        Assert.Contains("has to be the phase", Metrics.Get("phase-margin").Evaluate(level, level).Reason, StringComparison.Ordinal);
    }
}
