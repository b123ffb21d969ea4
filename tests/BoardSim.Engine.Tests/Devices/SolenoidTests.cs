using System.Numerics;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Solenoid against phasors and field energy (Fitzgerald, Kingsley and Umans, Electric Machinery, chapter 3, from memory).</summary>
public sealed class SolenoidTests
{
    private const double Omega = 2 * Math.PI * 60;

    // Cold for good, next to no ring.
    private static Solenoid Make(double? stuck) => new("y", "a", "0", 400, 1.5, 4)
    {
        StuckAt = stuck,
        HeatCapacity = 1e9,
        Ambient = 293.15,
        RingTime = 1e-9,
    };

    private static TransientResult Run(Solenoid solenoid, SourceWaveform drive, double stop, params Probe[] probes) => Bench.Run(
        Circuit(new VoltageSource("v", "a", "0", drive), solenoid), new TransientOptions { Stop = stop, Accuracy = 1e-5, UseInitialConditions = true }, probes);

    private static SineWaveform Line => new() { Amplitude = 120 * Math.Sqrt(2), Frequency = 60, PhaseDegrees = 90 };

    /// <summary>Largest magnitude within the last cycle of a run.</summary>
    private static double Peak(TransientResult run, int probe)
    {
        var times = run.Times;
        return run.Values(probe).Where((_, k) => times[k] > times[^1] - 1 / 60.0).Max(Math.Abs);
    }

    // |Z| = sqrt(R^2 + (w L)^2): inrush with the plunger out, hold with it in.
    [Theory]
    [InlineData(0, 1.5)]
    [InlineData(1, 4)]
    public void Current_is_that_of_the_impedance(double position, double henries)
    {
        var run = Run(Make(position), Line, 0.2, Probe.Current("y"));
        Near(120 * Math.Sqrt(2) / new Complex(400, Omega * henries).Magnitude, Peak(run, 0), 1e-3);
    }

    // Force = half of i^2 times the slope of the inductance over the position (virtual work at constant current). The inductances on both sides are
    // measured by their impedance, the force by a direct current.
    [Fact]
    public void Force_is_the_slope_of_the_field_energy()
    {
        double Inductance(double position)
        {
            var ohms = 120 * Math.Sqrt(2) / Peak(Run(Make(position), Line, 0.3, Probe.Current("y")), 0);
            return Math.Sqrt(ohms * ohms - 400.0 * 400) / Omega;
        }

        var (below, above) = (Inductance(0.4), Inductance(0.6));
        var solenoid = Make(0.5);
        var run = Run(solenoid, new DcWaveform(40), 0.3, Probe.State("y", "force"), Probe.Current("y"));
        Near(0.1, run.Values(1)[^1], 1e-4);
        Near(0.5 * 0.1 * 0.1 * (above - below) / (0.2 * solenoid.Stroke), run.Values(0)[^1], 0.01);
    }

    // An alternating-current valve at rest on a direct voltage: i = V / R (Ohm), and the plunger is in, for the pull with the plunger out, i^2/2 dL/dz with
    // dL/dz = L0^2 (1/L0 - 1/L1) / stroke, is 75 N against 2.2 N of spring and pressure already. The way in is one of negative stiffness, where Newton's method alone goes back.
    [Fact]
    public void Plunger_is_in_at_rest_on_a_direct_voltage()
    {
        var solenoid = new Solenoid("y", "a", "0", 201, 0.512, 12.1)
        {
            Stroke = 0.84e-3,
            Mass = 1.1e-3,
            SpringForce = 1.88,
            SpringGain = 0.12,
            PressureForce = 0.27,
            RingShare = 0.1,
            RingTime = 11e-3,
            HeatCapacity = 450,
            ThermalResistance = 1e-6,
            Ambient = 293.15,
        };
        var solution = OperatingPoint.Solve(new CircuitSystem(Circuit(new VoltageSource("v", "a", "0", 102), solenoid)), new OperatingPointOptions());
        Near(102 / 201.0, solenoid.Current(solution.X), 1e-6);
        Near(1, solenoid.State(0, 0, solution.X), 1e-9);
    }

