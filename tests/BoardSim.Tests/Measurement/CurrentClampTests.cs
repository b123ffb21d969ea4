using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Measurement;

public class CurrentClampTests
{
    private static readonly CurrentClamp Transformer = new();
    private static readonly CurrentClamp Hall = new() { Kind = ClampKind.Hall, Function = ClampFunction.DcAmperes };

    // A half-wave rectified sine of 10 A peak: mean Ip/pi = 3.183 A, RMS Ip/2 = 5 A, without the mean sqrt(25 - 3.183^2) = 3.856 A (any textbook on rectifiers).
    [Fact]
    public void A_transformer_shows_what_a_half_wave_has_beside_its_mean()
    {
        var wave = Sampled.Cycles(x => Math.Max(0, 10 * Math.Sin(2 * Math.PI * x)), 60, 1, 4000, Unit.Ampere);

        // Its lower corner of 2 Hz takes half a thousandth off the fundamental of 60 Hz, its 10 kHz next to nothing.
        Assert.Equal(3.856, Transformer.Read(wave).Value!.Value, 0.01);
        Assert.Equal(3.18, Hall.Read(wave).Value!.Value, 0.006);
        Assert.Equal(5.0, (Hall with { Function = ClampFunction.AcDcAmperesTrueRms }).Read(wave).Value!.Value, 0.006);
    }

    // One pole: at its bandwidth a clamp shows 1/sqrt 2 of a sine, at its lower corner likewise (definition of the 3 dB frequency).
    [Theory]
    [InlineData(10e3)]
    [InlineData(2)]
    public void The_band_ends_where_three_decibels_are_lost(double hertz)
    {
        var wave = Sampled.Cycles(x => 10 * Math.Sqrt(2) * Math.Sin(2 * Math.PI * x), hertz, 1, 2000, Unit.Ampere);
        Assert.Equal(10 / Math.Sqrt(2), Transformer.Read(wave).Value!.Value, 0.011);
    }

    [Fact]
    public void An_offset_is_read_as_a_current_and_told_as_an_uncertainty()
    {
        var nothing = Sampled.Curve(_ => 0, 0, 1, 1, Unit.Ampere);
        var reading = (Hall with { Offset = 0.3 }).Read(nothing);
        Assert.Equal("0.30 A", reading.Display);

        // 2 % of 0.3 A, 5 counts of 10 mA, and the drift of 50 mA.
        Assert.Equal(0.006 + 0.05 + 0.05, reading.Uncertainty, 1e-9);
        Assert.Equal(0.3, (Hall with { Offset = 0.3 }).Pass(nothing).Mean(), 1e-12);
    }

    // A step of direct current decays in a transformer with T = 1/(2 pi f): 1/e is left after 79.6 ms of a corner of 2 Hz.
    [Fact]
    public void A_transformer_forgets_direct_current()
    {
        var step = new Waveform("step", Unit.Ampere, [0, 0.1, 0.1, 0.5], [0, 0, 5, 5]);
        Take.Near(5 / Math.E, Transformer.Pass(step).At(0.1 + 1 / (2 * Math.PI * 2)), 2e-3);
        Take.Near(5, Hall.Pass(step).At(0.4), 2e-5);
    }

    [Fact]
    public void Beyond_the_range_the_trace_is_cut_off_and_the_display_shows_no_number()
    {
        var wave = Sampled.Cycles(x => 60 * Math.Sin(2 * Math.PI * x), 60, 1, 2000, Unit.Ampere);
        Assert.Equal(40, Hall.Pass(wave).Maximum().Value, 1e-9);
        Assert.True(Transformer.Read(wave).IsOverload);
        Assert.Equal("OL", Transformer.Read(wave).Display);
    }

    [Fact]
    public void Wrong_uses_are_refused()
    {
        Assert.Throws<ArgumentException>(() => Transformer.Read(Sampled.Points((0, 1), (1, 1))));
        Assert.Throws<InvalidOperationException>(() => (Transformer with { Function = ClampFunction.DcAmperes }).Read(Sampled.Curve(_ => 1, 0, 1, 1, Unit.Ampere)));
    }
}
