using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Varistor against data sheets.</summary>
public sealed class VaristorTests
{
    // Data sheet of a 275 V, 20 mm metal-oxide varistor: 430 V at 1 mA (from memory), 710 V at 100 A; two points give alpha = ln(I2/I1)/ln(V2/V1) =
    // 22.96 (application note AN9768, Harris/Littelfuse 1998). Clamping behind a source resistance: the load line of a surge generator, V + R I = Voc,
    // solved by an independent program.
    [Theory]
    [InlineData(1000, 2, 720.4, 139.8)]
    [InlineData(2000, 2, 768.5, 615.8)]
    [InlineData(1000, 12, 671.1, 27.4)]
    [InlineData(3000, 50, 686.6, 46.3)]
    [InlineData(-1000, 2, -720.4, -139.8)]
    public void Clamps_a_surge_behind_a_resistance(double openVoltage, double ohms, double volts, double amperes)
    {
        var varistor = Varistor.FromPoints("rv", "a", "0", 430, 1e-3, 710, 100);
        Near(22.96, varistor.Exponent, 1e-3);
        var solution = Solve(new VoltageSource("v", "in", "0", openVoltage), new Resistor("r", "in", "a", ohms), varistor);
        Near(volts, solution.Voltage("a"), 5e-4);
        Near(amperes, solution.Current("rv"), 2e-3);
    }

    // AVX zinc-oxide varistor catalogue, p. 7: 10 % more direct voltage raises the dissipated power about 20-fold for alpha = 30 and 150-fold for
    // alpha = 50 (the catalogue rounds).
    [Theory]
    [InlineData(30, 20)]
    [InlineData(50, 150)]
    public void Ten_percent_more_voltage_multiplies_the_power(double exponent, double factor)
    {
        double Power(double volts) => volts * Solve(new VoltageSource("v", "a", "0", volts), new Varistor("rv", "a", "0", 100, 1e-3, exponent)).Current("rv");
        Near(factor, Power(110) / Power(100), 0.15);
    }

    [Fact]
    public void Both_ways_of_stating_the_curve_agree()
    {
        // AN9768: I = K V^alpha; 1e-12 times 100 to the 5th is 0.01 A by arithmetic.
        var probe = new DeviceProbe(Varistor.FromCoefficient("rv", "a", "0", 1e-12, 5));
        Near(0.01, probe.Set("a", 100).Evaluate().F("a"), 1e-12);
        probe = new DeviceProbe(new Varistor("rv", "a", "0", 100, 0.01, 5));
        Near(0.01, probe.Set("a", 100).Evaluate().F("a"), 1e-12);
    }

    [Fact]
    public void Points_that_do_not_rise_are_refused()
    {
        var problem = Assert.Throws<ArgumentException>(() => Varistor.FromPoints("rv", "a", "0", 430, 1e-3, 400, 100));
        Assert.Contains("must rise", problem.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1e5)]
    [InlineData(1e9)]
    public void Absurd_surges_are_solved(double volts)
    {
        var solution = Solve(new VoltageSource("v", "in", "0", volts), new Resistor("r", "in", "a", 0.01), new Varistor("rv", "a", "0", 430, 1e-3, 50));
        Near(solution.Current("r"), solution.Current("rv"), 1e-9);
    }
}
