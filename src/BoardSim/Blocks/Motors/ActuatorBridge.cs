using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Motors;

/// <summary>
/// H-bridge and the geared motor that opens and closes the cabinet's vent.
/// <code>
///  V_rail R_rail
///   (+)---/\/\---rail--+-----------------+--||---/\/\--- ground  (C_rail)
///                      |                 |
///             S_a_high / D_a_high        / S_b_high, D_b_high
///                      |                 |
///                    out-a---( M1 )----out-b     (C_motor with its resistor across M1)
///                      |                 |
///              S_a_low / D_a_low         / S_b_low, D_b_low
///                      |                 |
///                      +------sense------+
///                               |
///                            R_sense
///                               |
///                             ground
///   control-a --R_a--- in-a   ]
///   control-b --R_b--- in-b   ] U_bridge: logic, dead time, gate drive
/// </code>
/// Controls A and B: both low coast, A forward (opens), B reverse (closes), both brake.
/// </summary>
public sealed partial class ActuatorBridge : Block
{
    /// <inheritdoc/>
    public override string Id => "actuator-bridge";

    /// <inheritdoc/>
    public override string Title => "H-bridge with vent motor";

    /// <inheritdoc/>
    public override string Summary =>
        "Two lines of the processor turn a small geared motor either way and so open and close the vent. Shows back-EMF, the current at start, at reversal and against the end stop, what brakes a "
        + "motor and what lets it run out, and what a dead time is for.";

    /// <inheritdoc/>
    public override string Topology => """
         V_rail R_rail
          (+)---/\/\---rail--+-----------------+--||---/\/\--- ground  (C_rail)
                             |                 |
                    S_a_high / D_a_high        / S_b_high, D_b_high
                             |                 |
                           out-a---( M1 )----out-b     (C_motor with its resistor across M1)
                             |                 |
                     S_a_low / D_a_low         / S_b_low, D_b_low
                             |                 |
                             +------sense------+
                                      |
                                   R_sense
                                      |
                                    ground
          control-a --R_a--- in-a   ]
          control-b --R_b--- in-b   ] U_bridge: logic, dead time, gate drive

          A  B   bridge
          0  0   coast: all off
          1  0   forward: A to the rail, B to the ground
          0  1   reverse
          1  1   brake: both to the ground
        """;

    /// <inheritdoc/>
    public override bool LineSide => false;

    /// <summary>Voltage of the bench's rail in volts.</summary>
    [Quantity("rail.voltage", "V", 1, 60, "Voltage of the rail that feeds the bridge.", OnBenchOnly = true)]
    public double RailVoltage { get; set; } = 12;

    /// <summary>Source resistance of the bench's rail in ohms.</summary>
    [Quantity("rail.resistance", "ohm", 1e-3, 100, "Source resistance of the rail: supply, wiring and connectors.", OnBenchOnly = true)]
    public double RailResistance { get; set; } = 0.3;

    /// <summary>Voltage of a control that is high, in volts.</summary>
    [Quantity("control.voltage", "V", 1.9, 24, "Voltage of a control line that is high.", OnBenchOnly = true)]
    public double ControlVoltage { get; set; } = 5;

    /// <summary>When the vent is told to open, in seconds; null for never.</summary>
    [Quantity("open.at", "s", 1e-3, 1e5, "When control A goes high.", OnBenchOnly = true)]
    public double OpenAt { get; set; } = 0.1;

    /// <summary>For how long it is told to open, in seconds.</summary>
    [Quantity("open.for", "s", 1e-3, 1e5, "How long control A stays high.", OnBenchOnly = true)]
    public double OpenFor { get; set; } = 4;

    /// <summary>When the vent is told to close, in seconds.</summary>
    [Quantity("close.at", "s", 1e-3, 1e5, "When control B goes high.", OnBenchOnly = true)]
    public double CloseAt { get; set; } = 4.6;

    /// <summary>For how long it is told to close, in seconds.</summary>
    [Quantity("close.for", "s", 1e-3, 1e5, "How long control B stays high.", OnBenchOnly = true)]
    public double CloseFor { get; set; } = 4;

    /// <summary>What the controls do after a move.</summary>
    [Choice("after-move", "What the controls do after a move: all switches off, or both sides to the ground.", OnBenchOnly = true)]
    public IdleState AfterMove { get; set; } = IdleState.Brake;

    /// <summary>For how long the brake is held after a move, in seconds.</summary>
    [Quantity("brake.for", "s", 1e-3, 1e5, "How long both controls stay high after a move.", OnBenchOnly = true)]
    public double BrakeFor { get; set; } = 0.2;

    /// <summary>Resistance of a switch that is on, in ohms.</summary>
    [Quantity("bridge.on-resistance", "ohm", 1e-3, 10, "Resistance of a switch that is on.")]
    public double OnResistance { get; set; } = 0.4;

