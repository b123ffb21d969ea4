using System.Numerics;
using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Regulators;

/// <summary>
/// Three-terminal series regulator with its two capacitors.
/// <code>
///  V_in  R_in  L_in            in +----+ out
///  (+)---/\/\--UUUU--rail--+------| U1 |-----+--output--+----------+
///   ripple                 |      +----+     |          |          |
///                     C_in ===      |    C_out ===     R_load   S_step
///                          |     ground      |          |       R_step
///  ground -----------------+--------+--------+----------+----------+
/// </code>
/// </summary>
public sealed partial class Regulator5V : Block
{
    /// <inheritdoc/>
    public override string Id => "regulator-5v";

    /// <inheritdoc/>
    public override string Title => "Series regulator, 5 V";

    /// <inheritdoc/>
    public override string Summary =>
        "Makes the processor's supply out of a rail that is higher and not clean. Shows how the valleys of a rail come through once they reach the drop-out "
        + "voltage, what line rejection leaves of ripple, how the output dips at a load step with and without its capacitor, and how a regulator without enough "
        + "cooling turns itself off and on. The loop is one dominant pole in front of a follower; a capacitor with next to no series resistance makes it ring.";

    /// <inheritdoc/>
    public override string Topology => """
         V_in  R_in  L_in            in +----+ out
         (+)---/\/\--UUUU--rail--+------| U1 |-----+--output--+----------+
          ripple                 |      +----+     |          |          |
                            C_in ===      |    C_out ===     R_load   S_step
                                 |     ground      |          |       R_step
         ground -----------------+--------+--------+----------+----------+
        """;

    /// <inheritdoc/>
    public override bool LineSide => false;

    /// <summary>Mean voltage of the bench's source, in volts.</summary>
    [Quantity("input.voltage", "V", 0.1, 60, "Mean voltage of the source that feeds the rail.", OnBenchOnly = true)]
    public double InputVoltage { get; set; } = 9;

    /// <summary>Ripple of the bench's source, in volts from peak to peak.</summary>
    [Quantity("input.ripple", "V", 0, 60, "Sinusoidal ripple of the source, from peak to peak.", OnBenchOnly = true)]
    public double InputRipple { get; set; } = 1;

    /// <summary>Frequency of the ripple in hertz.</summary>
    [Quantity("input.ripple-frequency", "Hz", 1, 1e6, "Frequency of the source's ripple; twice the line's behind a rectifier.", OnBenchOnly = true)]
    public double RippleFrequency { get; set; } = 120;

    /// <summary>Resistance of the bench's source, in ohms.</summary>
    [Quantity("input.resistance", "ohm", 1e-3, 1000, "Resistance of the source.", OnBenchOnly = true)]
    public double InputResistance { get; set; } = 0.2;

    /// <summary>Inductance between the bench's source and the rail, in henries.</summary>
    [Quantity("input.inductance", "H", 1e-9, 1e-3, "Inductance of the wiring between source and rail.", OnBenchOnly = true)]
    public double InputInductance { get; set; } = 2e-6;

    /// <summary>Output voltage in volts at 25 degC without load.</summary>
    [Quantity("regulator.voltage", "V", 1.2, 24, "Output voltage at 25 degC without load; 4.8 to 5.2 V for a 5 V part.")]
    public double Voltage { get; set; } = 5;

    /// <summary>Drop-out voltage at 1 A, in volts.</summary>
    [Quantity("regulator.drop-out", "V", 0.02, 5, "Drop-out voltage at 1 A; 2 V for an old bipolar part, half a volt for a low-drop one.")]
    public double DropOut { get; set; } = 2;

    /// <summary>Drop-out voltage without load, in volts.</summary>
    [Quantity("regulator.drop-out-unloaded", "V", 0.01, 4, "Drop-out voltage without load; it grows from there on a straight line with the current.")]
    public double DropOutUnloaded { get; set; } = 1.3;

    /// <summary>Line rejection at low frequencies, in decibels.</summary>
    [Quantity("regulator.line-rejection", "dB", 20, 120, "Line rejection at low frequencies; 68 dB guaranteed and 80 dB typical for a 1 A bipolar part at 120 Hz.")]
    public double LineRejection { get; set; } = 80;

    /// <summary>Frequency in hertz beyond which the rejection falls.</summary>
    [Quantity("regulator.pole", "Hz", 10, 1e6, "Frequency beyond which line rejection falls and output resistance rises by a decade per decade.")]
    public double Pole { get; set; } = 5e3;

    /// <summary>Output resistance at low frequencies, in ohms.</summary>
    [Quantity("regulator.output-resistance", "ohm", 1e-4, 0.5, "Output resistance at low frequencies; some milliohms.")]
    public double OutputResistance { get; set; } = 8e-3;

