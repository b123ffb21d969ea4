using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Circuits;

/// <summary>
/// Structures without a unique solution are told before the first number is computed. What is unsound follows from Kirchhoff's
/// laws alone: a solution is unique when no loop holds voltage sources only and no cut-set current sources only (Chua, Desoer
/// and Kuh, Linear and Nonlinear Circuits, 1987, chapter 5; from memory).
/// </summary>
public sealed class StructureCheckTests
{
    [Fact]
    public void Node_between_capacitors_floats_at_direct_current_only()
    {
        var circuit = Circuit(
            new VoltageSource("v1", "in", "0", 5),
            new Capacitor("c1", "in", "mid", 1e-6),
            new Capacitor("c2", "mid", "0", 1e-6));
        Assert.Equal(
            ["Node mid (parts c1, c2) has no conducting path to the ground (node 0); add one, for example a 1 Gohm resistor from mid to 0."],
            StructureCheck.Find(circuit, forDirectCurrent: true));
        Assert.Empty(StructureCheck.Find(circuit, forDirectCurrent: false));
    }

    [Fact]
    public void Leaky_capacitor_is_a_path()
    {
        var circuit = Circuit(
            new VoltageSource("v1", "in", "0", 5),
            new Capacitor("c1", "in", "mid", 1e-6) { LeakageResistance = 1e9 },
            new Capacitor("c2", "mid", "0", 1e-6));
        Assert.Empty(StructureCheck.Find(circuit, forDirectCurrent: true));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Island_is_told_with_its_nodes_and_parts(bool directCurrent)
    {
        // A secondary circuit without any tie to the primary: the everyday case of a mains transformer.
        var circuit = Circuit(
            new VoltageSource("v1", "in", "0", 5),
            new Resistor("r1", "in", "0", 1e3),
            new Resistor("r2", "s1", "s2", 1e3),
            new Resistor("r3", "s2", "s1", 1e3));
        var finding = Assert.Single(StructureCheck.Find(circuit, directCurrent));
        Assert.StartsWith("Nodes s1, s2 (parts r2, r3) have no ", finding, StringComparison.Ordinal);
        Assert.EndsWith("for example a 1 Gohm resistor from s1 to 0.", finding, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_island_is_told()
    {
        var circuit = Circuit(
            new VoltageSource("v1", "in", "0", 5),
            new Resistor("r1", "in", "0", 1e3),
            new Resistor("r2", "a", "b", 1e3),
            new Resistor("r3", "p", "q", 1e3));
        Assert.Equal(2, StructureCheck.Find(circuit, forDirectCurrent: true).Count);
    }

    [Fact]
    public void Current_source_into_nothing_is_told_as_such()
    {
        var circuit = Circuit(new CurrentSource("i1", "0", "out", 1e-3), new Capacitor("c1", "out", "0", 1e-6));
        Assert.Equal(
            ["Node out (parts i1, c1) has no conducting path to the ground (node 0), and the current of i1 has nowhere to go; add a resistor from out to 0."],
            StructureCheck.Find(circuit, forDirectCurrent: true));

        // From initial conditions the capacitor simply charges.
        Assert.Empty(StructureCheck.Find(circuit, forDirectCurrent: false));
    }

    [Fact]
    public void Current_sources_in_series_are_told_in_a_transient_as_well()
    {
        var circuit = Circuit(new CurrentSource("i1", "0", "mid", 1e-3), new CurrentSource("i2", "mid", "0", 2e-3));
        var finding = Assert.Single(StructureCheck.Find(circuit, forDirectCurrent: false));
        Assert.Contains("Node mid (parts i1, i2) has no path at all", finding, StringComparison.Ordinal);
        Assert.Contains("the current of i1, i2 has nowhere to go", finding, StringComparison.Ordinal);
    }

    [Fact]
    public void Control_terminals_are_no_path()
    {
        var circuit = Circuit(
            new VoltageControlledVoltageSource("e1", "out", "0", "sense", "0", 2),
            new Resistor("r1", "out", "0", 1e3));
        var finding = Assert.Single(StructureCheck.Find(circuit, forDirectCurrent: false));
        Assert.StartsWith("Node sense is sensed by e1, and nothing drives it", finding, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_voltage_sources_in_parallel_contradict_each_other()
    {
        var circuit = Circuit(
            new VoltageSource("v1", "a", "0", 5),
            new VoltageSource("v2", "a", "0", 6),
            new Resistor("r1", "a", "0", 1e3));
        var finding = Assert.Single(StructureCheck.Find(circuit, forDirectCurrent: false));
        Assert.StartsWith("v1, v2 form a loop of voltage sources at nodes a, 0, which contradict each other", finding, StringComparison.Ordinal);
        Assert.EndsWith("add a series resistance (1 mohm, say) to v2.", finding, StringComparison.Ordinal);
    }

    [Fact]
    public void Loop_of_three_sources_is_told_with_all_three_and_no_others()
    {
        var circuit = Circuit(
            new VoltageSource("va", "a", "0", 1),
            new VoltageSource("vb", "b", "a", 1),
            new VoltageControlledVoltageSource("ec", "b", "0", "a", "0", 2),
            new VoltageSource("vx", "x", "0", 1),
            new Resistor("r1", "b", "x", 1e3));
        var finding = Assert.Single(StructureCheck.Find(circuit, forDirectCurrent: true));
        foreach (var part in new[] { "va", "vb", "ec" })
        {
            Assert.Contains(part, finding, StringComparison.Ordinal);
        }

        Assert.DoesNotContain("vx", finding, StringComparison.Ordinal);
    }

    [Fact]
    public void Inductor_across_a_source_has_no_limit_at_direct_current_only()
    {
        var circuit = Circuit(new VoltageSource("v1", "a", "0", 5), new Inductor("l1", "a", "0", 1e-3));
        Assert.Equal(
            ["v1, l1 form a loop of voltage sources and inductors at nodes a, 0, whose direct current has no limit; add a series resistance (1 mohm, say) to l1."],
            StructureCheck.Find(circuit, forDirectCurrent: true));
        Assert.Empty(StructureCheck.Find(circuit, forDirectCurrent: false));
        circuit.Get<Inductor>("l1").SeriesResistance = 1e-3;
        Assert.Empty(StructureCheck.Find(circuit, forDirectCurrent: true));
    }

    [Fact]
    public void Inductors_in_parallel_share_their_direct_current_by_nothing()
    {
        var circuit = Circuit(
            new VoltageSource("v1", "in", "0", 5),
            new Resistor("r1", "in", "a", 10),
            new Inductor("l1", "a", "0", 1e-3),
            new Inductor("l2", "a", "0", 1e-3));
        Assert.Contains("l1, l2 form a loop", Assert.Single(StructureCheck.Find(circuit, forDirectCurrent: true)), StringComparison.Ordinal);
    }

    [Fact]
    public void Source_with_both_ends_at_one_node_is_told()
    {
        var circuit = Circuit(new VoltageSource("v1", "a", "a", 5), new Resistor("r1", "a", "0", 1e3));
        Assert.Equal(
            ["v1 is connected to node a at both ends; connect it across two nodes."],
            StructureCheck.Find(circuit, forDirectCurrent: false));
    }

    [Fact]
    public void Node_names_differ_by_more_than_case()
    {
        var circuit = Circuit(new VoltageSource("v1", "IN", "0", 5), new Resistor("r1", "in", "Out", 1e3), new Resistor("r2", "OUT", "0", 1e3));
        Assert.Empty(StructureCheck.Find(circuit, forDirectCurrent: true));
    }

    [Fact]
    public void Sound_circuits_give_no_finding()
    {
        var rectifier = Circuit(
            new VoltageSource("v1", "a", "b", new SineWaveform { Amplitude = 10, Frequency = 50 }),
            new Diode("d1", "a", "p", new DiodeModel()),
            new Diode("d2", "b", "p", new DiodeModel()),
            new Diode("d3", "0", "a", new DiodeModel()),
            new Diode("d4", "0", "b", new DiodeModel()),
            new Capacitor("c1", "p", "0", 1e-3),
            new Resistor("rl", "p", "0", 100));
        var stage = Circuit(
            new VoltageSource("vcc", "vcc", "0", 12),
            new VoltageSource("vin", "in", "0", 0),
            new Capacitor("cin", "in", "b", 1e-6),
            new Resistor("rb", "vcc", "b", 1e6),
            new BipolarTransistor("q1", "c", "b", "0", new BipolarModel()),
            new Inductor("lc", "vcc", "c", 1e-3));
        foreach (var circuit in new[] { rectifier, stage })
        {
            Assert.Empty(StructureCheck.Find(circuit, forDirectCurrent: true));
            Assert.Empty(StructureCheck.Find(circuit, forDirectCurrent: false));
        }
    }

    [Fact]
    public void Empty_circuit_is_told() =>
        Assert.Equal(["The circuit has no parts."], StructureCheck.Find(new Circuit(), forDirectCurrent: true));

    [Fact]
    public void All_findings_come_at_once()
    {
        var circuit = Circuit(
            new VoltageSource("v1", "a", "0", 5),
            new VoltageSource("v2", "a", "0", 5),
            new Capacitor("c1", "a", "mid", 1e-6));
        var problem = Assert.Throws<CircuitException>(() => StructureCheck.ThrowIfUnsound(circuit, forDirectCurrent: true));
        Assert.Equal(2, problem.Findings.Count);
        Assert.Equal(string.Join(Environment.NewLine, problem.Findings), problem.Message);
    }
}
