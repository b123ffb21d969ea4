using System.Numerics;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Two-winding motor against textbook circuits; all from memory.</summary>
public sealed class SinglePhaseMotorTests
{
    private const double Omega = 2 * Math.PI * 60;
    private const double Volts = 110;

    /// <summary>1/4 hp, 110 V, 60 Hz, four poles, reactances in ohms: 2.02, 2.79, 4.12, 2.12, 66.8 (Fitzgerald, Kingsley and Umans, Electric Machinery, 6th ed., example 9.2); start winding
    /// 7.14, 3.22 and 1.18 turns (Krause, Analysis of Electric Machinery, the motor of chapter 10).</summary>
    private static SinglePhaseMotor QuarterHorsepower() => new("m", "run", "0", "start", "0")
    {
        RunResistance = 2.02,
        RunLeakage = 2.79 / Omega,
        StartResistance = 7.14,
        StartLeakage = 3.22 / Omega,
        TurnsRatio = 1.18,
        CageResistance = 4.12,
        CageLeakage = 2.12 / Omega,
        MagnetisingInductance = 66.8 / Omega,
        PolePairs = 2,
        Inertia = 14.6e-3,
        RunHeatCapacity = 1e9,
        StartHeatCapacity = 1e9,
        Ambient = 293.15,
    };

    /// <summary>Turns at that speed whatever the torque.</summary>
    private static SinglePhaseMotor Held(double slip)
    {
        var motor = QuarterHorsepower();
        (motor.Inertia, motor.StartSpeed) = (1e6, (1 - slip) * Omega / 2);
        return motor;
    }

    private static SineWaveform Line(double degrees = 0) => new() { Amplitude = Math.Sqrt(2) * Volts, Frequency = 60, PhaseDegrees = 90 + degrees };

    /// <summary>Fourier coefficient of the line frequency over the last three cycles, RMS, and the mean.</summary>
    private static (Complex Phasor, double Mean) Analyse(TransientResult run, int probe)
    {
        const int points = 6000;
        var (times, values) = (run.Times, run.Values(probe));
        var (from, span) = (times[^1] - 0.05, 0.05);
        var (sum, mean) = (Complex.Zero, 0.0);
        for (var (k, s) = (0, 1); k < points; k++)
        {
            var t = from + span * k / points;
            while (times[s] < t)
            {
                s++;
            }

            var y = values[s - 1] + (values[s] - values[s - 1]) * (t - times[s - 1]) / (times[s] - times[s - 1]);
            sum += y * Complex.FromPolarCoordinates(1, -Omega * t);
            mean += y;
        }

        return (Math.Sqrt(2) * sum / points, mean / points);
    }

    // Fitzgerald, example 9.2, slip 0.05, start winding open: 3.59 A at a power factor of 0.620, 244 W in, 184 W turned into mechanical power (37 W of rotational and core
    // losses are left out here; they leave 147 W and 0.821 Nm at the shaft at 1710 r/min). The example rounds to three digits.
    [Fact]
    public void Runs_on_its_run_winding_as_in_the_worked_example()
    {
        var circuit = Circuit(new VoltageSource("v", "run", "0", Line()), new Resistor("open", "start", "0", 1e9), Held(0.05));
        var run = Run(circuit, new TransientOptions { Stop = 0.6, Accuracy = 1e-5, UseInitialConditions = true }, Probe.Current("m"), Probe.State("m", "torque"));
        var current = Analyse(run, 0).Phasor;
        Near(3.59, current.Magnitude, 0.01);
        Near(0.620, Math.Cos(current.Phase), 0.01);
        Near(244, Volts * current.Real, 0.01);
        var mechanical = Math.Abs(Analyse(run, 1).Mean) * 1710 * Math.PI / 30;
        Near(184, mechanical, 0.01);
        Near(147, mechanical - 37, 0.01);
    }

