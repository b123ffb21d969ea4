using BoardSim.Measurement;

namespace BoardSim.Tests.Measurement;

/// <summary>Frequency and duty functions of the multimeter.</summary>
public class CounterTests
{
    private static readonly Multimeter Frequency = new() { Function = MultimeterFunction.Frequency };
    private static readonly Multimeter Duty = new() { Function = MultimeterFunction.DutyCycle };

    // By definition: cycles per second, whatever the shape, and the share of the period that is high; a bandwidth that leaves the edges alone.
    [Theory]
    [InlineData(25.3e3, 0.779, "25.30 kHz", "77.9 %")]
    [InlineData(60, 0.5, "60.00 Hz", "50.0 %")]
    [InlineData(1e3, 0.1, "1.000 kHz", "10.0 %")]
    public void Pulses_are_counted_and_their_share_told(double hertz, double duty, string shows, string share)
    {
        var wave = Sampled.Pulses(0, 5, duty, 1 / hertz, 20);
        Assert.Equal(shows, (Frequency with { CounterBandwidth = 1e9 }).Read(wave).Display);
        Assert.Equal(share, (Duty with { CounterBandwidth = 1e9 }).Read(wave).Display);
    }

    // The window need not hold whole cycles: only those between the first and the last passage count.
    [Fact]
    public void A_window_of_broken_cycles_does_no_harm()
    {
        var wave = Sampled.Cycles(x => Math.Sin(2 * Math.PI * x), 50, 5).Slice(0.0031, 0.0977);
        Assert.Equal(50, Frequency.Read(wave).Value!.Value, 0.02);
        Assert.Equal(0.5, Duty.Read(wave).Value!.Value, 1e-3);
    }

    // A rectified sine has twice the line's frequency (any textbook); AC coupling counts it on its high mean.
    [Fact]
    public void Ripple_on_a_rail_is_counted_by_its_own_frequency()
    {
        var wave = Sampled.Cycles(x => 160 + Math.Abs(Math.Sin(2 * Math.PI * x)), 60, 6);
        Assert.Equal("120.0 Hz", Frequency.Read(wave).Display);
    }

    [Fact]
    public void A_threshold_that_is_not_reached_counts_nothing()
    {
        var wave = Sampled.Pulses(0, 1.6, 0.25, 1e-3, 20);
        var reading = (Frequency with { CounterThreshold = 3.5 }).Read(wave);
        Assert.Equal(0, reading.Value);
        Assert.Contains("3.5 V", reading.Note, StringComparison.Ordinal);
        Assert.Null((Duty with { CounterThreshold = 3.5 }).Read(wave).Value);
        Assert.Equal("1.000 kHz", (Frequency with { CounterThreshold = 1 }).Read(wave).Display);
    }

    // A comparator with hysteresis sees nothing that stays within it: 30 mV about the mean are less than 50 mV.
    [Fact]
    public void What_stays_within_the_hysteresis_is_not_seen()
    {
        var wave = Sampled.Cycles(x => 0.03 * Math.Sin(2 * Math.PI * x), 1e3, 10);
        Assert.Equal(0, Frequency.Read(wave).Value);
        Assert.Equal(1e3, (Frequency with { CounterHysteresis = 0.01 }).Read(wave).Value!.Value, 1);
    }

    // Duty by a threshold on a sawtooth from 0 to 1: above 0.25 for three quarters of the period, by similar triangles.
    [Fact]
    public void The_threshold_decides_what_is_high()
    {
        var wave = Sampled.Curve(t => t * 1e3 - Math.Floor(t * 1e3 + 1e-12), 0, 0.01, 20_000);
        Assert.Equal(0.75, (Duty with { CounterThreshold = 0.25 }).Read(wave).Value!.Value, 2e-3);
        Assert.Equal(0.5, (Duty with { CounterThreshold = 0.5 }).Read(wave).Value!.Value, 2e-3);
    }
}
