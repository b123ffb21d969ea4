using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>
/// The motor against the closed forms of its two equations. The numbers of the small one are those of the worked example of a position control in
/// the Control Tutorials of the University of Michigan (from memory): R = 1 ohm, L = 0.5 H, K = 0.01, J = 0.01 kg m2, b = 0.1 N m s, for which the speed at 1 V
/// settles at 0.1 rad/s (0.0999) with poles at -2.003 and -9.997 1/s.
/// </summary>
public class DcMotorTests
{
    private static DcMotor Small(Action<DcMotor>? with = null)
    {
        var motor = new DcMotor("M1", "a", "0", 30, 15e-3, 14e-3, 2e-7);
        with?.Invoke(motor);
        return motor;
    }

    private static TransientResult Run(DcMotor motor, double volts, double stop, double accuracy = 1e-5) => Run(motor, new DcWaveform(volts), stop, accuracy);

    private static TransientResult Run(DcMotor motor, SourceWaveform volts, double stop, double accuracy = 1e-5)
    {
        var circuit = Bench.Circuit(new VoltageSource("V1", "a", "0", volts), motor);
        return Bench.Run(
            circuit,
            new TransientOptions { Stop = stop, Accuracy = accuracy, UseInitialConditions = true },
            Probe.State("M1", "speed"), Probe.Current("M1"), Probe.State("M1", "position"), Probe.State("M1", "at-rest"), Probe.State("M1", "at-stop"), Probe.State("M1", "torque"));
    }

    [Fact]
    public void Open_loop_step_of_the_textbook_motor()
    {
        var motor = new DcMotor("M1", "a", "0", 1, 0.5, 0.01, 0.01) { Drag = 0.1, Temperature = 293.15 };
        var run = Run(motor, 1, 3);

        // Step of two real poles, w = w0 (1 - (p2 exp(p1 t) - p1 exp(p2 t)) / (p2 - p1)).
        foreach (var t in new[] { 0.1, 0.5, 1, 2, 3 })
        {
            const double p1 = -2.0025, p2 = -9.9975, final = 0.01 / (0.1 * 1 + 0.01 * 0.01);
            Assert.Equal(final * (1 - (p2 * Math.Exp(p1 * t) - p1 * Math.Exp(p2 * t)) / (p2 - p1)), run.At(t), 5e-6);
        }

        Assert.Equal(0.0999, run.At(3), 5e-4);
    }

    // Without drag the no-load speed is V/K and the stall current V/R; with an inductance that is out of the way the speed gets to 63.2 % of it after J R / K^2, the
    // mechanical time constant of makers' motor guides (closed form).
    [Fact]
    public void No_load_speed_stall_current_and_mechanical_time_constant()
    {
        var run = Run(Small(m => (m.Inductance, m.Temperature) = (1e-6, 293.15)), 12, 0.5);
        Bench.Near(12 / 14e-3, run.At(0.499), 1e-4);
        const double tau = 2e-7 * 30 / (14e-3 * 14e-3);
        Bench.Near((1 - Math.Exp(-1)) * 12 / 14e-3, run.At(tau), 1e-3);

        var held = Run(Small(m => (m.Friction, m.Temperature) = (1, 293.15)), 12, 0.05);
        Bench.Near(12.0 / 30, held.At(0.049, 1), 1e-4);
        Assert.All(held.Values(0), speed => Assert.Equal(0, speed, 1e-12));

        // Copper, 0.00393 1/K at 20 degC (IEC 60028): 25.5 % more ohms at 85 degC.
        var warm = Run(Small(m => (m.Friction, m.Temperature) = (1, 273.15 + 85)), 12, 0.05);
        Bench.Near(12.0 / 30 / 1.2555, warm.At(0.049, 1), 1e-4);
    }

    // Speed falls on a straight line with the torque: at a constant load T, w = (V - R T/K) / K.
    [Fact]
    public void Friction_lowers_the_speed_along_the_speed_torque_line()
    {
        var run = Run(Small(m => (m.Friction, m.Temperature) = (1e-3, 293.15)), 12, 0.5);
        Bench.Near((12 - 30 * 1e-3 / 14e-3) / 14e-3, run.At(0.499), 1e-4);
        Bench.Near(1e-3 / 14e-3, run.At(0.499, 1), 1e-3);
    }

