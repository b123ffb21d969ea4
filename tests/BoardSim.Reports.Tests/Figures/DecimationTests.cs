using BoardSim.Reports.Figures;

namespace BoardSim.Reports.Tests.Figures;

public class DecimationTests
{
    [Fact]
    public void A_single_spike_in_a_hundred_thousand_points_is_kept()
    {
        var x = Sample.Times(100_001, 1);
        var y = new double[x.Length];
        y[54_321] = 7;
        y[77_777] = -3;
        var (_, thin) = Decimation.Thin(x, y, 0, 1, 500);
        Assert.InRange(thin.Length, 500, 2002);
        Assert.Contains(7.0, thin);
        Assert.Contains(-3.0, thin);
    }

    [Fact]
    public void Every_column_keeps_its_extremes_and_the_order_of_points()
    {
        var noise = new Random(11);
        var x = Sample.Times(50_000, 1);
        double[] y = [.. x.Select(_ => noise.NextDouble())];
        var (thinX, thinY) = Decimation.Thin(x, y, 0, 1, 100);
        Assert.Equal(thinX.Order(), thinX);
        for (var column = 0; column < 100; column++)
        {
            var (low, high) = (column / 100.0, (column + 1) / 100.0);
            var all = y.Where((_, k) => x[k] >= low && x[k] < high).ToList();
            var kept = thinY.Where((_, k) => thinX[k] >= low && thinX[k] < high).ToList();
            Assert.Equal(all.Min(), kept.Min());
            Assert.Equal(all.Max(), kept.Max());
        }
    }

    [Fact]
    public void Few_points_are_left_alone()
    {
        var (x, y) = Decimation.Thin([0, 1, 1, 2], [0, 5, 7, 1], 0, 2, 100);
        Assert.Equal([0.0, 1, 1, 2], x);
        Assert.Equal([0.0, 5, 7, 1], y);
    }

    [Fact]
    public void Outside_the_window_one_neighbour_on_each_side_is_kept()
    {
        var (x, _) = Decimation.Thin([0, 1, 2, 3, 4, 5], [0, 0, 0, 0, 0, 0], 1.5, 3.5, 100);
        Assert.Equal([1.0, 2, 3, 4], x);
    }

    [Fact]
    public void A_gap_stays_a_gap()
    {
        var x = Sample.Times(10_000, 1);
        double[] y = [.. x.Select((_, k) => k == 5000 ? double.NaN : 1.0)];
        Assert.Contains(double.NaN, Decimation.Thin(x, y, 0, 1, 100).Y);
    }

    [Fact]
    public void The_band_of_a_fast_trace_spans_it()
    {
        var x = Sample.Times(200_001, 1);
        double[] y = [.. x.Select(t => Math.Sin(2 * Math.PI * 2000 * t) * t)];
        Assert.True(Envelope.Suits(x, y, 0, 1, 2));
        var band = Envelope.Of(x, y, 0, 1, 100);
        Assert.True(band.IsCalm(2));
        Assert.Equal(100, band.X.Length);
        // The amplitude grows as t: at the end of each column the sine reaches it to within a part in a thousand of a turn.
        for (var k = 10; k < 100; k++)
        {
            Assert.Equal((k + 1) / 100.0, band.High[k], 2);
            Assert.Equal(-(k + 1) / 100.0, band.Low[k], 2);
        }
    }

    [Fact]
    public void A_band_whose_edges_swing_is_none()
    {
        // Bursts of ringing, thirty of them: the ringing is fast, but its outline is itself a picture of cycles.
        var x = Sample.Times(200_001, 1);
        double[] y = [.. x.Select(t => Math.Sin(2 * Math.PI * 3000 * t) * Math.Exp(-(t * 30 % 1) * 6))];
        Assert.False(Envelope.Of(x, y, 0, 1, 350).IsCalm(2));
    }

    [Fact]
    public void A_few_cycles_are_drawn_as_a_line()
    {
        var x = Sample.Times(20_001, 1);
        Assert.False(Envelope.Suits(x, [.. x.Select(t => Math.Sin(2 * Math.PI * 20 * t))], 0, 1, 2));
    }
}
