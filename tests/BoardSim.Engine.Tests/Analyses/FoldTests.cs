using BoardSim.Engine.Analyses;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Converters;
using BoardSim.Engine.Numerics;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>Folds: where a branch of solutions ends and nothing has a charge that would say how fast the circuit leaves it.</summary>
public sealed class FoldTests
{
    // Two transistors that hold each other on are a thyristor (Ebers 1952; any textbook of power electronics). The base resistor of 1 kohm takes the gate's current until the junction has its 0.6 to 0.7 V: it fires at 0.6 to 0.7 mA of a ramp of 1 mA
    // per millisecond, and not before. Fired, 90 mA flow, one half through each base: a junction of 0.026 V ln(45 mA / 1e-14 A) = 0.76 V, a saturated transistor of some 0.1 V and 0.15 V at the resistances are left of the 10 V,
    // and it stays on when the gate's current is gone.
    [Theory]
    [InlineData("TR-BDF2", 1e-2)]
    [InlineData("ESDIRK3", 1e-3)]
    [InlineData("ESDIRK4", 1e-4)]
    public void Two_transistors_without_charges_fire_like_a_thyristor(string method, double accuracy)
    {
        var model = new BipolarModel { SaturationCurrent = 1e-14, ForwardBeta = 100, ReverseBeta = 5, BaseResistance = 2, EmitterResistance = 0.3, CollectorResistance = 1 };
        var circuit = Circuit(
            new VoltageSource("v", "supply", "0", 10),
            new Resistor("r_load", "supply", "anode", 100),
            new BipolarTransistor("q_pnp", "gate", "middle", "anode", model with { IsPnp = true }),
            new BipolarTransistor("q_npn", "middle", "gate", "0", model),
            new Resistor("r_gate", "gate", "0", 1000),
            new Resistor("r_middle", "anode", "middle", 1000),
            new CurrentSource("i_gate", "0", "gate", new PiecewiseLinearWaveform([0, 1e-3, 1.5e-3], [0, 1e-3, 0])));
        var run = Run(circuit, new TransientOptions { Stop = 2e-3, Accuracy = accuracy, Method = StageMethod.All.Single(m => m.Name == method) }, Probe.Voltage("anode"));
        Assert.InRange(run.At(0.55e-3), 9.9, 10);
        Assert.InRange(run.At(0.8e-3), 0.8, 1.3);
        Assert.InRange(run.At(1.9e-3), 0.8, 1.3);
    }

    // A load of 5 W with nothing but 50.05 ohm and a diode of 0.8 V before it; i = P/V (2 u - u^3) with u = v/V below V = 5 V. By hand: the low branch ends where its slope is -1/50.05 ohm, at u = 0.8366, 1.0877 A and 59.42 V of the source, 2.0253 ms; there
    // v^2 - 58.62 V v + 250.25 V^2 = 0 has 53.98 V as its stable end. The high branch ends where that equation has one root, at 32.44 V of the source, 8.948 ms, and the load falls from 15.8 V to 1.6 V.
    [Theory]
    [InlineData(2.00e-3, 3.82)]
    [InlineData(2.05e-3, 54.66)]
    [InlineData(8.90e-3, 21.36)]
    [InlineData(9.00e-3, 1.496)]
    public void Load_of_constant_power_leaves_both_branches_where_they_end(double seconds, double volts)
    {
        var circuit = Circuit(
            new VoltageSource("v1", "in", "0", new SineWaveform { Amplitude = 100, Frequency = 50 }),
            new Resistor("r1", "in", "a", 50),
            new Rectifier("d1", "a", "bulk", 0.8, 0.05),
            new ConstantPowerLoad("load", "bulk", "0", 5, 5));
        var run = Run(circuit, new TransientOptions { Stop = 20e-3, UseInitialConditions = true, Accuracy = 1e-4 }, Probe.Voltage("bulk"));
        Near(volts, run.At(seconds), 0.01);
    }
}
