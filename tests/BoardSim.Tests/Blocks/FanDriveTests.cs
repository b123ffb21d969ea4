using System.Numerics;
using BoardSim.Blocks.Motors;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Measurement;

namespace BoardSim.Tests.Blocks;

/// <summary>The fan drive against the fan's quadratic, phasors and the loop's aim.</summary>
public class FanDriveTests
{
    private const double K = 35e-3;

    private static FanDrive Open(double duty) => new() { Control = SpeedControl.OpenLoop, Duty = duty };

    // Full on: V = (R + Rs) i + K w and K i = friction + c w^2, a quadratic in the speed; the buffer drops some 60 mV.
    [Fact]
    public void Full_speed_is_the_root_of_the_fan_s_quadratic()
    {
        const double c = 4.4e-3 / (272.271 * 272.271), r = 16 + 15 + 0.3, v = 12 - 0.06;
        var (a, b, d) = (r * c / K, K, r * 0.6e-3 / K - v);
        var w = (-b + Math.Sqrt(b * b - 4 * a * d)) / (2 * a);
        var run = Bench.Run(Open(1).Build(), 0, 3);
        Near.Relative(w, run.S("fan-speed").At(2.9), 0.01);

        // Two pulses a turn.
        var tacho = run.V("tacho").Slice(2.5, 3);
        Near.Relative(w / Math.PI, Metrics.Get("frequency").Evaluate(tacho).Value, 0.015);
        Assert.InRange(tacho.Maximum().Value, 4.9, 5);
        Assert.InRange(tacho.Minimum().Value, 0, 0.1);
    }

    // Buffer and resistor fill the capacitor for a share d of the time: the mean current is d (V - Vfan) / Rs, as long as the capacitor keeps Vfan.
    [Fact]
    public void Mean_current_of_the_pulses()
    {
        var block = Open(0.4);
        block.FanCapacitance = 2e-3;
        var run = Bench.Run(block.Build(), 0, 3);
        var fan = run.V("fan").Slice(2.8, 3).Mean();
        Near.Relative(0.4 * (12 - 0.06 - fan) / (15 + 0.3), run.I("series-resistor").Slice(2.8, 3).Mean(), 0.03);
        Near.Relative(run.I("motor").Slice(2.8, 3).Mean(), run.I("series-resistor").Slice(2.8, 3).Mean(), 0.01);
    }

    // Ripple of the rail through the resistor into capacitor and winding, by phasors; the rotor's inertia counts as a capacitance J/K^2 behind R and L.
    [Theory]
    [InlineData(120)]
    [InlineData(1000)]
    public void Ripple_of_the_rail_becomes_ripple_of_the_torque(double hertz)
    {
        var s = new Complex(0, 2 * Math.PI * hertz);
        var winding = 16 + s * 8e-3 + 1 / (s * (15e-6 / (K * K)));
        var capacitor = 0.3 + 1 / (s * 100e-6);
        var both = winding * capacitor / (winding + capacitor);
        var torque = K * (0.5 * both / (both + 15 + 0.3) / winding).Magnitude;

        var block = Open(1);
        (block.Ripple, block.RippleFrequency) = (0.5, hertz);
        var wave = Bench.Run(block.Build(), 1.9, 2.0, 1e-4).S("fan-torque");

        // The saturated buffer adds some tenths of an ohm of its own.
        Near.Relative(torque, HarmonicAnalysis.Of(wave, hertz, 1)!.Peak(1), 0.03);
        Assert.Equal(hertz, Metrics.Get("tone-frequency").Evaluate(wave).Value);
    }

    // What a loop with an integral is for: the speed it is told, sound bearing or not.
    [Fact]
    public void Loop_keeps_the_speed()
    {
        foreach (var drag in new double?[] { null, 2e-3 })
        {
            var block = new FanDrive { Target = 170 };
            var board = drag is { } torque ? block.Fault("bearing-drag").Apply(block.Build(), torque) : block.Build();
            var run = Bench.Run(board, 3.3, 3.5);
            Near.Relative(170, run.S("fan-speed").Mean(), 0.02);
            Near.Relative(170, run.S("measured-speed").Mean(), 0.02);
        }
    }

    // Standing at the operating point means friction beyond what the start torque K i can break loose.
    [Fact]
    public void Fan_does_not_start_against_more_than_its_stall_torque()
    {
        var block = Open(1);
        var stall = K * (12 - 0.06) / (16 + 15 + 0.3);
        foreach (var (share, stands) in new[] { (0.97, 0), (1.03, 1) })
        {
            var board = block.Fault("bearing-drag").Apply(block.Build(), share * stall / 1.5);
            Assert.Equal(stands, OperatingPoint.Solve(new CircuitSystem(board.Circuit)).State("M1", "at-rest"));
            Assert.IsType<DcMotor>(board.Circuit["M1"]);
        }
    }
}