    // The double-revolving-field circuit in full: Z = Z1 + (Zf + Zb) / 2, torque from the difference of the air-gap powers over synchronous speed (Fitzgerald, section 9.3).
    [Theory]
    [InlineData(0.02)]
    [InlineData(0.1)]
    [InlineData(0.4)]
    public void Single_winding_agrees_with_the_revolving_fields(double slip)
    {
        var magnetising = new Complex(0, 66.8);
        Complex Field(double s) => magnetising * new Complex(4.12 / s, 2.12) / (magnetising + new Complex(4.12 / s, 2.12));
        var (forward, backward) = (Field(slip) / 2, Field(2 - slip) / 2);
        var expected = Volts / (new Complex(2.02, 2.79) + forward + backward);
        var square = expected.Magnitude * expected.Magnitude;

        var circuit = Circuit(new VoltageSource("v", "run", "0", Line()), new Resistor("open", "start", "0", 1e9), Held(slip));
        var run = Run(circuit, new TransientOptions { Stop = 0.6, Accuracy = 1e-5, UseInitialConditions = true }, Probe.Current("m"), Probe.State("m", "torque"));
        Assert.Equal(0, (Analyse(run, 0).Phasor - expected).Magnitude / expected.Magnitude, 2e-3);
        Near(square * (forward.Real - backward.Real) / (Omega / 2), Analyse(run, 1).Mean, 5e-3);
    }

    // Equal windings on two phases a quarter of a cycle apart are a polyphase motor: T = 2 |I2|^2 (R2 / s) / w (equivalent circuit of any textbook), forwards where the start winding leads.
    [Theory]
    [InlineData(0.05)]
    [InlineData(0.3)]
    [InlineData(1.0)]
    public void Balanced_two_phase_operation_is_that_of_a_polyphase_motor(double slip)
    {
        var motor = Held(slip);
        (motor.StartResistance, motor.StartLeakage, motor.TurnsRatio) = (2.02, 2.79 / Omega, 1);
        var circuit = Circuit(new VoltageSource("v", "run", "0", Line()), new VoltageSource("w", "start", "0", Line(90)), motor);
        var run = Run(circuit, new TransientOptions { Stop = 0.6, Accuracy = 1e-5, UseInitialConditions = true }, Probe.Current("m"), Probe.State("m", "torque"));

        var (rotor, magnetising) = (new Complex(4.12 / slip, 2.12), new Complex(0, 66.8));
        var stator = Volts / (new Complex(2.02, 2.79) + rotor * magnetising / (rotor + magnetising));
        var inRotor = (stator * magnetising / (rotor + magnetising)).Magnitude;
        Assert.Equal(0, (Analyse(run, 0).Phasor - stator).Magnitude / stator.Magnitude, 2e-3);
        Near(2 * inRotor * inRotor * 4.12 / slip / (Omega / 2), Analyse(run, 1).Mean, 5e-3);
    }

    // At standstill the windings do not know of each other: Z = Z1 + n^2 (Xm || Z2) each, and T = 2 n Iq Id Re(Xm || Z2) sin(angle) / w (Veinott and Martin, Fractional and Subfractional
    // Horsepower Electric Motors). With Krause's capacitor, 3 - j14.5 ohm.
    [Fact]
    public void Starting_torque_and_currents_with_a_capacitor()
    {
        var capacitor = new Capacitor("c", "run", "start", 1 / (14.5 * Omega)) { SeriesResistance = 3 };
        var locked = QuarterHorsepower();
        locked.IsLocked = true;
        var circuit = Circuit(new VoltageSource("v", "run", "0", Line()), capacitor, locked);
        var run = Run(circuit, new TransientOptions { Stop = 0.5, Accuracy = 1e-5, UseInitialConditions = true }, Probe.Current("m"), Probe.State("m", "start-current"), Probe.State("m", "torque"), Probe.State("m", "speed"));

        var (rotor, magnetising) = (new Complex(4.12, 2.12), new Complex(0, 66.8));
        var gap = rotor * magnetising / (rotor + magnetising);
        var inRun = Volts / (new Complex(2.02, 2.79) + gap);
        var inStart = Volts / (new Complex(7.14 + 3, 3.22 - 14.5) + 1.18 * 1.18 * gap);
        Assert.Equal(0, (Analyse(run, 0).Phasor - inRun).Magnitude / inRun.Magnitude, 2e-3);
        Assert.Equal(0, (Analyse(run, 1).Phasor - inStart).Magnitude / inStart.Magnitude, 2e-3);
        Near(2 * 1.18 * (inStart * Complex.Conjugate(inRun)).Imaginary * gap.Real / (Omega / 2), Analyse(run, 2).Mean, 5e-3);
        Assert.Equal(0, run.Values(3)[^1]);
    }