    // Coulomb friction alone brings an open motor to rest after J w0 / T, on a straight line, having turned J w0^2 / 2T; there it stays.
    [Fact]
    public void Coulomb_friction_ends_in_rest_at_the_instant_of_the_closed_form()
    {
        var motor = Small(m => (m.Friction, m.InitialSpeed, m.ResistanceAt20) = (1e-3, 500, 1e9));
        var run = Run(motor, 0, 0.3);
        Bench.Near(250, run.At(0.05), 1e-4);
        Bench.Near(2e-7 * 500 * 500 / (2 * 1e-3), run.At(0.3, 2), 1e-5);
        var stopped = run.Times[Array.FindIndex(run.Values(3), r => r > 0.5)];
        Bench.Near(2e-7 * 500 / 1e-3, stopped, 1e-5);
        Assert.Equal(0, run.Values(0)[^1], 1e-6);
    }

    // A slow ramp: nothing moves until K i passes the breakaway torque; then it runs with the lesser friction.
    [Fact]
    public void Rest_ends_at_the_breakaway_torque()
    {
        var motor = Small(m => (m.Friction, m.Breakaway, m.Temperature) = (1e-3, 2e-3, 293.15));
        var run = Run(motor, new PiecewiseLinearWaveform([0, 10], [0, 10]), 10);
        var start = run.Times[Array.FindIndex(run.Values(3), r => r < 0.5)];
        Bench.Near(2e-3 / 14e-3 * 30, start, 1e-3);
        Bench.Near(1e-3 / 14e-3, run.At(9.9, 1), 0.02);
    }

    // Both ways alike, and through zero without a pause when driven hard enough.
    [Fact]
    public void Reversal_is_symmetric()
    {
        var motor = Small(m => (m.Friction, m.Temperature) = (3e-4, 293.15));
        var run = Run(motor, new PulseWaveform { Low = 12, High = -12, Delay = 0.5, Width = 10, Rise = 1e-6, Fall = 1e-6 }, 1);
        Bench.Near(run.At(0.499), -run.At(0.999), 1e-4);
        Assert.DoesNotContain(run.Values(3).Skip(run.Times.Count(t => t < 1e-3)), rest => rest > 0.5);

        // The worst of a reversal: twice the supply across the winding, nearly.
        Assert.InRange(run.Values(1).Min(), -2 * 12.0 / 30, -1.6 * 12.0 / 30);
    }

    // Held at the stop the winding takes V/R, and the stop bears K V/R less the friction.
    [Fact]
    public void Stop_ends_the_way_and_bears_the_stall_torque()
    {
        var motor = Small(m => (m.Friction, m.HighStop, m.StopStiffness, m.StopDamping, m.Temperature) = (3e-4, 200, 2e-3, 1e-3, 293.15));
        var run = Run(motor, new PulseWaveform { Low = 12, High = -12, Delay = 1, Width = 10, Rise = 1e-6, Fall = 1e-6 }, 1.2);
        Bench.Near(12.0 / 30, run.At(0.99, 1), 1e-3);
        Assert.Equal(0, run.At(0.99), 1e-6);
        Assert.InRange(run.At(0.99, 2), 200 + (14e-3 * 0.4 - 3e-4) / 2e-3 - 0.2, 200 + (14e-3 * 0.4 + 3e-4) / 2e-3 + 0.2);

        // It lets go again.
        Assert.True(run.Values(2)[^1] < 150, $"{run.Values(2)[^1]}");
        Assert.Equal(0, run.Values(4)[^1]);
    }

    // A rotor that runs into an undamped stop freely turns back after half a period of the spring, pi sqrt(J/k), with the speed that it came with; the way into the stop
    // is w sqrt(J/k) (closed form of the oscillator).
    [Fact]
    public void Undamped_stop_gives_the_speed_back()
    {
        var motor = Small(m => (m.ResistanceAt20, m.InitialSpeed, m.HighStop, m.StopStiffness, m.StopDamping) = (1e9, 300, 30, 2e-3, 0));
        var run = Run(motor, 0, 0.2);
        var swing = Math.Sqrt(2e-7 / 2e-3);
        Bench.Near(30 + 300 * swing, run.Values(2).Max(), 1e-5);
        Assert.Equal(-300, run.At(0.19), 0.01);
        var left = run.Times[Array.FindLastIndex(run.Values(4), s => s > 0.5)];
        Bench.Near(0.1 + Math.PI * swing, left, 1e-5);
    }