    // A voltage step on a winding without resistance: L = V t, F = k L^2 / 2, so m d2z/dt2 = k V^2 t^2 / 2 and z = k V^2 t^4 / (24 m). With k = (1/1.5 - 1/4) / 4 mm, 10 g
    // and 100 V the 4 mm take (24 m z / (k V^2))^(1/4) = 5.5097 ms.
    [Fact]
    public void Plunger_follows_the_force()
    {
        var solenoid = Make(null);
        (solenoid.ResistanceAt20, solenoid.SpringForce, solenoid.SpringGain, solenoid.Damping) = (1e-6, 0, 0, 0);
        var k = (1 / 1.5 - 1 / 4.0) / 4e-3;
        var expected = Math.Pow(24 * 0.01 * 4e-3 / (k * 1e4), 0.25);
        var run = Run(solenoid, new DcWaveform(100), 8e-3, Probe.State("y", "position"));
        var arrival = run.Times.Zip(run.Values(0)).First(s => s.Second >= 0.999).First;
        Near(expected * Math.Pow(0.999, 0.25), arrival, 2e-3);
    }

    // Fluxes of both pole parts as phasors: the shaded one lags by 1 / (1 + j w tau) (Roters, from memory). Force of each goes with 1 + cos, so the least
    // sum is the mean less the size of the sum of the squared phasors. Without a ring it is nothing.
    [Theory]
    [InlineData(3e-3)]
    [InlineData(1e-9)]
    public void Shading_ring_keeps_the_force_from_zero(double ringTime)
    {
        const double share = 0.4;
        var solenoid = Make(1);
        (solenoid.ResistanceAt20, solenoid.RingTime, solenoid.RingShare) = (1e-3, ringTime, share);
        var run = Run(solenoid, Line, 0.1, Probe.State("y", "force"));
        var last = run.Values(0).Where((_, k) => run.Times[k] > 0.1 - 1 / 60.0).ToArray();

        var flux = 120 * Math.Sqrt(2) / Omega;
        var shaded = flux * share / new Complex(1, Omega * ringTime);
        var bare = flux - shaded;
        var k = (1 / 1.5 - 1 / 4.0) / 4e-3;
        var mean = k / 4 * (Square(bare) / (1 - share) + Square(shaded) / share);
        var swing = k / 4 * (bare * bare / (1 - share) + shaded * shaded / share).Magnitude;
        Assert.Equal(mean - swing, last.Min(), 0.005 * mean);
        Assert.Equal(mean + swing, last.Max(), 0.005 * mean);

        static double Square(Complex c) => c.Magnitude * c.Magnitude;
    }

    // Shorted turns are the short-circuited secondary of a transformer without leakage: their resistance s R, referred to the rest by the square of the turns, lies across the
    // inductance of the rest. Z = (1-s) R + j w (1-s)^2 L || R (1-s)^2 / s.
    [Fact]
    public void Shorted_turns_load_the_winding_as_a_shorted_secondary_does()
    {
        const double s = 0.1;
        var solenoid = Make(1);
        solenoid.ShortedShare = s;
        var run = Run(solenoid, Line, 0.2, Probe.Current("y"));
        var inductance = new Complex(0, Omega * 4 * (1 - s) * (1 - s));
        var shorted = new Complex(400 * (1 - s) * (1 - s) / s, 0);
        var z = (1 - s) * 400 + inductance * shorted / (inductance + shorted);
        Near(120 * Math.Sqrt(2) / z.Magnitude, Peak(run, 0), 1e-3);
    }

    // Heat balance at rest: 40 V direct current on 400 ohm of copper, 10 K/W: dT = Rth V^2 / (R (1 + a dT)), so dT = (sqrt(1 + 4 a 40) - 1) / 2a with 40 K for the cold resistance.
    [Fact]
    public void Winding_warms_to_where_its_own_resistance_lets_it()
    {
        var solenoid = Make(0);
        const double a = 0.00393;
        var solution = Solve(Circuit(new VoltageSource("v", "a", "0", 40), solenoid));
        Near((Math.Sqrt(1 + 4 * a * 40) - 1) / (2 * a), solution.State("y", "temperature") - 293.15, 1e-5);
    }
}
