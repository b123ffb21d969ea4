using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Lumped heat balance against its closed form (Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, section 5.3, from memory).</summary>
public sealed class ThermalJointTests
{
    // 50 mohm, 30 K/W, 0.3 J/K at 20 degC: 8 A make 3.2 W, 96 K in the end, with a time constant of 9 s.
    private static ThermalJoint Joint() => new("j", "a", "0", 0.05) { Coefficient = 0, HeatCapacity = 0.3, ThermalResistance = 30, Ambient = 293.15 };

    [Fact]
    public void Warms_to_power_times_resistance_with_its_time_constant()
    {
        var circuit = Circuit(new CurrentSource("i", "0", "a", 8), Joint());
        var run = Run(circuit, new TransientOptions { Stop = 90, Accuracy = 1e-5, UseInitialConditions = true }, Probe.State("j", "temperature"), Probe.Current("j"));
        Assert.Equal(293.15 + 96 * (1 - Math.Exp(-1)), run.At(9), 0.02);
        Assert.Equal(293.15 + 96, run.Values(0)[^1], 0.02);
        Assert.Equal(8, run.Values(1)[^1], 1e-6);
    }

    // Opens 9 s ln(96 / (96 - 70)) = 11.756 s after cold, at 90 degC; closes 9 s ln(70 / 30) = 7.626 s later, at 50 degC; opens again
    // 9 s ln((96 - 30) / (96 - 70)) = 8.384 s after that. Worked out by hand.
    [Fact]
    public void A_crack_opens_warm_and_closes_cool_at_the_instants_of_the_closed_form()
    {
        var joint = Joint();
        (joint.OpensAt, joint.ClosesAt) = (363.15, 323.15);
        var circuit = Circuit(new VoltageSource("v", "s", "0", 800), new Resistor("r", "s", "a", 99.95), joint);
        var run = Run(circuit, new TransientOptions { Stop = 30, Accuracy = 1e-6, UseInitialConditions = true }, Probe.State("j", "openings"), Probe.Voltage("a"));
        var times = run.Events.Where(e => e.Part == "j").Select(e => e.Time).ToArray();
        Assert.Equal(["open", "closed", "open"], run.Events.Where(e => e.Part == "j").Select(e => e.State));

        // Open, 1 Gohm at 800 V leave it less than a milliwatt.
        Near(11.756, times[0], 1e-3);
        Near(7.626, times[1] - times[0], 1e-3);
        Near(8.384, times[2] - times[1], 1e-3);
        Assert.Equal(2, run.Values(0)[^1]);
        Assert.InRange(run.Values(1)[^1], 790, 800);
    }

    // A resistance that rises with temperature at constant current: T - Ta = P / (1 / Rth - P a), closed form of the linear balance.
    [Fact]
    public void A_metal_joint_warms_more_than_its_cold_resistance_says()
    {
        var joint = Joint();
        joint.Coefficient = 2.62e-3;
        var solution = Solve(Circuit(new CurrentSource("i", "0", "a", 8), joint));
        Near(3.2 / (1.0 / 30 - 3.2 * 2.62e-3), solution.State("j", "temperature") - 293.15, 1e-6);
    }

    // An arc lives until the current's next zero (common practice, no source): with an inductance in the circuit, that is where it breaks.
    [Fact]
    public void An_alternating_current_is_broken_at_its_zero()
    {
        var joint = Joint();
        (joint.OpensAt, joint.ClosesAt, joint.HeatCapacity, joint.BreaksAtZero) = (303.15, 293.16, 0.01, true);
        var circuit = Circuit(
            new VoltageSource("v", "s", "0", new SineWaveform { Amplitude = 170, Frequency = 60 }), new Inductor("l", "s", "b", 30e-3), new Resistor("r", "b", "a", 1), joint);
        var run = Run(circuit, new TransientOptions { Stop = 0.3, Accuracy = 1e-5, UseInitialConditions = true }, Probe.Current("l"), Probe.State("j", "open"), Probe.Voltage("a"));
        Assert.Equal(["parting", "open"], run.Events.Take(2).Select(e => e.State));
        Assert.InRange(run.Events[1].Time - run.Events[0].Time, 1e-6, 1 / 60.0);

        // Broken while it still flowed, the current of the 30 mH would have driven the joint to kilovolts.
        Assert.InRange(run.Values(2).Max(Math.Abs), 0, 200);
    }

    [Fact]
    public void Says_when_it_would_close_hotter_than_it_opens()
    {
        var joint = Joint();
        (joint.OpensAt, joint.ClosesAt) = (330, 340);
        Assert.Contains(joint.Problems(), p => p.Contains("close at a lower temperature", StringComparison.Ordinal));
    }
}