    /// <summary>Output resistance far above the pole, in ohms.</summary>
    [Quantity("regulator.follower-resistance", "ohm", 0.01, 50, "Output resistance of the pass transistor by itself, which is left far above the pole; larger than the output resistance.")]
    public double FollowerResistance { get; set; } = 0.8;

    /// <summary>Current that the regulator itself takes, in amperes.</summary>
    [Quantity("regulator.quiescent-current", "A", 0, 0.1, "Current that the regulator itself takes; 3 to 8 mA for a bipolar part.")]
    public double QuiescentCurrent { get; set; } = 5e-3;

    /// <summary>Current limit in amperes.</summary>
    [Quantity("regulator.current-limit", "A", 1e-3, 20, "Current limit with little voltage across the regulator.")]
    public double CurrentLimit { get; set; } = 2.2;

    /// <summary>Decrease of the limit in amperes per volt across the regulator, above ten volts.</summary>
    [Quantity("regulator.foldback", "S", 0, 5, "Amperes that the current limit folds back by per volt across the regulator above 10 V, to keep the pass transistor alive; 0 for none.")]
    public double Foldback { get; set; } = 0.08;

    /// <summary>Thermal resistance from the junction to the case, in kelvin per watt.</summary>
    [Quantity("thermal.junction-to-case", "K/W", 0.1, 200, "Thermal resistance from the junction to the case; 3 to 5 K/W for a tab package.")]
    public double JunctionToCase { get; set; } = 5;

    /// <summary>Thermal resistance from the case to the air, in kelvin per watt.</summary>
    [Quantity("thermal.case-to-air", "K/W", 0.1, 500, "Thermal resistance from the case to the air: 60 K/W for a tab package that stands free, 10 to 20 K/W with a small heat sink.")]
    public double CaseToAir { get; set; } = 60;

    /// <summary>Heat capacity of the junction, in joules per kelvin.</summary>
    [Quantity("thermal.junction-capacity", "J/K", 1e-4, 10, "Heat capacity of the chip and the frame below it; with the resistance to the case it makes a time constant of a quarter of a second.")]
    public double JunctionCapacity { get; set; } = 0.05;

    /// <summary>Heat capacity of case and heat sink, in joules per kelvin.</summary>
    [Quantity("thermal.case-capacity", "J/K", 1e-3, 1000, "Heat capacity of case and heat sink; a tab package has about 1.2 J/K.")]
    public double CaseCapacity { get; set; } = 1.2;

    /// <summary>Temperature of the junction at which the regulator turns itself off, in kelvin.</summary>
    [Quantity("thermal.shutdown", "degC", 323.15, 523.15, "Temperature of the junction at which the regulator turns itself off; 150 to 175 degC.")]
    public double Shutdown { get; set; } = 438.15;

    /// <summary>By how much it has to cool to turn on again, in kelvin.</summary>
    [Quantity("thermal.hysteresis", "K", 0.5, 100, "By how much the junction has to cool until the regulator turns on again.")]
    public double Hysteresis { get; set; } = 20;

    /// <summary>Temperature of the air around the board, in kelvin.</summary>
    [Quantity("ambient", "degC", 233.15, 378.15, "Temperature of the air around the board.")]
    public double Ambient { get; set; } = 298.15;

    /// <summary>Input capacitance in farads.</summary>
    [Quantity("input.capacitance", "F", 1e-9, 10e-3, "Capacitor from the rail to ground, next to the regulator.")]
    public double InputCapacitance { get; set; } = 330e-9;

    /// <summary>Series resistance of the input capacitor, in ohms.</summary>
    [Quantity("input.esr", "ohm", 1e-4, 100, "Series resistance of the input capacitor.")]
    public double InputEsr { get; set; } = 0.02;

    /// <summary>Output capacitance in farads.</summary>
    [Quantity("output.capacitance", "F", 1e-9, 10e-3, "Capacitor from the output to ground.")]
    public double OutputCapacitance { get; set; } = 47e-6;

    /// <summary>Series resistance of the output capacitor, in ohms.</summary>
    [Quantity("output.esr", "ohm", 1e-4, 100, "Series resistance of the output capacitor.")]
    public double OutputEsr { get; set; } = 0.3;

    /// <summary>Resistance of the bench's load, in ohms.</summary>
    [Quantity("load.resistance", "ohm", 0.01, 1e6, "Resistance of the load.", OnBenchOnly = true)]
    public double LoadResistance { get; set; } = 25;