    // Hunt and Crossley's law, J w dw = -k x (1 + d w) dx, integrates in closed form: between arrival at v and departure at u (x = 0 both times)
    // d v - ln(1 + d v) = -d u - ln(1 - d u): for d v = 0.15 that is u = 0.9090 v (1 - 2/3 d v is the first term of its series).
    [Fact]
    public void Damped_stop_keeps_a_part()
    {
        var motor = Small(m => (m.ResistanceAt20, m.InitialSpeed, m.HighStop, m.StopStiffness, m.StopDamping) = (1e9, 300, 30, 2e-3, 0.15 / 300));
        Bench.Near(-300 * 0.9090, Run(motor, 0, 0.2).At(0.19), 2e-4);
    }

    // Everything that the source gives is in copper, friction, air and motion (first law): over a start with all losses on.
    [Fact]
    public void Energy_is_kept()
    {
        var motor = Small(m => (m.Friction, m.Drag, m.FanTorque, m.Temperature) = (3e-4, 1e-6, 2e-9, 293.15));
        var run = Run(motor, 12, 0.06, 1e-6);
        var (t, w, i) = (run.Times, run.Values(0), run.Values(1));
        var (given, lost) = (0.0, 0.0);
        for (var k = 1; k < t.Length; k++)
        {
            var h = t[k] - t[k - 1];
            given += h * 12 * (i[k] + i[k - 1]) / 2;
            lost += h * (Loss(k) + Loss(k - 1)) / 2;
        }

        var kept = 0.5 * 2e-7 * w[^1] * w[^1] + 0.5 * 15e-3 * i[^1] * i[^1];
        Bench.Near(given, lost + kept, 2e-4);

        double Loss(int k) => 30 * i[k] * i[k] + 3e-4 * w[k] + 1e-6 * w[k] * w[k] + 2e-9 * Math.Pow(w[k], 3);
    }

    // A fan: K i = c w^2 and V = R i + K w, a quadratic.
    [Fact]
    public void Fan_settles_where_its_torque_meets_the_square()
    {
        const double v = 12, r = 30, k = 14e-3, c = 6e-9;
        var expected = (-k * k / r + Math.Sqrt(Math.Pow(k * k / r, 2) + 4 * c * k * v / r)) / (2 * c);
        var run = Run(Small(m => (m.FanTorque, m.Temperature) = (c, 293.15)), v, 0.5);
        Bench.Near(expected, run.At(0.499), 1e-4);
        var rest = Bench.Solve(new VoltageSource("V1", "a", "0", v), Small(m => (m.FanTorque, m.Temperature) = (c, 293.15)));
        Bench.Near(expected, rest.State("M1", "speed"), 1e-9);
    }

    [Fact]
    public void Operating_point_knows_stops_and_rest()
    {
        var held = Bench.Solve(new VoltageSource("V1", "a", "0", -12), Small(m => (m.Friction, m.LowStop, m.InitialPosition, m.Temperature) = (3e-4, 0, 50, 293.15)));
        Assert.Equal(-0.4, held.Current("V1") * -1, 1e-9);
        Assert.Equal(-1, held.State("M1", "at-stop"));
        Bench.Near(-(14e-3 * 0.4 - 3e-4) / 1e-3, held.State("M1", "position"), 1e-9);

        var stuck = Bench.Solve(new VoltageSource("V1", "a", "0", 0.5), Small(m => (m.Friction, m.Temperature) = (3e-4, 293.15)));
        Assert.Equal(1, stuck.State("M1", "at-rest"));
        Assert.Equal(0, stuck.State("M1", "speed"), 1e-12);
    }

    // Small ripple dV at a frequency makes a ripple of torque K dV / |R + jwL + K^2 / (jwJ)|: back-EMF and inertia act as a capacitance J/K^2.
    [Fact]
    public void Rail_ripple_becomes_torque()
    {
        const double f = 120, omega = 2 * Math.PI * f;
        var motor = Small(m => (m.InitialSpeed, m.Temperature) = (12 / 14e-3, 293.15));
        var run = Run(motor, new SineWaveform { Offset = 12, Amplitude = 0.5, Frequency = f }, 0.5, 1e-6);
        var torque = run.Values(5).Skip(run.Times.Count(t => t < 0.3)).ToArray();
        var reactance = omega * 15e-3 - 14e-3 * 14e-3 / (omega * 2e-7);
        Bench.Near(2 * 14e-3 * 0.5 / Math.Sqrt(30 * 30 + reactance * reactance), torque.Max() - torque.Min(), 2e-3);
    }

