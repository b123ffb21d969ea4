using BoardSim.Blocks.Processors;
using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Motors;

/// <summary>
/// Fan with pulse drive, tachometer and speed loop.
/// <code>
///  V_rail V_ripple R_rail
///   (+)---(~)---/\/\---rail--+------------+
///                            |            |
///                          R_off      |&lt; E
///                            +--------|   Q_buffer (PNP)
///                            |        |\  C
///                         R_drive         |
///                            |         switched
///                          level          |
///                            |         R_series
///           R_base         |/             |
///  pwm -----/\/\----base---|  Q_level   motor--+------+--------+
///                     |    |\ E                |      |        |
///                 R_pulldown |               ( M1 )  === C_fan ^ D_free, C_noise
///  ground ------------+------+-----------------+------+--------+
///
///  logic --R_tacho--- tacho ---[ T1 open collector, on M1's shaft ]--- ground
///  U_speed (closed loop): counts at tacho, sets the pulses at pwm
/// </code>
/// </summary>
public sealed partial class FanDrive : Block
{
    /// <inheritdoc/>
    public override string Id => "fan-drive";

    /// <inheritdoc/>
    public override string Title => "Fan with pulse drive and tachometer";

    /// <inheritdoc/>
    public override string Summary =>
        "Pulses of a 5 V port set the speed of a 12 V fan: a transistor lifts them to the rail, another switches it, a resistor and a capacitor make a mean of them, a tachometer tells the speed and a loop keeps it. "
        + "Shows how the loop hides a fault until it runs out of duty, what a dead tachometer does to it, and how ripple of the rail becomes a tone.";

    /// <inheritdoc/>
    public override string Topology => """
         V_rail V_ripple R_rail
          (+)---(~)---/\/\---rail--+------------+
                                   |            |
                                 R_off      |<  E
                                   +--------|   Q_buffer (PNP)
                                   |        |\  C
                                R_drive         |
                                   |         switched
                                 level          |
                                   |         R_series
                  R_base         |/             |
         pwm -----/\/\----base---|  Q_level   motor--+------+--------+
                            |    |\  E               |      |        |
                        R_pulldown |               ( M1 )  === C_fan ^ D_free, C_noise
         ground ------------+------+-----------------+------+--------+

         logic --R_tacho--- tacho ---[ T1: open collector, on M1's shaft ]--- ground
         U_speed (closed loop): counts at tacho, sets the pulses at pwm
        """;

    /// <inheritdoc/>
    public override bool LineSide => false;

    /// <summary>Voltage of the bench's rail in volts.</summary>
    [Quantity("rail.voltage", "V", 1, 60, "Voltage of the rail that feeds the fan.", OnBenchOnly = true)]
    public double RailVoltage { get; set; } = 12;

    /// <summary>Source resistance of the bench's rail in ohms.</summary>
    [Quantity("rail.resistance", "ohm", 1e-3, 100, "Source resistance of the rail: supply, wiring and connectors.", OnBenchOnly = true)]
    public double RailResistance { get; set; } = 0.3;

    /// <summary>Amplitude of the rail's ripple in volts.</summary>
    [Quantity("rail.ripple", "V", 0, 30, "Amplitude of a sine on the rail.", OnBenchOnly = true)]
    public double Ripple { get; set; }

    /// <summary>Frequency of the rail's ripple in hertz.</summary>
    [Quantity("rail.ripple-frequency", "Hz", 1, 100e3, "Frequency of that sine: twice the line's behind a rectifier.", OnBenchOnly = true)]
    public double RippleFrequency { get; set; } = 120;

    /// <summary>Voltage of the bench's logic supply in volts.</summary>
    [Quantity("logic.voltage", "V", 3, 15, "Voltage of the logic supply: pull-up of the tachometer, controller, pulses.", OnBenchOnly = true)]
    public double LogicVoltage { get; set; } = 5;

    /// <summary>What sets the duty factor.</summary>
    [Choice("control", "What sets the duty factor: pulses from outside, or a controller that counts the tachometer's pulses.")]
    public SpeedControl Control { get; set; } = SpeedControl.ClosedLoop;

