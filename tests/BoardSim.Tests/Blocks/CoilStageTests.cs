using BoardSim.Blocks;
using BoardSim.Blocks.AcLoads;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;

namespace BoardSim.Tests.Blocks;

/// <summary>The transistor that switches the coil of a load's relay, on the bench: by closed forms of the circuit, and what its faults do.</summary>
public class CoilStageTests
{
    // Base current (5 V - V_BE) / 4.7 kohm and coil current (12 V - V_CE) / R by Ohm's law; R is copper at the circuit's 27 degC, 0.393 %/K above its value at 20 degC (IEC 60028), and 5 ohm
    // of the bench. V_BE and V_CE of a saturated small transistor: common practice, no source.
    [Fact]
    public void A_stage_that_is_on_gives_the_coil_its_rail()
    {
        var load = new SwitchedLoad { Drive = CoilDrive.Transistor, OnAt = 5e-3, OffAt = 60e-3 };
        var run = Last(load.Build().Circuit, 50e-3, Probe.Voltage("base-coil", "ground"), Probe.Voltage("coil-minus", "ground"), Probe.Current("K1"), Probe.Current("R_base_coil"));
        Assert.InRange(run[0], 0.6, 0.8);
        Assert.InRange(run[1], 0.02, 0.25);
        Assert.Equal((12 - run[1]) / (270 * (1 + 0.00393 * 7) + 5), run[2], 0.002 * run[2]);
        Assert.Equal((5 - run[0]) / 4700, run[3], 1e-6);
    }

    [Theory]
    [InlineData(null, 0, 1)]
    [InlineData("driver-open", 0, 0)]
    [InlineData("base-resistor-open", 0, 0)]
    [InlineData("driver-shorted", 1, 1)]
    public void Its_faults_hold_the_heater_s_relay(string? fault, double before, double during)
    {
        var load = new SwitchedLoad { Drive = CoilDrive.Transistor, OnAt = 60e-3, OffAt = 120e-3 };
        Assert.Equal(before, Made(load, fault, "K1", 50e-3));
        Assert.Equal(during, Made(load, fault, "K1", 110e-3));
    }

    [Theory]
    [InlineData(null, 0, 1, 0)]
    [InlineData("forward-driver-open", 0, 0, 0)]
    [InlineData("forward-base-resistor-open", 0, 0, 0)]
    [InlineData("forward-driver-shorted", 1, 1, 1)]
    [InlineData("reverse-driver-open", 0, 1, 0)]
    [InlineData("reverse-base-resistor-open", 0, 1, 0)]
    [InlineData("reverse-driver-shorted", 0, 1, 0)]
    public void Its_faults_hold_the_forward_relay_and_that_one_alone(string? fault, double before, double during, double after)
    {
        var vent = new MotorReversal { Drive = CoilDrive.Transistor, ForwardOnAt = 60e-3, ForwardOnFor = 60e-3, ReverseOnAt = 200e-3, ReverseOnFor = 60e-3 };
        Assert.Equal(before, Made(vent, fault, "K_forward", 50e-3));
        Assert.Equal(during, Made(vent, fault, "K_forward", 110e-3));
        Assert.Equal(after, Made(vent, fault, "K_forward", 190e-3));
    }

    private static double Made(Block block, string? fault, string coil, double at)
    {
        var board = block.Build();
        var broken = fault is null ? board : block.Fault(fault).Apply(board);
        return Last(broken.Circuit, at, Probe.State(coil, "made"))[0];
    }

    private static double[] Last(Circuit circuit, double at, params Probe[] probes)
    {
        var result = Transient.Run(new CircuitSystem(circuit), new TransientOptions { Stop = at, UseInitialConditions = true }, probes);
        return [.. probes.Select((_, k) => result.Values(k)[^1])];
    }
}