    /// <summary>Resistance that is added to the load, in ohms.</summary>
    [Quantity("load.step-resistance", "ohm", 0.01, 1e6, "Resistance of a second load that is switched on.", OnBenchOnly = true)]
    public double StepResistance { get; set; } = 25;

    /// <summary>Instant in seconds when the second load is switched on; null for never.</summary>
    [Quantity("load.step-at", "s", 1e-6, 1e6, "When the second load is switched on; never unless set.", OnBenchOnly = true)]
    public double? StepAt { get; set; }

    /// <summary>Time in seconds that the second load stays on.</summary>
    [Quantity("load.step-for", "s", 1e-6, 1e6, "How long the second load stays on.", OnBenchOnly = true)]
    public double StepFor { get; set; } = 5e-3;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "input", Node = "rail", Description = "Rail that the regulator is fed from, at least the drop-out voltage above its output." },
        new() { Name = "output", Node = "output", Description = "Regulated supply." },
        new() { Name = "ground", Node = Circuit.Ground, Description = "Ground of rail and output." },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_in"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = ["V_in", "R_in", "L_in", "R_load", "R_step", "S_step", "V_step"];

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        if (!(DropOut > DropOutUnloaded))
        {
            yield return "regulator.drop-out must be above regulator.drop-out-unloaded.";
        }

        if (!(FollowerResistance > OutputResistance))
        {
            yield return "regulator.follower-resistance must be above regulator.output-resistance: the loop makes it smaller.";
        }

        if (InputRipple > 2 * InputVoltage)
        {
            yield return $"input.ripple is {InputRipple:G4} V from peak to peak, more than input.voltage allows: the source would go below ground.";
        }
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title, Temperature = Ambient };
        AddBench(circuit);
        circuit.Add(new SeriesRegulator("U1", "rail", "output", Circuit.Ground, Voltage)
        {
            NominalInput = 2 * Voltage,
            OutputResistance = OutputResistance,
            FollowerResistance = FollowerResistance,
            LineRejection = Math.Pow(10, LineRejection / 20),
            Pole = Pole,
            DropOutVoltage = DropOutUnloaded,
            DropOutResistance = DropOut - DropOutUnloaded,
            QuiescentCurrent = QuiescentCurrent,
            CurrentLimit = CurrentLimit,
            FoldbackSlope = Foldback,
            JunctionToCase = JunctionToCase,
            CaseToAir = CaseToAir,
            JunctionCapacity = JunctionCapacity,
            CaseCapacity = CaseCapacity,
            ShutdownTemperature = Shutdown,
            ShutdownHysteresis = Hysteresis,
        });
        // What track and chip have of their own, in series with what they lose.
        circuit.Add(new Capacitor("C_track", "rail", Circuit.Ground, 1e-9) { SeriesResistance = 10 });
        circuit.Add(new Capacitor("C_in", "rail", Circuit.Ground, InputCapacitance) { SeriesResistance = InputEsr });
        circuit.Add(new Capacitor("C_out", "output", Circuit.Ground, OutputCapacitance) { SeriesResistance = OutputEsr });
        const double settled = 20e-3;
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = Points(),
            Currents = Clamps(),
            States = StatesOfTheRegulator(),
            SuggestedStop = Math.Max(settled + 30e-3, (StepAt + 4 * StepFor) ?? 0),
            SettledFrom = settled,
            StartsAtRest = true,
        };
    }

    private void AddBench(Circuit circuit)
    {
        circuit.Add(new VoltageSource("V_in", "source", Circuit.Ground, InputRipple > 0
            ? new SineWaveform { Offset = InputVoltage, Amplitude = InputRipple / 2, Frequency = RippleFrequency }
            : new DcWaveform(InputVoltage))
        {
            // What a frequency response answers: the line rejection.
            SmallSignal = Complex.One,
        });
        circuit.Add(new Resistor("R_in", "source", "wire", InputResistance));
        circuit.Add(new Inductor("L_in", "wire", "rail", InputInductance));
        circuit.Add(new Resistor("R_load", "output", Circuit.Ground, LoadResistance));
        if (StepAt is not { } at)
        {
            return;
        }

        const double edge = 100e-9;
        circuit.Add(new VoltageSource("V_step", "step", Circuit.Ground, new PulseWaveform { High = 1, Delay = at, Rise = edge, Fall = edge, Width = StepFor }));
        circuit.Add(new VoltageSwitch("S_step", "output", "stepped", "step", Circuit.Ground, new SwitchModel
        {
            OnResistance = 1e-3,
            OffResistance = 1e9,
            Threshold = 0.5,
            Hysteresis = 0.1,
        }));
        circuit.Add(new Resistor("R_step", "stepped", Circuit.Ground, StepResistance));
    }
}
