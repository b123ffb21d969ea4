using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Thermistors in circuits.</summary>
public sealed class ThermistorTests
{
    // Semitec 103AT at 0, 25, 50 and 100 degC (data sheet table) below 10 kohm at 5 V: arithmetic of a divider.
    [Theory]
    [InlineData(27280, 3.6588)]
    [InlineData(10000, 2.5)]
    [InlineData(4160, 1.46893)]
    [InlineData(973.1, 0.44340)]
    public void Sensor_in_a_divider(double ohms, double volts)
    {
        var curve = new TableCurve([(273.15, 27280), (298.15, 10000), (323.15, 4160), (373.15, 973.1)]);
        var sensor = new IsothermalThermistor("rt", "a", "0", curve) { Temperature = curve.Temperature(ohms) };
        Near(volts, Solve(new VoltageSource("v", "in", "0", 5), new Resistor("r", "in", "a", 10e3), sensor).Voltage("a"), 2e-5);
    }

    [Fact]
    public void Sensor_to_the_supply_side_raises_the_output_with_temperature()
    {
        // Common practice, no source.
        var sensor = new IsothermalThermistor("rt", "in", "a", new BetaCurve(10e3, 3435));
        var circuit = Circuit(new VoltageSource("v", "in", "0", 5), new Resistor("r", "a", "0", 10e3), sensor);
        var volts = Sweep(circuit, [253.15, 273.15, 298.15, 333.15], t => sensor.Temperature = t, Probe.Voltage("a"));
        Assert.Equal(volts.Order(), volts);
        Near(2.5, volts[2], 1e-9);
    }

    // Energy: charging C from a stiff source turns C V^2 / 2 into heat, whatever the resistance does meanwhile (325.27 V, 100 uF: 5.290 J); without
    // dissipation 2 J/K of heat capacity warm by 2.645 K.
    [Fact]
    public void Inrush_energy_warms_the_limiter_whatever_its_resistance_does()
    {
        var limiter = new Thermistor("ntc", "in", "a", 10, 3000) { HeatCapacity = 2, Dissipation = 1e-9 };
        var circuit = Circuit(new VoltageSource("v", "in", "0", 325.27), limiter, new Capacitor("c", "a", "0", 100e-6) { InitialVoltage = 0 });
        var result = Run(circuit, new TransientOptions { Stop = 50e-3, UseInitialConditions = true, Accuracy = 1e-5 }, Probe.Unknown(limiter.TemperatureUnknown));
        Assert.Equal(300.15 + 2.645, result.Values(0)[^1], 2e-3);
    }

    // IEC 60539-1 (from memory): the thermal time constant is the time in which an unloaded thermistor's temperature covers 63.2 % of its way to ambient;
    // it is heat capacity over dissipation factor.
    [Fact]
    public void Cools_with_its_thermal_time_constant()
    {
        var limiter = new Thermistor("ntc", "a", "0", 10, 3000) { HeatCapacity = 1.2, Dissipation = 0.02, Ambient = 298.15, InitialTemperature = 398.15 };
        var circuit = Circuit(limiter, new Resistor("r", "a", "0", 1e3));
        var result = Run(circuit, new TransientOptions { Stop = 120, UseInitialConditions = true, Accuracy = 1e-5 }, Probe.Unknown(limiter.TemperatureUnknown));
        Assert.Equal(298.15 + 36.788, result.At(60), 0.01);
    }

    [Fact]
    public void Hot_restart_lets_a_multiple_of_the_cold_inrush_through()
    {
        // At the first instant the limiter alone limits: 300 V over 10 ohm cold, over R(125 degC) hot. B = 3000 K between 25 and 125 degC:
        // exp(3000 (1/298.15 - 1/398.15)) = 12.526, worked out by hand.
        double Peak(double kelvin)
        {
            var limiter = new Thermistor("ntc", "in", "a", 10, 3000) { HeatCapacity = 50, Dissipation = 0.02, InitialTemperature = kelvin };
            var circuit = Circuit(new VoltageSource("v", "in", "0", 300), limiter, new Capacitor("c", "a", "0", 220e-6) { InitialVoltage = 0 });
            return Run(circuit, new TransientOptions { Stop = 20e-3, UseInitialConditions = true }, Probe.Current("ntc")).Values(0).Max();
        }

        Near(30, Peak(298.15), 2e-3);
        Near(30 * 12.526, Peak(398.15), 2e-3);
    }

    // Conservation of energy in equilibrium: v i = D (T - Ta). And the voltage has its maximum where T^2 = beta (T - Ta) (Sapoff and Oppenheim,
    // Proc. IEEE 51 (1963) 1292; from memory): for beta = 3000 K and 298.15 K at 335.37 K.
    [Fact]
    public void Self_heated_voltage_has_its_maximum_at_the_textbook_temperature()
    {
        var part = new Thermistor("ntc", "a", "0", 1000, 3000) { Dissipation = 0.005, Ambient = 298.15 };
        var source = new CurrentSource("i", "0", "a");
        var system = new CircuitSystem(Circuit(source, part));
        var currents = Enumerable.Range(1, 400).Select(k => 0.1e-3 * k).ToArray();
        var sweep = DcSweep.Run(system, currents, i => source.Waveform = new DcWaveform(i), [Probe.Voltage("a"), Probe.Unknown(part.TemperatureUnknown)]);
        var (volts, kelvin) = (sweep.Values(0), sweep.Values(1));
        var top = Array.IndexOf(volts, volts.Max());
        Assert.InRange(top, 5, currents.Length - 5);
        Assert.Equal(335.37, kelvin[top], 0.5);
        for (var k = 0; k < currents.Length; k += 40)
        {
            Near(0.005 * (kelvin[k] - 298.15), volts[k] * currents[k], 1e-6);
        }
    }

    [Fact]
    public void Operating_point_under_mains_voltage_finds_the_hot_limiter()
    {
        // A limiter in series with a load runs hot at a small part of its cold resistance: common practice, no source.
        var limiter = new Thermistor("ntc", "in", "a", 10, 3000) { Dissipation = 0.015 };
        var solution = Solve(new VoltageSource("v", "in", "0", 320), limiter, new Resistor("load", "a", "0", 160));
        Assert.InRange(solution.Unknown(limiter.TemperatureUnknown), 360, 480);
        Assert.InRange(solution.Voltage("in", "a") / solution.Current("ntc"), 0.2, 2);
    }
}