    /// <summary>How the pulses are computed.</summary>
    [Choice("pulses", "Pulses edge by edge, or by their mean with the loop as a continuous one: for runs over minutes and hours. Tones, ripple and the tachometer's pulses are not in the mean.")]
    public PulseDetail PulsesBy { get; set; } = PulseDetail.Edges;

    /// <summary>Duty factor of the bench's pulses.</summary>
    [Quantity("pwm.duty", "", 0, 1, "Duty factor of the bench's pulses; of use with control: open-loop.", OnBenchOnly = true)]
    public double Duty { get; set; } = 0.6;

    /// <summary>Frequency of the pulses in hertz.</summary>
    [Quantity("pwm.frequency", "Hz", 10, 100e3, "Frequency of the pulses of controller or bench.")]
    public double Frequency { get; set; } = 1000;

    /// <summary>Speed that the loop keeps, in radians per second.</summary>
    [Quantity("loop.target", "rpm", 1, 1e4, "Speed that the loop keeps.")]
    public double Target { get; set; } = 1800 * Math.PI / 30;

    /// <summary>Time between two samples of the loop, in seconds.</summary>
    [Quantity("loop.sampling", "s", 1e-3, 10, "Time in which the controller counts pulses before it sets a new duty factor; longer than a few periods of the pulses.")]
    public double Sampling { get; set; } = 0.1;

    /// <summary>Proportional gain of the loop.</summary>
    [Quantity("loop.proportional", "", 0, 10, "Change of the duty factor for a change of the speed's error by a radian per second.")]
    public double Proportional { get; set; } = 2e-3;

    /// <summary>Integral gain of the loop.</summary>
    [Quantity("loop.integral", "", 0, 100, "Change of the duty factor in a second for an error of a radian per second.")]
    public double Integral { get; set; } = 10e-3;

    /// <summary>Time without a pulse after which the controller turns the fan off, in seconds.</summary>
    [Quantity("loop.give-up", "s", 0.1, 1e5, "Time without a pulse of the tachometer after which the controller turns the fan off.")]
    public double GiveUp { get; set; } = 2;

    /// <summary>Time after which it tries again, in seconds.</summary>
    [Quantity("loop.retry", "s", 0.1, 1e5, "Time after which the controller tries again.")]
    public double Retry { get; set; } = 5;

    /// <summary>Base resistor of the level shifter in ohms.</summary>
    [Quantity("base.resistance", "ohm", 100, 1e6, "Resistor between the port and the base of the level shifter.")]
    public double BaseResistance { get; set; } = 4700;

    /// <summary>Resistor that drives the buffer's base, in ohms.</summary>
    [Quantity("drive.resistance", "ohm", 10, 1e5, "Resistor between the level shifter and the base of the buffer.")]
    public double DriveResistance { get; set; } = 1000;

    /// <summary>Current gain of the buffer.</summary>
    [Quantity("buffer.gain", "", 1, 1000, "Forward current gain of the buffer.")]
    public double BufferGain { get; set; } = 120;

    /// <summary>Series resistor in ohms.</summary>
    [Quantity("series.resistance", "ohm", 0.1, 1000, "Resistor in series with the fan.")]
    public double SeriesResistance { get; set; } = 15;

    /// <summary>Capacitor across the fan in farads.</summary>
    [Quantity("fan.capacitance", "F", 1e-9, 10e-3, "Capacitor across the fan.")]
    public double FanCapacitance { get; set; } = 100e-6;

    /// <summary>Its series resistance in ohms.</summary>
    [Quantity("fan.esr", "ohm", 1e-3, 100, "Series resistance of that capacitor.")]
    public double FanEsr { get; set; } = 0.3;

    /// <summary>Resistance of the winding at 20 degC, in ohms.</summary>
    [Quantity("motor.resistance", "ohm", 0.1, 1e4, "Resistance of the winding at 20 degC.")]
    public double MotorResistance { get; set; } = 16;

    /// <summary>Temperature of the winding in kelvin.</summary>
    [Quantity("motor.temperature", "degC", 218.15, 473.15, "Temperature of the winding.")]
    public double MotorTemperature { get; set; } = 293.15;