    // Fitzgerald, example 9.1: locked-rotor impedances of 4.5 + j3.7 ohm (main) and 9.5 + j3.5 ohm (auxiliary); 177 uF put the currents in quadrature. With next to no magnetising current a
    // standing motor has just the sums of stator and cage.
    [Fact]
    public void Start_capacitor_of_the_worked_example_makes_quadrature()
    {
        var motor = QuarterHorsepower();
        (motor.RunResistance, motor.RunLeakage, motor.CageResistance, motor.CageLeakage) = (2, 2.7 / Omega, 2.5, 1 / Omega);
        (motor.StartResistance, motor.StartLeakage, motor.TurnsRatio, motor.MagnetisingInductance, motor.IsLocked) = (7, 2.5 / Omega, 1, 1000, true);
        var circuit = Circuit(new VoltageSource("v", "run", "0", Line()), new Capacitor("c", "run", "start", 177e-6), motor);
        var run = Run(circuit, new TransientOptions { Stop = 0.5, Accuracy = 1e-5, UseInitialConditions = true }, Probe.Current("m"), Probe.State("m", "start-current"));
        var angle = (Analyse(run, 1).Phasor / Analyse(run, 0).Phasor).Phase * 180 / Math.PI;
        Assert.Equal(90, angle, 0.5);
    }

    // Common practice, no source: one winding alone gives no starting torque, but keeps turning what has been given a push; the start winding turned round reverses the motor.
    [Theory]
    [InlineData(0, 0, 0)]
    [InlineData(60, 0, 1)]
    [InlineData(-60, 0, -1)]
    [InlineData(0, 1.18, 1)]
    [InlineData(0, -1.18, -1)]
    public void Direction_is_that_of_the_push_or_of_the_start_winding(double push, double turns, double direction)
    {
        var motor = QuarterHorsepower();
        (motor.StartSpeed, motor.ConstantTorque, motor.Inertia) = (push, 0.05, 2e-3);
        Device path = turns == 0 ? new Resistor("open", "run", "start", 1e9) : new Capacitor("c", "run", "start", 1 / (14.5 * Omega)) { SeriesResistance = 3 };
        motor.TurnsRatio = turns == 0 ? 1.18 : turns;
        var run = Run(Circuit(new VoltageSource("v", "run", "0", Line()), path, motor), new TransientOptions { Stop = 0.8, UseInitialConditions = true }, Probe.State("m", "speed"), Probe.State("m", "direction"));
        Assert.Equal(direction, run.Values(1)[^1]);

        // Within a tenth of the synchronous 188.5 rad/s, or standing.
        Assert.InRange(direction * run.Values(0)[^1], direction == 0 ? -0.01 : 170, direction == 0 ? 0.01 : 188.5);
    }

    // I^2 R into C for a locked rotor before any heat has left: dT = I^2 R t / C; copper gains 0.39 % per kelvin, which half of the rise accounts for to first order.
    [Fact]
    public void A_locked_winding_warms_by_its_own_loss()
    {
        var motor = QuarterHorsepower();
        (motor.IsLocked, motor.RunHeatCapacity) = (true, 200);
        var run = Run(Circuit(new VoltageSource("v", "run", "0", Line()), new Resistor("open", "start", "0", 1e9), motor), new TransientOptions { Stop = 2, UseInitialConditions = true }, Probe.State("m", "run-temperature"));
        var watts = Math.Pow(14.17, 2) * 2.02;
        Near(watts * 2 / 200, run.Values(0)[^1] - 293.15, 0.02);
    }
}