    // Two pulses a turn at 600 rpm are 20 Hz; none is lost over ten seconds.
    [Fact]
    public void Tachometer_counts_the_turns()
    {
        var circuit = Bench.Circuit(
            new VoltageSource("V1", "a", "0", 14e-3 * 20 * Math.PI),
            Small(m => m.InitialSpeed = 20 * Math.PI),
            new VoltageSource("V2", "logic", "0", 5),
            new Resistor("R1", "logic", "tacho", 10e3),
            new Tachometer("T1", "tacho", "0", "M1"));
        var run = Bench.Run(circuit, new TransientOptions { Stop = 10.001, Accuracy = 1e-3, UseInitialConditions = true }, Probe.Voltage("tacho"), Probe.State("T1", "pulse-count"));
        Assert.Equal(200, run.Values(1)[^1]);
        Assert.InRange(run.Values(0).Max(), 4.99, 5);
        Assert.InRange(run.Values(0).Min(), 0.02, 0.04);
        var falls = Enumerable.Range(1, run.Times.Length - 1).Where(k => run.Values(0)[k - 1] > 2.5 && run.Values(0)[k] < 2.5).Select(k => run.Times[k]).ToArray();
        Assert.Equal(0.05, falls[^1] - falls[^2], 1e-5);
    }

    [Fact]
    public void Derivatives_hold_against_a_stop()
    {
        var motor = Small(m => (m.HighStop, m.LowStop, m.FanTorque, m.StopStiffness) = (1, -20, 1e-8, 0.02));
        var probe = new DeviceProbe(motor, 320);
        probe.Set("M1#position", 2);
        motor.Cross(1, 1, probe.Loads.X);
        probe.Restamp();
        probe.Loads.Time = 1;
        var random = new Random(3);
        for (var point = 0; point < 100; point++)
        {
            probe.Scatter(random, -12, 12);
            probe.AssertDerivatives(2e-5, 2e-5, 1e-9, 1e-18, $"against the stop, point {point}");
        }
    }

    private static DcMotor Stalled(Action<DcMotor>? with = null) => Small(m =>
    {
        (m.Friction, m.Breakaway, m.HeatCapacity, m.ThermalResistance, m.Temperature, m.Ambient) = (1, 1, 3, 35, 293.15, 293.15);
        with?.Invoke(m);
    });

    // At the end of a stall all power leaves as heat: V^2/R(T) = (T - Ta)/Rth with R = R20 (1 + a (T - 20 degC)), a quadratic in the rise; by hand.
    [Fact]
    public void A_stalled_winding_ends_where_its_heat_leaves()
    {
        var run = Run(Stalled(), 12, 2000, 1e-4);
        const double alpha = 0.00393;
        var rise = (-1 + Math.Sqrt(1 + 4 * alpha * 12 * 12 / 30.0 * 35)) / (2 * alpha);
        Assert.Equal(12 / (30 * (1 + alpha * rise)), run.Values(1)[^1], 1e-4);
    }

    // IEC 60034-1, 8.6.2.3 (from memory): rise by the resistance method, (R2 - R1)/R1 (k + t1) + t1 - ta, with k = 235 for copper. The current is the ohmmeter.
    [Fact]
    public void The_resistance_tells_the_temperature_by_the_standard()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "a", "0", 12));
        circuit.Add(Stalled());
        var run = Transient.Run(
            new CircuitSystem(circuit), new TransientOptions { Stop = 60, Accuracy = 1e-5, UseInitialConditions = true }, [Probe.Current("M1"), Probe.Unknown("M1#temperature")]);
        for (var k = 0; k < run.Times.Length; k++)
        {
            if (run.Times[k] < 1)
            {
                continue;
            }

            var ohms = 12 / run.Values(0)[k];
            var standard = (ohms - 30) / 30 * (235 + 20);
            Assert.Equal(standard, run.Values(1)[k] - 293.15, 0.004 * standard + 0.01);
        }

        Assert.True(run.Values(1)[^1] > 293.15 + 50);
    }

    // At first the heat stays where it is made: dT/dt = V^2 / (R C).
    [Fact]
    public void A_stall_begins_adiabatically()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "a", "0", 12));
        circuit.Add(Stalled());
        var run = Transient.Run(new CircuitSystem(circuit), new TransientOptions { Stop = 0.1, Accuracy = 1e-5, UseInitialConditions = true }, [Probe.Unknown("M1#temperature")]);
        // The current takes half a millisecond to come up, and the first warmth takes a thousandth.
        Assert.Equal(0.1 * 144 / 30.0 / 3, run.Values(0)[^1] - 293.15, 2e-3);
    }
}
