using BoardSim.Measurement;

namespace BoardSim.Tests.Measurement;

public class SinglePoleTests
{
    private static readonly double Corner = 1 / (2 * Math.PI);

    // First-order answers with T = 1 s (any text on network analysis): step 1 - exp(-t), ramp t - 1 + exp(-t). The filter puts
    // samples in until straight lines miss the curve by no more than 1e-5 of the range.
    [Fact]
    public void Step_and_ramp_answers_from_two_samples()
    {
        var step = SinglePole.LowPass(Sampled.Points((-1, 0), (0, 0), (0, 1), (10, 1)), Corner);
        var ramp = SinglePole.LowPass(Sampled.Points((-1, 0), (0, 0), (10, 10)), Corner);
        for (var t = 0.05; t < 10; t += 0.05)
        {
            Assert.Equal(1 - Math.Exp(-t), step.At(t), 1.1e-5);
            Assert.Equal(t - 1 + Math.Exp(-t), ramp.At(t), 1.1e-4);
        }

        Assert.Equal(1 - Math.Exp(-10), step.Values[^1], 1e-14);
        Assert.Equal(9 + Math.Exp(-10), ramp.Values[^1], 1e-13);
        Assert.InRange(step.Count, 50, 500);
    }

    [Fact]
    public void High_pass_keeps_jumps_and_forgets_levels()
    {
        var step = SinglePole.HighPass(Sampled.Points((-1, 300), (0, 300), (0, 301), (10, 301)), Corner);
        Assert.Equal(0, step.At(-0.5), 1e-9);
        Assert.Equal(0, step.AtLeft(0), 1e-9);
        Assert.Equal(1, step.At(0), 1e-9);
        Assert.Equal(Math.Exp(-2), step.At(2), 1.1e-5);
    }

    // A sine at the corner frequency comes out at 1/sqrt 2, late by 45 deg, through either filter; at ten times the corner a
    // low-pass leaves 1/sqrt 101 (definition of the first-order filter).
    [Theory]
    [InlineData(1, 0.70711)]
    [InlineData(10, 0.099504)]
    public void Sine_through_the_low_pass_in_its_steady_state(double ratio, double gain)
    {
        var wave = Sampled.Cycles(x => Math.Sin(2 * Math.PI * x), ratio * 1e3, 1);
        var passed = SinglePole.LowPass(wave, 1e3, FilterStart.Periodic);
        Take.Near(gain / Math.Sqrt(2), passed.Rms(), 1e-5);
        Assert.Equal(passed.Values[0], passed.Values[^1], 1e-9);
        Take.Near(Math.Sqrt(1 - gain * gain) / Math.Sqrt(2), SinglePole.HighPass(wave, 1e3, FilterStart.Periodic).Rms(), 1e-5);
    }

    // Square wave of plus and minus one through a low-pass in the steady state swings to tanh(P/(4T)) (exponentials that join).
    [Fact]
    public void Square_wave_settles_on_its_periodic_state()
    {
        var passed = SinglePole.LowPass(Sampled.Pulses(-1, 1, 0.5, 2, 1), Corner, FilterStart.Periodic);
        Take.Near(Math.Tanh(0.5), passed.Maximum().Value, 1e-12);
        Take.Near(-Math.Tanh(0.5), passed.Minimum().Value, 1e-12);
    }

    // A coupling capacitor whose corner lies far below the wave keeps the mean away and nothing else.
    [Fact]
    public void Slow_coupling_takes_the_mean_off_a_ripple()
    {
        var wave = Sampled.Cycles(x => 320 + 0.01 * Sampled.Triangle(x), 65e3, 10, 100);
        var coupled = SinglePole.HighPass(wave, 1, FilterStart.Periodic);
        Assert.Equal(0, coupled.Mean(), 1e-9);
        Take.Near(0.01 / Math.Sqrt(3), coupled.Rms(), 1e-4);
        Assert.Equal(wave.Count, coupled.Count);
    }

    [Fact]
    public void Constant_waves_pass_unchanged_and_odd_corners_are_refused()
    {
        var flat = Sampled.Points((0, 1.0 / 3), (1, 1.0 / 3), (2, 1.0 / 3));
        Assert.Equal(flat.Values.ToArray(), SinglePole.LowPass(flat, 1e6).Values.ToArray());
        Assert.All(SinglePole.HighPass(flat, 1e6, FilterStart.Periodic).Values.ToArray(), v => Assert.Equal(0, v, 1e-15));
        Assert.Throws<ArgumentOutOfRangeException>(() => SinglePole.LowPass(flat, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => SinglePole.LowPass(flat, double.NaN));
    }
}
