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
}
