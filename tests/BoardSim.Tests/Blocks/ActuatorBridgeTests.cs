using BoardSim.Blocks.Motors;
using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Measurement;

namespace BoardSim.Tests.Blocks;

/// <summary>The bridge and its motor against Ohm's law, the motor's closed forms and the trade's truth table.</summary>
public class ActuatorBridgeTests
{
    private static Board With(ActuatorBridge block, double a, double b)
    {
        var board = block.Build();
        board.Circuit.Get<VoltageSource>("V_a").Waveform = new DcWaveform(a);
        board.Circuit.Get<VoltageSource>("V_b").Waveform = new DcWaveform(b);
        return board;
    }

    // Common practice, no source: both low coast, one high turns, the other high turns back, both brake. Against a rotor that cannot turn, the current tells.
    [Theory]
    [InlineData(0, 0, 0, false)]
    [InlineData(5, 0, 1, false)]
    [InlineData(0, 5, -1, false)]
    [InlineData(5, 5, 0, true)]
    [InlineData(1.3, 0, 0, false)]
    [InlineData(3.3, 0, 1, false)]
    public void Truth_table(double a, double b, int direction, bool isTied)
    {
        var board = With(new ActuatorBridge { Friction = 1, Breakaway = 1 }, a, b);
        var rest = OperatingPoint.Solve(new CircuitSystem(board.Circuit));

        // Ohm's law: 12 V over winding, two switches, shunt and rail.
        var stall = 12 / (30 + 2 * 0.4 + 0.47 + 0.3);
        Assert.Equal(direction * stall, rest.Current("M1"), 1e-3 * stall);

        // Braked, both sides lie on the ground; coasting, they float (what is off leaks more than the meter's 10 Mohm would).
        Assert.Equal(isTied, rest.Voltage("out-a") < 1e-3 && rest.Voltage("out-b") < 1e-3);
    }

    // Coulomb friction alone brings it to rest in J w0 / T; shorted through the switches the speed falls with the slower root of J L s^2 + J R s + K^2, nearly J R / K^2
    // (closed forms).
    [Fact]
    public void Coasting_takes_the_friction_s_time_and_braking_the_mechanical_time_constant()
    {
        var coast = Run(new ActuatorBridge { AfterMove = IdleState.Coast, OpenFor = 1, CloseAt = 100 }, 3);
        var w0 = coast.S("motor-speed").At(1.1);
        var stopped = coast.S("at-rest").FirstCrossing(0.5, Edge.Rising, 1.2)!.Value;
        Near.Relative(2e-7 * w0 / 0.3e-3, stopped - 1.1, 0.01);

        var brake = Run(new ActuatorBridge { OpenFor = 1, CloseAt = 100, Friction = 0, Breakaway = 0 }, 1.25);
        var speed = brake.S("motor-speed");
        const double r = 30.8, l = 15e-3, k = 14e-3, j = 2e-7;
        var tau = 2 * l / (r - Math.Sqrt(r * r - 4 * l * k * k / j));
        Near.Relative(speed.At(1.11) * Math.Exp(-0.05 / tau), speed.At(1.16), 0.01);

        // The current turns round: it is what slows the rotor down, J dw/dt = K i.
        Near.Relative(-j / k * speed.At(1.11) / tau, brake.I("motor").At(1.11), 0.01);

        static Bench Run(ActuatorBridge block, double stop) => Bench.Run(block.Build(), 0, stop, 1e-4);
    }

    // While it coasts a meter across the motor sees the back-EMF, K w.
    [Fact]
    public void Coasting_motor_shows_its_back_emf()
    {
        var run = Bench.Run(new ActuatorBridge { AfterMove = IdleState.Coast, OpenFor = 1, CloseAt = 100 }.Build(), 0, 1.4, 1e-4);
        Near.Relative(14e-3 * run.S("motor-speed").At(1.2), run.V("motor").At(1.2), 0.005);
    }

    // Reversed at full speed the winding sees rail and back-EMF together: nearly twice the stall current.
    [Fact]
    public void Reversal_at_full_speed_takes_nearly_twice_the_stall_current()
    {
        var block = new ActuatorBridge { AfterMove = IdleState.Coast, OpenFor = 1, CloseAt = 1.1, CloseFor = 1 };
        var run = Bench.Run(block.Build(), 0, 2, 1e-4);
        var rail = 12.0 / (30 + 0.8 + 0.47 + 0.3);
        var emf = 14e-3 * run.S("motor-speed").At(1.1) / (30 + 0.8 + 0.47 + 0.3);

        // The peak comes some three electrical time constants (0.5 ms) later, while the rotor (30 ms) has slowed by some 5 %.
        Assert.InRange(-run.I("motor").Minimum().Value, 0.9 * (rail + emf), rail + emf);
    }

    // Both switches of a side on: the rail over what is in its way, with the capacitor's and the rail's resistance side by side, for the overlap's length (Ohm's law).
    [Fact]
    public void Shoot_through_lasts_as_long_as_the_overlap_and_takes_what_the_resistances_let_through()
    {
        var block = new ActuatorBridge();
        var healthy = Bench.Run(block.Build(), 4.0999, 4.1001, 1e-4).I("a-low");
        Assert.True(healthy.Maximum().Value < 0.01, $"{healthy.Maximum().Value}");

        var late = Bench.Run(block.Fault("dead-time-lost").Apply(block.Build(), 4e-6), 4.0999, 4.1001, 1e-4).I("a-low");
        Near.Relative(12 / (0.15 + 0.8 + 0.47), late.Maximum().Value, 0.04);
        Near.Relative(1.5e-6, late.TimeAbove(2), 0.05);
    }

    // A rail below the driver's minimum: nothing turns, whatever the controls say.
    [Fact]
    public void Bridge_stays_off_below_its_minimum_supply()
    {
        var run = Bench.Run(new ActuatorBridge { RailVoltage = 5.5 }.Build(), 0, 2, 1e-4);
        Assert.True(run.I("motor").Peak().Value < 1e-5);
        Assert.Equal(0, run.S("vent-position").Maximum().Value, 1e-6);
    }
}