    /// <summary>Delay until a switch is on, in seconds.</summary>
    [Quantity("bridge.turn-on", "s", 0, 1e-3, "Time after its command until a switch is on; longer than bridge.turn-off by the dead time.")]
    public double TurnOn { get; set; } = 2.5e-6;

    /// <summary>Delay until a switch is off, in seconds.</summary>
    [Quantity("bridge.turn-off", "s", 0, 1e-3, "Time after its command until a switch is off.")]
    public double TurnOff { get; set; } = 0.5e-6;

    /// <summary>Supply below which the bridge is off, in volts.</summary>
    [Quantity("bridge.minimum-supply", "V", 1, 40, "Rail voltage below which all switches are off.")]
    public double MinimumSupply { get; set; } = 6;

    /// <summary>Resistance in series with each control, in ohms.</summary>
    [Quantity("control.resistance", "ohm", 1, 10e3, "Resistor in series with each control line.")]
    public double ControlResistance { get; set; } = 1000;

    /// <summary>Shunt between the bridge and the ground, in ohms.</summary>
    [Quantity("sense.resistance", "ohm", 1e-3, 10, "Shunt between the bridge and the ground.")]
    public double SenseResistance { get; set; } = 0.47;

    /// <summary>Capacitor next to the bridge, in farads.</summary>
    [Quantity("rail.capacitance", "F", 1e-9, 10e-3, "Capacitor of the rail next to the bridge.")]
    public double RailCapacitance { get; set; } = 47e-6;

    /// <summary>Its series resistance in ohms.</summary>
    [Quantity("rail.esr", "ohm", 1e-3, 100, "Series resistance of that capacitor.")]
    public double RailEsr { get; set; } = 0.3;

    /// <summary>Resistance of winding and brushes at 20 degC, in ohms.</summary>
    [Quantity("motor.resistance", "ohm", 0.1, 1e4, "Resistance of winding and brushes at 20 degC.")]
    public double MotorResistance { get; set; } = 30;

    /// <summary>Temperature of the winding at the start and of the air about the motor, in kelvin.</summary>
    [Quantity("motor.temperature", "degC", 218.15, 473.15, "Temperature of the air about the motor, and of the winding at the start; the winding's own current heats it from there.")]
    public double MotorTemperature { get; set; } = 293.15;

    /// <summary>Heat capacity of the winding in joules per kelvin.</summary>
    [Quantity("motor.heat-capacity", "J/K", 0.01, 1e4, "Heat capacity of the winding: 0.39 J/K for a gram of copper.")]
    public double MotorHeatCapacity { get; set; } = 3;

    /// <summary>Thermal resistance of the winding in kelvin per watt.</summary>
    [Quantity("motor.thermal-resistance", "K/W", 0.1, 1000, "Thermal resistance from the winding to the air.")]
    public double MotorThermalResistance { get; set; } = 35;

    /// <summary>Inductance of the winding in henries.</summary>
    [Quantity("motor.inductance", "H", 1e-6, 10, "Inductance of the winding.")]
    public double MotorInductance { get; set; } = 15e-3;

    /// <summary>Motor constant in volt seconds.</summary>
    [Quantity("motor.constant", "Vs", 1e-4, 10, "Back-EMF at a radian per second, and torque at an ampere.")]
    public double MotorConstant { get; set; } = 14e-3;

    /// <summary>Moment of inertia of rotor and gears, in kilogram square metres.</summary>
    [Quantity("motor.inertia", "kgm2", 1e-10, 1, "Moment of inertia of rotor and gears, at the rotor.")]
    public double Inertia { get; set; } = 2e-7;

    /// <summary>Friction of motor, gears and vent at the rotor, in newton metres.</summary>
    [Quantity("motor.friction", "Nm", 0, 10, "Friction of motor, gears and vent, at the rotor.")]
    public double Friction { get; set; } = 0.3e-3;

    /// <summary>Torque that it takes to begin to move, in newton metres.</summary>
    [Quantity("motor.breakaway", "Nm", 0, 10, "Torque at the rotor that it takes to begin to move; not below motor.friction.")]
    public double Breakaway { get; set; } = 0.5e-3;

    /// <summary>Turns of the rotor for one of the vent's shaft.</summary>
    [Quantity("gear.ratio", "", 1, 1e5, "Turns of the rotor for one of the vent's shaft.")]
    public double Gear { get; set; } = 1500;

    /// <summary>Way between the stops in degrees.</summary>
    [Quantity("vent.travel", "deg", 1, 360, "Way of the vent between its stops, closed to open.")]
    public double Travel { get; set; } = 90;

    /// <summary>Position at the start in degrees.</summary>
    [Quantity("vent.start", "deg", 0, 360, "Position of the vent at the start; 0 deg is closed.")]
    public double Start { get; set; }

