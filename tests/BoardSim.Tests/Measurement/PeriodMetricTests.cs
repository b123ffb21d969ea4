using BoardSim.Measurement;

namespace BoardSim.Tests.Measurement;

public class PeriodMetricTests
{
    // Intel, 4-Wire PWM fan specification, example trace: 25.3 kHz, 77.9 % duty, 5 V pull-up; mean of the pin 3.9 V.
    [Fact]
    public void Pwm_of_a_fan_connector()
    {
        var wave = Sampled.Pulses(0, 5, 0.779, 1 / 25.3e3, 8);
        Take.Near(25.3e3, Take.Value("frequency", wave), 1e-9);
        Take.Near(1 / 25.3e3, Take.Value("period", wave), 1e-9);
        Take.Near(0.779, Take.Value("duty", wave), 1e-9);
        Assert.Equal(3.9, Take.Value("mean", wave), 0.01);
    }

    // A sine spends half of its time above its mean, a third above half its peak (30 to 150 deg).
    [Fact]
    public void Duty_of_a_sine_depends_on_the_level()
    {
        var wave = Sampled.Cycles(x => Math.Sin(2 * Math.PI * x), 60, 4);
        Take.Near(60, Take.Value("frequency", wave), 1e-6);
        Take.Near(0.5, Take.Value("duty", wave), 1e-4);
        Take.Near(1.0 / 3, Take.Value("duty", wave, ("level", 0.5)), 1e-4);
    }

    [Fact]
    public void Ripple_about_the_level_is_not_counted()
    {
        var wave = Sampled.Cycles(x => Math.Sin(2 * Math.PI * x) + 0.05 * Math.Sin(2 * Math.PI * 101 * x), 50, 4, 20000);
        Take.Near(50, Take.Value("frequency", wave), 1e-3);
    }

    [Fact]
    public void What_cannot_be_computed_says_why()
    {
        Assert.Contains("only once", Take.Reason("period", Sampled.Points((0, 0), (1, 1), (2, 0))), StringComparison.Ordinal);
        Assert.Contains("not at all", Take.Reason("period", Sampled.Points((0, 1), (1, 0))), StringComparison.Ordinal);
        Assert.Contains("does not change", Take.Reason("duty", Sampled.Points((0, 1), (1, 1))), StringComparison.Ordinal);
    }
}