    /// <summary>Heat capacity of the winding in joules per kelvin; null for 8 J/K where pulses are computed by their mean, and for a winding that keeps its
    /// temperature where they are not: a run of seconds does not heat it.</summary>
    [Quantity("motor.heat-capacity", "J/K", 0.01, 1e4, "Heat capacity of the winding, whose own current then heats it from motor.temperature on. Unless set, 8 J/K in mean pulses, and a winding that keeps its temperature otherwise.")]
    public double? MotorHeatCapacity { get; set; }

    /// <summary>Thermal resistance of the winding in kelvin per watt.</summary>
    [Quantity("motor.thermal-resistance", "K/W", 0.1, 1000, "Thermal resistance from the winding to the air, which has motor.temperature; of use with motor.heat-capacity.")]
    public double MotorThermalResistance { get; set; } = 25;

    /// <summary>Inductance of the winding in henries.</summary>
    [Quantity("motor.inductance", "H", 1e-6, 10, "Inductance of the winding.")]
    public double MotorInductance { get; set; } = 8e-3;

    /// <summary>Motor constant in volt seconds.</summary>
    [Quantity("motor.constant", "Vs", 1e-4, 10, "Back-EMF at a radian per second, and torque at an ampere.")]
    public double MotorConstant { get; set; } = 35e-3;

    /// <summary>Moment of inertia of rotor and blades in kilogram square metres.</summary>
    [Quantity("motor.inertia", "kgm2", 1e-10, 1, "Moment of inertia of rotor and blades.")]
    public double Inertia { get; set; } = 15e-6;

    /// <summary>Friction of the bearing in newton metres.</summary>
    [Quantity("bearing.friction", "Nm", 0, 10, "Friction of the bearing; it takes half as much again to begin to turn.")]
    public double Friction { get; set; } = 0.6e-3;

    /// <summary>Torque of the blades at the speed of <see cref="BladeSpeed"/>, in newton metres.</summary>
    [Quantity("blades.torque", "Nm", 0, 10, "Torque that the blades take at blades.speed; it goes with the square of the speed.")]
    public double BladeTorque { get; set; } = 4.4e-3;

    /// <summary>Speed at which the blades take it, in radians per second.</summary>
    [Quantity("blades.speed", "rpm", 1, 1e5, "Speed at which the blades take blades.torque.")]
    public double BladeSpeed { get; set; } = 2600 * Math.PI / 30;

    /// <summary>Pulses of the tachometer for one turn.</summary>
    [Quantity("tacho.pulses", "", 1, 100, "Pulses of the tachometer for one turn; two for most fans.")]
    public double Pulses { get; set; } = 2;

    /// <summary>Pull-up of the tachometer in ohms.</summary>
    [Quantity("tacho.pull-up", "ohm", 100, 1e6, "Pull-up of the tachometer's open collector.")]
    public double PullUp { get; set; } = 10e3;