    /// <summary>Stiffness of the stops with the gears before them, at the rotor, in newton metres (per radian).</summary>
    [Quantity("stop.stiffness", "Nm", 1e-7, 100, "Torque at the rotor that winds gears and stop up by one radian of the rotor.")]
    public double StopStiffness { get; set; } = 1e-3;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "rail", Node = "rail", Description = "Rail that feeds the bridge." },
        new() { Name = "ground", Node = Circuit.Ground, Description = "Board ground." },
        new() { Name = "control-a", Node = "control-a", Description = "From the processor: high alone opens the vent." },
        new() { Name = "control-b", Node = "control-b", Description = "From the processor: high alone closes the vent." },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_rail", "V_a", "V_b"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = ["V_rail", "R_rail", "V_a", "V_b"];

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        if (Breakaway < Friction)
        {
            yield return "motor.breakaway must not be below motor.friction.";
        }

        if (Start > Travel)
        {
            yield return "vent.start must lie within vent.travel.";
        }

        var brake = AfterMove == IdleState.Brake ? BrakeFor : 0;
        if (CloseAt < OpenAt + OpenFor + brake && OpenAt < CloseAt + CloseFor + brake)
        {
            yield return "open and close must not overlap, the brake after a move included.";
        }
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        AddBench(circuit);
        circuit.Add(new Capacitor("C_rail", "rail", Circuit.Ground, RailCapacitance) { SeriesResistance = RailEsr });
        circuit.Add(new Resistor("R_a", "control-a", "in-a", ControlResistance));
        circuit.Add(new Resistor("R_b", "control-b", "in-b", ControlResistance));
        circuit.Add(new BridgeDriver("U_bridge", "rail", Circuit.Ground, "in-a", "in-b")
        {
            OnDelay = TurnOn,
            OffDelay = TurnOff,
            MinimumSupply = MinimumSupply,
        });
        foreach (var side in new[] { "a", "b" })
        {
            AddSide(circuit, side);
        }

        circuit.Add(new Resistor("R_sense", "sense", Circuit.Ground, SenseResistance));
        var perDegree = Gear * Math.PI / 180;
        circuit.Add(new DcMotor("M1", "out-a", "out-b", MotorResistance, MotorInductance, MotorConstant, Inertia)
        {
            Temperature = MotorTemperature,
            HeatCapacity = MotorHeatCapacity,
            ThermalResistance = MotorThermalResistance,
            Ambient = MotorTemperature,
            Friction = Friction,
            Breakaway = Breakaway,
            Gear = Gear,
            LowStop = 0,
            HighStop = Travel * perDegree,
            InitialPosition = Start * perDegree,
            StopStiffness = StopStiffness,
        });

        // Against radio noise; its resistance calms what the winding rings with it when the bridge lets go.
        circuit.Add(new Capacitor("C_motor", "out-a", "out-b", 10e-9) { SeriesResistance = 470 });
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = Points(),
            Currents = Clamps(),
            States = StatesOfTheVent(),
            SuggestedStop = Math.Max(OpenAt + OpenFor, CloseAt + CloseFor) + BrakeFor + 0.2,
            StartsAtRest = true,
        };
    }

    private void AddSide(Circuit circuit, string side)
    {
        var (high, low) = side == "a" ? (BridgeGate.AHigh, BridgeGate.ALow) : (BridgeGate.BHigh, BridgeGate.BLow);
        circuit.Add(new BridgeSwitch($"S_{side}_high", "rail", $"out-{side}", "U_bridge", high) { OnResistance = OnResistance });
        circuit.Add(new BridgeSwitch($"S_{side}_low", $"out-{side}", "sense", "U_bridge", low) { OnResistance = OnResistance });
        circuit.Add(new Diode($"D_{side}_high", $"out-{side}", "rail", MotorModels.BodyDiode));
        circuit.Add(new Diode($"D_{side}_low", "sense", $"out-{side}", MotorModels.BodyDiode));
    }

    private void AddBench(Circuit circuit)
    {
        var (opened, closed) = (OpenAt + OpenFor, CloseAt + CloseFor);
        var brake = AfterMove == IdleState.Brake ? BrakeFor : 0;
        circuit.Add(new VoltageSource("V_rail", "source", Circuit.Ground, RailVoltage));
        circuit.Add(new Resistor("R_rail", "source", "rail", RailResistance));
        circuit.Add(new VoltageSource("V_a", "control-a", Circuit.Ground, ControlLine.Of(ControlVoltage, (OpenAt, opened + brake), (closed, closed + brake))));
        circuit.Add(new VoltageSource("V_b", "control-b", Circuit.Ground, ControlLine.Of(ControlVoltage, (opened, opened + brake), (CloseAt, closed + brake))));
    }
}
