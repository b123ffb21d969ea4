using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Measurement;

public class TimingMetricTests
{
    // Relay coil of 275 ohm and 2.29 H at 12 V (numbers of an Omron G2R, tau 8.327 ms), current after switching off into a
    // diode of 0.7 V, a diode with 24 V zener, or an ideal diode: i = (I0 + Vd/R) exp(-t/tau) - Vd/R. The times to a share
    // of I0 were computed apart from this code.
    [Theory]
    [InlineData(0.7, 0.1, 15.82e-3)]
    [InlineData(0.7, 0.2, 11.74e-3)]
    [InlineData(0.7, 0.4, 6.97e-3)]
    [InlineData(24.7, 0.1, 2.90e-3)]
    [InlineData(24.7, 0.4, 1.82e-3)]
    [InlineData(0, 0.1, 19.17e-3)]
    public void Coil_current_falls_to_a_share(double clamp, double share, double time)
    {
        const double Steady = 12.0 / 275;
        var drop = clamp / 275;
        var wave = Sampled.Curve(t => t < 0 ? Steady : Math.Max(0, (Steady + drop) * Math.Exp(-t * 275 / 2.29) - drop), -5e-3, 30e-3, 35000, Unit.Ampere);
        Take.Near(time, Take.Value("time-to-fall", wave, ("level", share * Steady), ("from", 0)), 3e-3);
    }

    // Energy balance of a capacitor under constant power: C (V1^2 - V2^2)/(2P): 100 uF from 320 V to 200 V at 15 W lasts 208 ms.
    [Fact]
    public void Hold_up_of_a_bulk_capacitor_under_constant_power()
    {
        var wave = Sampled.Curve(t => t < 0.1 ? 320 : Math.Sqrt(320 * 320 - 2 * 15 * (t - 0.1) / 100e-6), 0, 0.4, 40000);
        Assert.Equal(0.208, Take.Value("hold-up-time", wave, ("level", 200), ("from", 0.1)), 1e-6);
        Assert.Contains("longer than 300 ms", Take.Reason("hold-up-time", wave, ("level", 10), ("from", 0.1)), StringComparison.Ordinal);
        Assert.Contains("below 330 V already", Take.Reason("hold-up-time", wave, ("level", 330), ("from", 0.1)), StringComparison.Ordinal);
        Assert.Contains("outside the window", Take.Reason("hold-up-time", wave, ("level", 330), ("from", 1)), StringComparison.Ordinal);
        Assert.Contains("needs the parameter from", Take.Reason("hold-up-time", wave, ("level", 330)), StringComparison.Ordinal);
    }

    // IEC 61810-1, terms: operate and release time end with the first change of the contact, bounce time lies between the first and the last.
    [Fact]
    public void Operate_release_and_bounce_of_a_contact()
    {
        var drive = Sampled.Points((0, 0), (10e-3, 0), (10e-3, 5), (50e-3, 5), (50e-3, 0), (90e-3, 0));
        var contact = Sampled.Points(
            (0, 0), (17e-3, 0), (17e-3, 1), (17.5e-3, 1), (17.5e-3, 0), (18e-3, 0), (18e-3, 1), (54e-3, 1), (54e-3, 0), (90e-3, 0));
        Assert.Equal(7e-3, Take.Value("operate-time", contact, drive, ("level", 0.5)), 1e-9);
        Assert.Equal(4e-3, Take.Value("release-time", contact, drive, ("level", 0.5)), 1e-9);
        Assert.Equal(4e-3, Take.Value("release-time", contact, ("level", 0.5), ("from", 50e-3)), 1e-9);
        Assert.Equal(1e-3, Take.Value("bounce-time", contact.Slice(0, 30e-3), ("level", 0.5)), 1e-9);
    }

    [Fact]
    public void A_relay_that_never_moves_says_so()
    {
        var drive = Sampled.Points((0, 0), (0.5, 0), (0.5, 5), (1, 5));
        var stuck = Sampled.Points((0, 0), (1, 0)).Named("contact");
        Assert.Contains("contact does not pass 500 mV between 500 ms and 1 s", Metrics.Get("operate-time").Evaluate(stuck, drive, ("level", 0.5)).Reason, StringComparison.Ordinal);
        Assert.Contains("has no falling edge", Metrics.Get("release-time").Evaluate(stuck, drive, ("level", 0.5)).Reason, StringComparison.Ordinal);
        Assert.Contains("second waveform", Take.Reason("operate-time", stuck, ("level", 0.5)), StringComparison.Ordinal);
        Assert.Contains("does not rise through", Take.Reason("time-to-rise", stuck, ("level", 0.5)), StringComparison.Ordinal);
    }
}
