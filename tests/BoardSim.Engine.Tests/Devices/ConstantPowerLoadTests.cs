using BoardSim.Engine.Analyses;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Constant-power load.</summary>
public sealed class ConstantPowerLoadTests
{
    // 12 V behind 1 ohm into 20 W: v^2 - 12 v + 20 = 0, upper root 10 V and 2 A.
    [Fact]
    public void Draws_its_power_behind_a_resistance()
    {
        var solution = Solve(new VoltageSource("v", "s", "0", 12), new Resistor("r", "s", "a", 1), new ConstantPowerLoad("p", "a", "0", 20, 5));
        Near(10, solution.Voltage("a"), 1e-9);
        Near(2, solution.Current("p"), 1e-9);
    }

    [Theory]
    [InlineData(5, 4)]
    [InlineData(8, 2.5)]
    [InlineData(20, 1)]
    public void Current_falls_as_the_voltage_rises(double volts, double amperes) =>
        Near(amperes, Solve(new VoltageSource("v", "a", "0", volts), new ConstantPowerLoad("p", "a", "0", 20, 5)).Current("p"), 1e-9);

    [Fact]
    public void Source_too_weak_for_the_power_settles_below_the_minimum_voltage()
    {
        // Maximum power transfer (Jacobi): 12 V behind 1 ohm give 36 W at most; a load of 50 W cannot hold 5 V and slides down.
        var solution = Solve(new VoltageSource("v", "s", "0", 12), new Resistor("r", "s", "a", 1), new ConstantPowerLoad("p", "a", "0", 50, 5));
        Assert.InRange(solution.Voltage("a"), 1, 5);
        Assert.True(solution.Voltage("a") * solution.Current("p") < 36);
    }

    // Middlebrook, "Input filter considerations in design and application of switching regulators", IAS 1976 (from memory): a load of constant power is a resistance of -v^2/P, and a source of more than that cannot hold
    // it. Behind 1 kohm and 300 V a load of 2 W stands at v^2 - 300 v + 2000 = 0, upper root 293.1782 V, and has no other state (below 10 V it never asks for more than 226 V); 80 V give 1.6 W at most, there is no such
    // root, and its own capacitance takes it down to where v = 80 - 1000 i meets i = 2 W/V^2 v (2 - (v/V)^2), V = 10 V: v + 40 v - 0.2 v^3 = 80, so v = 1.98964 (80/41, then twice v = (80 + 0.2 v^3)/41 and on) V.
    [Theory]
    [InlineData(1e-2)]
    [InlineData(1e-3)]
    [InlineData(1e-5)]
    public void Load_beyond_the_source_slides_down_as_fast_as_its_own_capacitance_lets_it(double accuracy)
    {
        var circuit = Circuit(
            new VoltageSource("v", "s", "0", new PulseWaveform { Low = 300, High = 80, Delay = 1e-3, Rise = 1e-3, Fall = 1e-3, Width = 1 }),
            new Resistor("r", "s", "a", 1000),
            new ConstantPowerLoad("p", "a", "0", 2, 10) { InputCapacitance = 1e-9 });
        var result = Run(circuit, new TransientOptions { Stop = 5e-3, Accuracy = accuracy }, Probe.Voltage("a"));
        Near(293.1782, result.At(0.5e-3), 1e-5 + accuracy);
        Near(1.98964, result.At(4.9e-3), 1e-5 + accuracy);
        Assert.InRange(result.Evidence.PowerBalance, 0, 10 * accuracy);
    }
}
