using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Measurement;

public class TransitionMetricTests
{
    private const double Tau = 1e-3;

    /// <summary>Step at 5 ms with a first-order answer, 5 V to 12 V; dense enough that a line misses the arc by (0.01)^2/8 = 1.3e-5.</summary>
    private static readonly Waveform FirstOrder = Sampled.Curve(t => t < 5e-3 ? 5 : 12 - 7 * Math.Exp(-(t - 5e-3) / Tau), 0, 25e-3, 2500);

    // First-order step answer: 10-90 % takes tau ln 9 = 2.197 tau, 20-80 % tau ln 4 (any text on network analysis; 2.2 tau in
    // the oscilloscope makers' primers); to 2 % of the end tau ln 50 after the step, the middle at tau ln 2.
    [Fact]
    public void Rise_and_settling_of_a_first_order_step()
    {
        Take.Near(2.197 * Tau, Take.Value("rise-time", FirstOrder), 2e-3);
        Take.Near(1.386 * Tau, Take.Value("rise-time", FirstOrder, ("lower-reference", 0.2), ("upper-reference", 0.8)), 2e-3);
        Take.Near((3.912 - 0.693) * Tau, Take.Value("settling-time", FirstOrder), 2e-3);
        Assert.Equal(0, Take.Value("overshoot", FirstOrder), 1e-4);
        // A level is the mean within a bin of a thousandth of the range, which the foot of the edge shares.
        Assert.Equal(5, Take.Value("low-state", FirstOrder), 1e-5);
        Assert.Equal(12, Take.Value("high-state", FirstOrder), 0.001 * 7);
    }

    [Fact]
    public void Falling_steps_mirror_rising_ones()
    {
        var fall = FirstOrder.Scaled(-1);
        Take.Near(2.197 * Tau, Take.Value("fall-time", fall), 2e-3);
        Take.Near((3.912 - 0.693) * Tau, Take.Value("settling-time", fall), 2e-3);
    }

    // Second-order step answer, damping 0.5: overshoot exp(-pi z/sqrt(1 - z^2)) = 16.3 % (Dorf and Bishop, Modern Control
    // Systems, chapter 5; from memory); damping 0.2: 52.7 %.
    [Theory]
    [InlineData(0.5, 0.163)]
    [InlineData(0.2, 0.527)]
    public void Overshoot_of_a_second_order_step(double damping, double overshoot)
    {
        var wave = SecondOrder(damping);
        Assert.Equal(overshoot, Take.Value("overshoot", wave), 0.002);
        Assert.Equal(overshoot, Take.Value("overshoot", wave.Scaled(-3, 2)), 0.002);
    }

    // Dorf and Bishop: the 2 % settling time is about 4/(z wn); the envelope exp(-z wn t)/sqrt(1 - z^2) bounds it from above, and
    // one half swing, pi/wd, earlier the answer must have been outside.
    [Fact]
    public void Settling_of_a_second_order_step()
    {
        const double Damping = 0.2;
        var middle = SecondOrder(Damping).FirstCrossing(0.5, Edge.Rising)!.Value;
        var settled = Take.Value("settling-time", SecondOrder(Damping)) + middle;
        var envelope = Math.Log(1 / (0.02 * Math.Sqrt(1 - Damping * Damping))) / Damping;
        Assert.InRange(settled, envelope - Math.PI / Math.Sqrt(1 - Damping * Damping), envelope * 1.001);
    }

    // A trapezoid with straight edges: 10-90 % is 0.8 of the edge, whatever lies before and after; the foot of each edge moves
    // the state levels by parts in a million.
    [Fact]
    public void Edges_of_a_trapezoid_and_the_choice_of_the_transition()
    {
        var wave = Sampled.Points((0, 0), (10, 0), (11, 5), (20, 5), (22, 0), (30, 0), (34, 5), (40, 5));
        Assert.Equal(0.8, Take.Value("rise-time", wave), 1e-5);
        Assert.Equal(1.6, Take.Value("fall-time", wave), 1e-5);
        Assert.Equal(3.2, Take.Value("rise-time", wave, ("from", 15)), 1e-5);
        Assert.Equal(0.48, Take.Value("settling-time", wave), 1e-5);
    }

    [Fact]
    public void States_can_be_given_where_the_window_holds_no_flat_part()
    {
        var wave = Sampled.Curve(t => 1 - Math.Exp(-t / Tau), 0, 3 * Tau, 3000);
        Take.Near(2.197 * Tau, Take.Value("rise-time", wave, ("state-low", 0), ("state-high", 1)), 1e-3);
        Assert.Contains("does not lie above", Take.Reason("rise-time", wave, ("state-low", 1), ("state-high", 0)), StringComparison.Ordinal);
        Assert.Contains("not within 2 %", Take.Reason("settling-time", wave, ("state-low", 0), ("state-high", 1)), StringComparison.Ordinal);
    }

    [Fact]
    public void States_count_time_and_not_samples()
    {
        // One long flat piece of two samples against a swarm of samples in a short ringing.
        var ringing = Enumerable.Range(0, 1000).Select(k => (1 + k * 1e-6, 4 + 0.5 * Math.Sin(k)));
        var wave = Sampled.Points([(0, 0), (1, 0), .. ringing, (1.01, 4), (2, 4)]);
        var states = StateLevels.Of(wave)!.Value;
        Assert.Equal(0, states.Low, 1e-4);
        Assert.Equal(4, states.High, 1e-4);
        Assert.Null(StateLevels.Of(Sampled.Points((0, 4), (1, 4))));
    }

    [Fact]
    public void What_cannot_be_computed_says_why()
    {
        Assert.Contains("does not change", Take.Reason("rise-time", Sampled.Points((0, 4), (1, 4))), StringComparison.Ordinal);
        Assert.Contains("no falling transition", Take.Reason("fall-time", FirstOrder), StringComparison.Ordinal);
        Assert.Contains("no transition", Take.Reason("overshoot", FirstOrder, ("from", 0.02)), StringComparison.Ordinal);
        Assert.Contains("does not start beyond 10 %", Take.Reason("rise-time", FirstOrder.Slice(5.3e-3, 25e-3), ("state-low", 5)), StringComparison.Ordinal);
        Assert.Contains("does not reach 90 %", Take.Reason("rise-time", FirstOrder.Slice(0, 6e-3), ("state-low", 5), ("state-high", 12)), StringComparison.Ordinal);
    }

    /// <summary>Unit step answer, natural frequency 1 rad/s, after ten flat seconds.</summary>
    private static Waveform SecondOrder(double z)
    {
        var wd = Math.Sqrt(1 - z * z);
        return Sampled.Curve(t => t < 0 ? 0 : 1 - Math.Exp(-z * t) * (Math.Cos(wd * t) + z / wd * Math.Sin(wd * t)), -10, 60, 70000);
    }
}