    /// <summary>Length of the bench's run in seconds.</summary>
    [Quantity("bench.run", "s", 0.01, 1e4, "Length of the run that the bench suggests.", OnBenchOnly = true)]
    public double RunFor { get; set; } = 3;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "rail", Node = "rail", Description = "Rail that feeds the fan." },
        new() { Name = "logic", Node = "logic", Description = "Logic supply: pull-up of the tachometer, and the controller in a closed loop." },
        new() { Name = "ground", Node = Circuit.Ground, Description = "Board ground." },
        new() { Name = "pwm", Node = "pwm", Description = "Pulses from the processor; with control: closed-loop the drive has its own, and nothing is to be wired.", IsOptional = true },
        new() { Name = "tacho", Node = "tacho", Description = "Pulses of the tachometer.", IsOptional = true },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_rail", "V_logic", "V_pwm"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = ["V_rail", "V_ripple", "R_rail", "V_logic", "V_pwm", "R_pwm"];

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        if (PulsesBy == PulseDetail.Mean && Ripple > 0)
        {
            yield return "rail.ripple is set, but with pulses: mean there is no waveform for it to show on; take pulses: edges, or leave the ripple out.";
        }

        if (Control == SpeedControl.ClosedLoop && Sampling * Frequency < 2)
        {
            yield return "loop.sampling must take two periods of pwm.frequency at least.";
        }
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        circuit.Add(new VoltageSource("V_rail", "source", Circuit.Ground, RailVoltage));
        circuit.Add(new VoltageSource("V_ripple", "rippled", "source", RippleOf(Ripple)));
        circuit.Add(new Resistor("R_rail", "rippled", "rail", RailResistance));
        circuit.Add(new VoltageSource("V_logic", "logic", Circuit.Ground, LogicVoltage));
        if (PulsesBy == PulseDetail.Mean)
        {
            AddMeanDrive(circuit);
        }
        else
        {
            AddControl(circuit);
            AddDrive(circuit);
            circuit.Add(new Resistor("R_tacho", "logic", "tacho", PullUp));
            circuit.Add(new Tachometer("T1", "tacho", Circuit.Ground, "M1") { PulsesPerTurn = Pulses });
        }

        circuit.Add(new DcMotor("M1", "motor", Circuit.Ground, MotorResistance, MotorInductance, MotorConstant, Inertia)
        {
            Temperature = MotorTemperature,
            HeatCapacity = WindingHeatCapacity,
            ThermalResistance = MotorThermalResistance,
            Ambient = MotorTemperature,
            Friction = Friction,
            Breakaway = 1.5 * Friction,
            FanTorque = BladeTorque / (BladeSpeed * BladeSpeed),
        });
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = PulsesBy == PulseDetail.Mean ? MeanPoints() : Points(),
            Currents = PulsesBy == PulseDetail.Mean ? MeanClamps() : Clamps(),
            States =
            [
                .. StatesOfTheFan().Where(s => circuit.Find(s.Part) is not null),
                .. Control == SpeedControl.ClosedLoop || PulsesBy == PulseDetail.Mean ? StatesOfTheLoop() : [],
                .. PulsesBy == PulseDetail.Mean ? ResistorHeat : [],
                .. WindingHeatCapacity is null ? [] : WindingTemperature,
            ],
            SuggestedStop = RunFor,
            StartsAtRest = true,
        };
    }

    private SourceWaveform RippleOf(double amplitude) =>
        amplitude > 0 ? new SineWaveform { Amplitude = amplitude, Frequency = RippleFrequency, PhaseDegrees = 90 } : new DcWaveform(0);

    private void AddControl(Circuit circuit)
    {
        if (Control == SpeedControl.OpenLoop)
        {
            const double edge = 100e-9;
            var width = Duty / Frequency - edge;
            circuit.Add(new VoltageSource("V_pwm", "output", Circuit.Ground, Duty is 0 or 1 || width <= edge
                ? new DcWaveform(Duty == 1 ? LogicVoltage : 0)
                : new PulseWaveform { High = LogicVoltage, Rise = edge, Fall = edge, Width = width, Period = 1 / Frequency }));
            circuit.Add(new Resistor("R_pwm", "output", "pwm", 40));
            return;
        }

        circuit.Add(new SpeedController("U_speed", "logic", Circuit.Ground, "tacho", "pwm")
        {
            Target = Target,
            PulsesPerTurn = Pulses,
            Frequency = Frequency,
            Sampling = Sampling,
            Proportional = Proportional,
            Integral = Integral,
            GiveUpAfter = GiveUp,
            RetryAfter = Retry,
        });
    }

    private void AddDrive(Circuit circuit)
    {
        circuit.Add(new Resistor("R_base", "pwm", "base", BaseResistance));
        circuit.Add(new Resistor("R_pulldown", "base", Circuit.Ground, 47e3));
        circuit.Add(new BipolarTransistor("Q_level", "level", "base", Circuit.Ground, MotorModels.LevelShifter));
        circuit.Add(new Resistor("R_drive", "level", "gate", DriveResistance));
        circuit.Add(new Resistor("R_off", "gate", "rail", 10e3));
        circuit.Add(new BipolarTransistor("Q_buffer", "switched", "gate", "rail", MotorModels.Buffer(BufferGain)));
        circuit.Add(new Resistor("R_series", "switched", "motor", SeriesResistance));
        circuit.Add(new Diode("D_free", Circuit.Ground, "motor", MotorModels.BodyDiode));

        // Against radio noise: what the winding's current finds when the buffer turns off, until the diode conducts.
        circuit.Add(new Capacitor("C_noise", "motor", Circuit.Ground, 10e-9) { SeriesResistance = 1000 });
        circuit.Add(new Capacitor("C_fan", "motor", Circuit.Ground, FanCapacitance) { SeriesResistance = FanEsr });
    }
}
