using BoardSim.Engine.Analyses;
using BoardSim.Engine.Analyses.Envelopes;
using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Tests.Analyses.Envelopes;

public class WaveformFillTests
{
    private const double Length = 10;

    /// <summary>A period in which something happens at two instants, the signal going up at the first and down at the second.</summary>
    private static ComputedPeriod Period(int number, double first, double second) => new()
    {
        Number = number,
        StartCharge = [0],
        EndCharge = [0],
        EndState = [0],
        EventTimes = [first, second],
        Breaks = [first, second],
        Happened = [("S", "on"), ("S", "off")],
        ArmedAfter = [],
        Record = new RecordPiece([0, first, first, second, second, Length], [[0, 0, 1, 1, 0, 0]]),
    };

    private static (List<double> Times, List<double> Values, List<CircuitEvent> Events) Fill(ComputedPeriod[] nodes, int number)
    {
        var (times, values, events) = (new List<double>(), new List<double>(), new List<CircuitEvent>());
        new WaveformFill(nodes, nodes[1], Length, 0, [1e-6]).Write(number, number * Length, times, [values], events);
        return (times, values, events);
    }

    [Fact]
    public void Instants_stay_in_order_where_the_polynomial_crosses_them()
    {
        // The distance of the two instants is 0.01, 0.01, 0.01 and 3 at the numbers 0, 1, 10 and 11. The cubic through these has about -2.7 at 5.
        var (times, _, events) = Fill([Period(0, 4, 4.01), Period(1, 4, 4.01), Period(10, 4, 4.01), Period(11, 4, 7)], 5);
        Assert.Equal(times.Order(), times);
        Assert.Equal([54, 54.01], events.Select(e => e.Time), (a, b) => Math.Abs(a - b) < 1e-9);
        Assert.InRange(times[0], 50, 60);
        Assert.InRange(times[^1], 50, 60);
    }

    [Fact]
    public void Instants_follow_the_polynomial_where_it_keeps_their_order()
    {
        // Squares of the number, over 100: at 5 it is 0.25 beyond the first and the second instant at 0. A straight line from 1 to 10 would have 0.45.
        static ComputedPeriod At(int n) => Period(n, 2 + n * n / 100.0, 6 + n * n / 100.0);
        var (_, _, events) = Fill([At(0), At(1), At(10), At(11)], 5);
        Assert.Equal([52.25, 56.25], events.Select(e => e.Time), (a, b) => Math.Abs(a - b) < 1e-9);
    }
}
