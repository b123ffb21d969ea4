using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Controlled sources with the signs of the Berkeley SPICE3 user's manual (elements E, F, G, H): currents flow from the first node through
/// the source to the second; the current of a voltage source counts from its positive to its negative node.</summary>
public sealed class ControlledSourceTests
{
    [Fact]
    public void Voltage_controls_voltage()
    {
        var s = Solve(new VoltageSource("v", "in", "0", 2), new VoltageControlledVoltageSource("e", "out", "0", "in", "0", -5), new Resistor("r", "out", "0", 100));
        Assert.Equal(-10, s.Voltage("out"), 1e-9);
        Assert.Equal(0.1, s.Current("e"), 1e-9);
    }

    [Fact]
    public void Voltage_controls_current()
    {
        // 2 V at 3 mS: 6 mA drawn from node out, so 1 kohm to ground sits at -6 V.
        var s = Solve(new VoltageSource("v", "in", "0", 2), new VoltageControlledCurrentSource("g", "out", "0", "in", "0", 3e-3), new Resistor("r", "out", "0", 1e3));
        Assert.Equal(-6, s.Voltage("out"), 1e-9);
        Assert.Equal(6e-3, s.Current("g"), 1e-12);
    }

    [Fact]
    public void Current_controls_current_and_voltage()
    {
        // 2 V across 1 kohm: 2 mA flow into the positive node of the 0 V source that measures.
        var s = Solve(
            new VoltageSource("v", "in", "0", 2),
            new Resistor("r", "in", "m", 1e3),
            new VoltageSource("vm", "m", "0"),
            new CurrentControlledCurrentSource("f", "x", "0", "vm", 10),
            new Resistor("rx", "x", "0", 50),
            new CurrentControlledVoltageSource("h", "y", "0", "vm", 400),
            new Resistor("ry", "y", "0", 100));
        Assert.Equal(-1, s.Voltage("x"), 1e-9);
        Assert.Equal(0.02, s.Current("f"), 1e-12);
        Assert.Equal(0.8, s.Voltage("y"), 1e-9);
        Assert.Equal(-8e-3, s.Current("h"), 1e-12);
    }

    // Sedra and Smith, Microelectronic Circuits, 5th ed., section 2.2 (from memory): inverting amplifier with R2/R1 = 10 and open-loop gain A:
    // -10 / (1 + 11/A); for A = 1000: -9.8912.
    [Fact]
    public void Inverting_amplifier_with_finite_gain()
    {
        var s = Solve(
            new VoltageSource("v", "in", "0", 0.1),
            new Resistor("r1", "in", "n", 1e3),
            new Resistor("r2", "n", "out", 10e3),
            new VoltageControlledVoltageSource("e", "out", "0", "0", "n", 1000));
        Near(-0.98912, s.Voltage("out"), 1e-5);
    }

    [Fact]
    public void Transconductance_across_itself_is_a_conductance()
    {
        // Alone at its node it would be a current source without a path; wired to itself it is 1 kohm.
        var s = Solve(new CurrentSource("i", "0", "a", 5e-3), new VoltageControlledCurrentSource("g", "a", "0", "a", "0", 1e-3));
        Assert.Equal(5, s.Voltage("a"), 1e-9);
    }

    [Fact]
    public void Control_by_a_part_without_a_branch_is_refused_with_a_remedy()
    {
        var problem = Assert.Throws<CircuitException>(() => Solve(
            new VoltageSource("v", "a", "0", 1), new Resistor("r", "a", "0", 1), new CurrentControlledCurrentSource("f", "a", "0", "r", 1)));
        Assert.Contains("put a 0 V source in series with r", problem.Message, StringComparison.Ordinal);
    }
}
