using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Measurement;

public class WaveformTests
{
    private static readonly Waveform Step = Sampled.Points((0, 1), (1, 1), (1, 3), (2, 5));

    // Geometry of straight lines; no source needed beyond it.
    [Fact]
    public void A_jump_has_a_left_and_a_right_value()
    {
        Assert.Equal(3, Step.At(1));
        Assert.Equal(1, Step.AtLeft(1));
        Assert.Equal(4, Step.At(1.5));
        Assert.Equal(1, Step.At(0.25));
        Assert.Equal(5, Step.At(2));
        Assert.Throws<ArgumentOutOfRangeException>(() => Step.At(2.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Step.AtLeft(-0.1));
    }

    [Fact]
    public void A_slice_leaves_jumps_on_its_borders_out()
    {
        var before = Step.Slice(0.5, 1);
        Assert.Equal([0.5, 1], before.Times.ToArray());
        Assert.Equal([1, 1], before.Values.ToArray());
        var after = Step.Slice(1, 1.5);
        Assert.Equal([1, 1.5], after.Times.ToArray());
        Assert.Equal([3, 4], after.Values.ToArray());
        var across = Step.Slice(0.5, 1.5);
        Assert.Equal([0.5, 1, 1, 1.5], across.Times.ToArray());
        Assert.Equal([1, 1, 3, 4], across.Values.ToArray());
        Assert.Equal(1, Step.Slice(0.5, 0.5).Count);
        Assert.Throws<ArgumentOutOfRangeException>(() => Step.Slice(1.5, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Step.Slice(-1, 1));
    }

    [Fact]
    public void Unordered_unequal_or_non_finite_samples_are_refused_by_number()
    {
        Assert.Contains("sample 1", Assert.Throws<ArgumentException>(() => Sampled.Points((1, 0), (0, 0))).Message, StringComparison.Ordinal);
        Assert.Contains("sample 0", Assert.Throws<ArgumentException>(() => Sampled.Points((0, double.NaN))).Message, StringComparison.Ordinal);
        Assert.Contains("2 instants and 1 values", Assert.Throws<ArgumentException>(() => new Waveform("w", Unit.Volt, [0, 1], [0])).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => Sampled.Points());
    }

    // Integrals of polynomials: of 1 over [0, 1] and 3 + 2 s over s in [0, 1]: 1 + 4 = 5; squares 1 + (9 + 6 + 4/3) = 17 1/3.
    [Fact]
    public void Integrals_are_those_of_the_lines()
    {
        Assert.Equal(5, Step.Integral(), 1e-14);
        Assert.Equal(2.5, Step.Mean(), 1e-14);
        Assert.Equal(1 + 9 + 6 + 4.0 / 3, Step.IntegralOfSquare(), 1e-13);
        // |v - 4|: 3 over one second, then 1 - 2 s folded at s = 0.5: mean (3 + 0.5)/2.
        Assert.Equal(1.75, Step.MeanAbsolute(4), 1e-14);
    }

    // A triangle of peak 1 has rms 1/sqrt(3) and mean of |v| 1/2 (integral of a ramp's square, any calculus text).
    [Fact]
    public void Triangle_is_exact_from_its_corners_alone()
    {
        var wave = Sampled.Points((0, 0), (0.25, 1), (0.75, -1), (1, 0));
        Assert.Equal(1 / Math.Sqrt(3), wave.Rms(), 1e-14);
        Assert.Equal(0.5, wave.MeanAbsolute(), 1e-14);
        Assert.Equal(0, wave.Mean(), 1e-14);
        Assert.Equal(1 / Math.Sqrt(3), wave.Scaled(1, 300).AcRms(), 1e-12);
    }

    // Integral of s(1 - s) over [0, 1] is 1/6: a product of two ramps is a parabola and must be integrated as one.
    [Fact]
    public void Mean_of_product_is_that_of_the_parabola()
    {
        var up = Sampled.Points((0, 0), (1, 1));
        var down = Sampled.Points((0, 1), (0.3, 0.7), (1, 0));
        Assert.Equal(1.0 / 6, WaveformIntegrals.MeanOfProduct(up, down), 1e-14);
    }

    [Fact]
    public void Arithmetic_joins_different_instants_and_keeps_jumps()
    {
        var ramp = Sampled.Points((0.5, 0), (2.5, 2));
        var difference = Step.Minus(ramp);
        Assert.Equal([0.5, 1, 1, 2], difference.Times.ToArray());
        Assert.Equal([1, 0.5, 2.5, 3.5], difference.Values.ToArray());
        Assert.Equal([1, 1.5, 3.5, 6.5], Step.Plus(ramp).Values.ToArray());
        Assert.Equal([0, 0.5, 1.5, 7.5], Step.Product(ramp, Unit.Watt).Values.ToArray());
        Assert.Throws<ArgumentException>(() => Step.Minus(ramp.Shifted(10)));
        Assert.Throws<ArgumentException>(() => Step.Minus(Sampled.Curve(t => t, 0, 1, 1, Unit.Ampere)));
    }

    [Fact]
    public void Extremes_come_with_their_first_instant()
    {
        var wave = Sampled.Points((0, 0), (1, 2), (2, -3), (3, 2));
        Assert.Equal(new Extreme(1, 2), wave.Maximum());
        Assert.Equal(new Extreme(2, -3), wave.Minimum());
        Assert.Equal(new Extreme(2, -3), wave.Peak());
        Assert.Equal(5, wave.PeakToPeak());
    }

    // A sine crosses zero at every half period and half its peak at 30 deg and 150 deg (tables of the sine).
    [Fact]
    public void Crossings_of_a_sine()
    {
        var wave = Sampled.Curve(t => Math.Sin(2 * Math.PI * t), -0.1, 2.1, 2200);
        Assert.Equal([0, 1, 2], wave.Crossings(0, Edge.Rising).Select(c => Math.Round(c.Time, 6)));
        Assert.Equal([0.5, 1.5], wave.Crossings(0, Edge.Falling).Select(c => Math.Round(c.Time, 6)));
        Assert.Equal(30.0 / 360, wave.FirstCrossing(0.5, Edge.Rising)!.Value, 1e-5);
        Assert.Equal(150.0 / 360, wave.FirstCrossing(0.5, Edge.Falling)!.Value, 1e-5);
        Assert.Equal(1 + 30.0 / 360, wave.FirstCrossing(0.5, Edge.Rising, from: 0.6)!.Value, 1e-5);
        Assert.Null(wave.FirstCrossing(1.5));
    }

    [Fact]
    public void Touching_is_no_crossing_and_hysteresis_ignores_ripple()
    {
        Assert.Empty(Sampled.Points((0, -1), (1, 0), (2, -1)).Crossings(0));
        Assert.Equal([new Crossing(1, Edge.Rising)], Sampled.Points((0, -1), (1, 0), (2, 0), (3, 1)).Crossings(0));
        Assert.Equal([new Crossing(1, Edge.Rising)], Sampled.Points((0, -1), (1, -1), (1, 1), (2, 1)).Crossings(0));
        var noisy = Sampled.Points((0, -1), (1, 0.1), (2, -0.1), (3, 1), (4, -1));
        Assert.Equal(4, noisy.Crossings(0).Count);
        Assert.Equal([Edge.Rising, Edge.Falling], noisy.Crossings(0, hysteresis: 0.5).Select(c => c.Edge));
    }

    [Fact]
    public void Resampling_reads_the_lines_at_even_instants()
    {
        var wave = Step.Resampled(5);
        Assert.Equal([0, 0.5, 1, 1.5, 2], wave.Times.ToArray());
        Assert.Equal([1, 1, 3, 4, 5], wave.Values.ToArray());
    }
}
