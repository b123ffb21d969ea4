using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Circuits;

/// <summary>
/// Unknowns of index 2: Estevez Schwarz and Tischendorf, Int. J. Circuit Theory Appl. 28 (2000) 131 (from memory): the voltages of
/// cut-sets of inductors and current sources, and the currents of voltage sources in loops with capacitors.
/// </summary>
public sealed class HigherIndexTests
{
    [Fact]
    public void Source_across_a_capacitor_carries_a_current_of_index_two() =>
        Assert.Equal(["v1#i"], Marked(new VoltageSource("v1", "a", "0", 1), new Capacitor("c1", "a", "0", 1e-6), new Resistor("r1", "a", "0", 1)));

    [Fact]
    public void Resistance_anywhere_in_the_loop_makes_it_index_one() =>
        Assert.Empty(Marked(new VoltageSource("v1", "a", "0", 1), new Resistor("r1", "a", "b", 1), new Capacitor("c1", "b", "0", 1e-6)));

    [Fact]
    public void Loop_over_two_capacitors_counts() =>
        Assert.Equal(
            ["v1#i"],
            Marked(
                new VoltageSource("v1", "a", "0", 1),
                new Capacitor("c1", "a", "b", 1e-6),
                new Capacitor("c2", "b", "0", 1e-6),
                new Resistor("r1", "b", "0", 1)));

    [Fact]
    public void Node_where_only_inductors_meet_has_a_voltage_of_index_two() =>
        Assert.Equal(
            ["m"],
            Marked(
                new VoltageSource("v1", "a", "0", 1),
                new Inductor("l1", "a", "m", 1e-3),
                new Inductor("l2", "m", "b", 1e-3),
                new Resistor("r1", "b", "0", 1)));

    [Fact]
    public void Current_source_feeding_an_inductor_makes_a_voltage_of_index_two() =>
        Assert.Equal(["a"], Marked(new CurrentSource("i1", "0", "a", 1), new Inductor("l1", "a", "0", 1e-3)));

    [Fact]
    public void Resistor_or_capacitor_at_the_node_makes_it_index_one()
    {
        Assert.Empty(Marked(new CurrentSource("i1", "0", "a", 1), new Inductor("l1", "a", "0", 1e-3), new Resistor("r1", "a", "0", 1)));
        Assert.Empty(Marked(new CurrentSource("i1", "0", "a", 1), new Inductor("l1", "a", "0", 1e-3), new Capacitor("c1", "a", "0", 1e-9)));
    }

    // Kirchhoff's current law: sources in series carry one current, so both follow from a rate of change if one does, in whatever order they were added.
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void All_sources_of_a_loop_are_found(bool reversed)
    {
        Device[] parts = [new VoltageSource("v1", "a", "b", 1), new VoltageSource("v2", "b", "0", 1), new VoltageSource("alone", "c", "0", 1)];
        Assert.Equal(["v1#i", "v2#i"], Marked([.. reversed ? parts.Reverse() : parts, new Capacitor("c1", "a", "0", 1e-9), new Resistor("r1", "c", "a", 1)]));
    }

    // Half an ampere while the edge lasts, C dv/dt, and nothing before and after, where the capacitor has no series resistance and a source of no volts measures the current.
    [Theory]
    [InlineData(1e-3)]
    [InlineData(1e-5)]
    public void Current_of_an_edge_across_a_capacitor_is_measured_in_series(double accuracy)
    {
        var run = Run(
            Circuit(
                new VoltageSource("v", "driver", "return", new PulseWaveform { High = 12, Delay = 1e-6, Rise = 50e-9, Fall = 50e-9, Width = 1e-6, Period = 5e-6 }),
                new Capacitor("c", "return", "0", 2.2e-9),
                new VoltageSource("meter", "0", "driver", 0),
                new Resistor("r_gate", "driver", "gate", 47),
                new Capacitor("c_gate", "gate", "return", 400e-12),
                new Resistor("barrier", "return", "0", 1e9)),
            new TransientOptions { Stop = 20e-6, Accuracy = accuracy },
            Probe.Current("meter"));
        Near(-2.2e-9 * 12 / 50e-9, run.At(1e-6 + 25e-9), 1e-3);
        Assert.Equal(0, run.At(1.9e-6), 1e-4);
    }

    private static IEnumerable<string> Marked(params Device[] parts)
    {
        var system = new CircuitSystem(Circuit(parts));
        return HigherIndex.Find(system).Select((m, k) => m ? system.Unknowns[k - 1].Name : "").Where(n => n.Length > 0).Order(StringComparer.Ordinal);
    }
}
