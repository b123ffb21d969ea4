using BoardSim.Engine.Netlists;

namespace BoardSim.Engine.Tests.Netlists;

/// <summary>
/// SPICE3 User's Manual, section ".IC" (from memory): with UIC, node voltages set the start of each part and no bias solution is
/// computed; without it, the nodes are held at these voltages while the bias solution is computed, and let go then.
/// </summary>
public class InitialConditionTests
{
    private const string Ladder = """
        ladder
        V1 in 0 10
        R1 in out 1k
        C1 out 0 1u
        R2 out x 1MEG
        R3 x 0 3MEG
        C2 x 0 1n
        .ic V(out)=3
        """;

    [Fact]
    public void Without_uic_the_rest_of_the_circuit_settles_around_the_held_node()
    {
        var (time, outV, x) = Run(".tran 1u 5m");
        Assert.Equal(3, outV[0], 1e-4);

        // 3 V over 1 Mohm and 3 Mohm: 2.25 V.
        Assert.Equal(2.25, x[0], 1e-4);

        // Charging through 1 kohm beside 4 Mohm: tau = 1 ms / (1 + 1/4000), towards 10 V * 4000/4001.
        var k = Array.FindIndex(time, t => t >= 1e-3);
        var final = 10 * 4000.0 / 4001;
        Assert.Equal(final + (3 - final) * Math.Exp(-time[k] / (1e-3 * 4000 / 4001)), outV[k], 1e-3);
    }

    [Fact]
    public void With_uic_all_else_starts_uncharged()
    {
        var (_, outV, x) = Run(".tran 1u 5m UIC");
        Assert.Equal(3, outV[0], 1e-4);
        Assert.Equal(0, x[0], 1e-3);
    }

    // Manual, section "Independent sources": for the bias solution of a transient a source has its value at time zero, its DC value
    // serves .op and .dc.
    [Fact]
    public void A_transient_starts_from_the_waveforms_value_at_time_zero()
    {
        var netlist = NetlistReader.Read("t\nV1 a 0 DC 5 PULSE(1 2 1m)\nR1 a b 1k\nC1 b 0 1n\n.op\n.tran 1u 100u\n.end");
        Assert.Equal(5, Column(NetlistRunner.Run(netlist, netlist.Analyses[0]), "V(b)")[0], 9);
        Assert.Equal(1, Column(NetlistRunner.Run(netlist, netlist.Analyses[1]), "V(b)")[0], 9);
    }

    private static (double[] Time, double[] Out, double[] X) Run(string card)
    {
        var netlist = NetlistReader.Read($"{Ladder}\n{card}\n.end");
        var table = NetlistRunner.Run(netlist, netlist.Analyses[0], new NetlistRunOptions { Accuracy = 1e-4 });
        return (Column(table, "time"), Column(table, "V(out)"), Column(table, "V(x)"));
    }

    private static double[] Column(AnalysisTable table, string label) => [.. table.Columns.Single(c => c.Label == label).Values];
}
