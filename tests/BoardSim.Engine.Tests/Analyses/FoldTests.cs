using BoardSim.Engine.Analyses;
using BoardSim.Engine.Devices;
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
}
