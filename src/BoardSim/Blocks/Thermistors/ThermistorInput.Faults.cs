using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.Thermistors;

public sealed partial class ThermistorInput
{
    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults => [.. SensorFaults(), .. WiringFaults(), WrongCurve()];

    private static IEnumerable<FaultDefinition> SensorFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "RT1"))
        {
            Id = "sensor-open",
            Title = "Sensor open",
            Mechanism = "A wire broke where the cable flexes, or the plug is not in; moisture in the sensor's head corrodes a lead through.",
            Part = "RT1",
        };
        yield return new(static (board, _) => PartEdits.Short(board, "RT1", 0.5))
        {
            Id = "sensor-shorted",
            Title = "Sensor shorted",
            Mechanism = "The cable was pinched until its conductors touch, or water stands in the sensor's head.",
            Part = "RT1",
        };
        yield return new(static (board, factor) => PartEdits.Change<Thermistor>(board, "RT1", t => t.Curve = new DriftedCurve(t.Curve, factor)))
        {
            Id = "sensor-drifted",
            Title = "Sensor's resistance drifted",
            Mechanism = "Heat cycles and moisture grow cracks in the ceramic and its metallisation: the resistance rises at every temperature alike.",
            Part = "RT1",
            Severity = new SeverityDefinition { Unit = "", Default = 1.3, Minimum = 0.1, Maximum = 10, Description = "Resistance relative to the rated one, at every temperature." },
        };
        yield return new(static (board, shift) => PartEdits.Change<Thermistor>(board, "RT1", t => t.Curve = new DriftedCurve(t.Curve, 1, shift)))
        {
            Id = "sensor-beta-shifted",
            Title = "Sensor of another beta",
            Mechanism = "A replacement with the right value at 25 degC but of another material: right at room temperature, wrong away from it.",
            Part = "RT1",
            Severity = new SeverityDefinition { Unit = "K", Default = -500, Minimum = -2000, Maximum = 2000, Description = "Beta of the part that is in less the rated one." },
        };
    }

    private static IEnumerable<FaultDefinition> WiringFaults()
    {
        yield return new(static (board, ohms) => PartEdits.Change<Resistor>(board, "R_leak", r => r.Resistance = ohms))
        {
            Id = "connector-damp",
            Title = "Damp connector",
            Mechanism = "Steam condenses in the plug, and with flour dust or salts the film conducts: a resistance in parallel with the sensor.",
            Part = "R_leak",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 20e3, Minimum = 100, Maximum = 1e9, Description = "Resistance of the film between the contacts." },
        };
        yield return new(static (board, ohms) => PartEdits.Change<Resistor>(board, "R_contact", r => r.Resistance = ohms))
        {
            Id = "connector-corroded",
            Title = "Corroded connector",
            Mechanism = "Tin plating frets and oxidises under vibration and steam: a resistance in series with the sensor.",
            Part = "R_contact",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 1000, Minimum = 0.001, Maximum = 10e6, Description = "Resistance of contacts and cable together." },
        };
        yield return new(static (board, factor) => PartEdits.Change<Resistor>(board, "R_divider", r => r.Resistance *= factor))
        {
            Id = "divider-drifted",
            Title = "Divider resistor drifted",
            Mechanism = "Moisture under the coating of a chip resistor, or an overload, raises its value.",
            Part = "R_divider",
            Severity = new SeverityDefinition { Unit = "", Default = 1.2, Minimum = 0.1, Maximum = 100, Description = "Resistance relative to the rated one." },
        };
    }

    private FaultDefinition WrongCurve()
    {
        // Snapshot: the fault stays what it was when it was asked for, whatever is done to the block afterwards.
        var values = (ThermistorInput)MemberwiseClone();
        var r25 = Designed.R25OfLaw();
        return new((board, beta) => board.CloneWith([.. board.Readouts.Select(r => r.Name == IndicatedName ? values.Indicated(new BetaCurve(r25, beta)) : r)]))
        {
            Id = "firmware-wrong-curve",
            Title = "Program with the table of another sensor",
            Mechanism = "A board with the program of a sister model, or a sensor of another type at the last service: the table does not fit the curve.",
            Part = "program",
            Severity = new SeverityDefinition { Unit = "K", Default = 3435, Minimum = 1000, Maximum = 6000, Description = "Beta that the program's table was made for; its value at 25 degC fits." },
        };
    }
}
