using BoardSim.Blocks.Processors;
using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Faults;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Motors;

/// <summary>The drive with its pulses by their mean: transistors, series resistor, tachometer and program are one part.</summary>
public sealed partial class FanDrive
{
    private const string Drive = "U_speed";

    private static IReadOnlyList<StatePoint> ResistorHeat { get; } =
        [new() { Name = "resistor-heat", Part = Drive, State = "resistor-heat", Unit = "W", Description = "Heat of the series resistor: the pulses' mean square, which is more than the mean current's." }];

    private static IReadOnlyList<StatePoint> WindingTemperature { get; } =
        [new() { Name = "winding-temperature", Part = "M1", State = "temperature", Unit = "degC", Description = "Temperature of the fan's winding." }];

    private double? WindingHeatCapacity => MotorHeatCapacity ?? (PulsesBy == PulseDetail.Mean ? 8 : null);

    private void AddMeanDrive(Circuit circuit)
    {
        var level = "pwm";
        if (Control == SpeedControl.OpenLoop)
        {
            circuit.Add(new VoltageSource("V_pwm", "output", Circuit.Ground, Duty * LogicVoltage));
            circuit.Add(new Resistor("R_pwm", "output", "pwm", 40));
            circuit.Add(new Resistor("R_base", "pwm", Circuit.Ground, BaseResistance));
        }
        else
        {
            level = Circuit.Ground;
        }

        circuit.Add(new MeanFanDrive(Drive, "rail", "motor", "logic", Circuit.Ground, level, "M1")
        {
            IsOpenLoop = Control == SpeedControl.OpenLoop,
            Resistance = SeriesResistance,
            DriveResistance = DriveResistance,
            Target = Target,
            PulsesPerTurn = Pulses,
            Proportional = Proportional,
            Integral = Integral,
            GiveUpAfter = GiveUp,
            RetryAfter = Retry,
        });
        circuit.Add(new Diode("D_free", Circuit.Ground, "motor", MotorModels.BodyDiode));
        circuit.Add(new Capacitor("C_fan", "motor", Circuit.Ground, FanCapacitance) { SeriesResistance = FanEsr });
    }

    private static List<TestPoint> MeanPoints() =>
    [
        Ground("rail", "rail", "Rail that feeds the fan."),
        Ground("logic", "logic", "Logic supply."),
        Ground("fan", "motor", "At the fan: the higher the faster."),
    ];

    private static List<CurrentPoint> MeanClamps() =>
    [
        new() { Name = "rail", Part = "R_rail", Description = "Mean current out of the rail." },
        new() { Name = "motor", Part = "M1", Description = "Current through the fan." },
    ];

    private static IEnumerable<FaultDefinition> MeanFaults()
    {
        // What the pulses look like is not in the mean, so what a lost capacitor or a rippling rail do to them is no fault here.
        foreach (var fault in DriveFaults().Concat(TachometerFaults()))
        {
            if (MeanEdit(fault.Id) is { } edit)
            {
                yield return new(edit) { Id = fault.Id, Title = fault.Title, Mechanism = fault.Mechanism, Part = Drive, Severity = fault.Severity };
            }
        }
    }

    private static Action<Board, double>? MeanEdit(string fault) => fault switch
    {
        "buffer-open" or "level-shifter-open" => static (board, _) => PartEdits.Open(board, Drive, 1),
        "buffer-shorted" => static (board, ohms) => PartEdits.Across(board, Drive, PartEdits.Get<MeanFanDrive>(board, Drive).Resistance + ohms),
        "resistor-drifted" => static (board, factor) => PartEdits.Change<MeanFanDrive>(board, Drive, d => d.Resistance *= factor),
        "tachometer-dead" or "pull-up-open" => static (board, _) => PartEdits.Change<MeanFanDrive>(board, Drive, d => d.HasTachometer = false),
        _ => null,
    };
}
