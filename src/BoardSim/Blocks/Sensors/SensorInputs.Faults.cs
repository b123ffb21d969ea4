using BoardSim.Blocks.Thermistors;
using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.Sensors;

public sealed partial class SensorInputs
{
    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults => [.. Numbers.SelectMany(ChannelFaults), .. CommonFaults()];

    private static IEnumerable<FaultDefinition> ChannelFaults(int n)
    {
        var part = $"RT{n}";
        yield return new((board, _) => PartEdits.Open(board, part))
        {
            Id = $"sensor{n}-open",
            Title = $"Sensor {n} open",
            Mechanism = "A wire broke where the cable flexes, or the plug is not in.",
            Part = part,
        };
        yield return new((board, ohms) => PartEdits.Short(board, part, ohms))
        {
            Id = $"sensor{n}-shorted",
            Title = $"Sensor {n} shorted",
            Mechanism = "The cable was pinched until its conductors touch, or water stands in the sensor's head.",
            Part = part,
            Severity = new SeverityDefinition { Unit = "ohm", Default = 0.5, Minimum = 1e-3, Maximum = 1000, Description = "What is left of the sensor's resistance." },
        };
        yield return new((board, factor) => PartEdits.Change<Thermistor>(board, part, t => t.Curve = new DriftedCurve(t.Curve, factor)))
        {
            Id = $"sensor{n}-drifted",
            Title = $"Sensor {n} drifted",
            Mechanism = "Heat cycles and moisture grow cracks in the ceramic and its metallisation: the resistance rises at every temperature alike.",
            Part = part,
            Severity = new SeverityDefinition { Unit = "", Default = 1.3, Minimum = 0.1, Maximum = 10, Description = "Resistance relative to the rated one, at every temperature." },
        };
        yield return new((board, ohms) => PartEdits.Change<Resistor>(board, $"R_leak{n}", r => r.Resistance = ohms))
        {
            Id = $"connector{n}-damp",
            Title = $"Connector {n} damp",
            Mechanism = "Steam condenses in the plug, and with flour dust or salts the film conducts: a resistance in parallel with the sensor.",
            Part = $"R_leak{n}",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 20e3, Minimum = 100, Maximum = 1e9, Description = "Resistance of the film between the contacts." },
        };
        yield return new((board, ohms) => PartEdits.Change<Resistor>(board, $"R_contact{n}", r => r.Resistance = ohms))
        {
            Id = $"connector{n}-corroded",
            Title = $"Connector {n} corroded",
            Mechanism = "Tin plating frets and oxidises under vibration and steam: a resistance in series with the sensor.",
            Part = $"R_contact{n}",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 1000, Minimum = 1e-3, Maximum = 10e6, Description = "Resistance of contacts and cable together." },
        };
    }

    private static IEnumerable<FaultDefinition> CommonFaults()
    {
        yield return new(static (board, ohms) => PartEdits.Change<Resistor>(board, "R_common", r => r.Resistance = ohms))
        {
            Id = "common-resistance-high",
            Title = "Common supply through a bad joint",
            Mechanism = "A dry joint of the common resistor or ferrite: all sensors pull at it together, and each shows in the others.",
            Part = "R_common",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 1000, Minimum = 1e-3, Maximum = 10e6, Description = "Resistance between the supply and the dividers." },
        };
        yield return new(static (board, ohms) => PartEdits.Across(board, "C_common", ohms))
        {
            Id = "common-capacitor-leaky",
            Title = "Capacitor of the common supply leaky",
            Mechanism = "A cracked ceramic capacitor conducts from plate to plate: the common supply is drawn down for all channels.",
            Part = "C_common",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 100, Minimum = 1e-2, Maximum = 1e9, Description = "Leakage resistance across the capacitor." },
        };
        yield return new(static (board, error) => PartEdits.Change<AnalogInputs>(board, "U1", u => u.ReferenceError = (1 + u.ReferenceError) * (1 + error) - 1))
        {
            Id = "reference-off",
            Title = "Converter's reference off",
            Mechanism = "A pin of the reference that was hit by a discharge, or a reference of another grade: all codes are off by the same share, and so all temperatures, each by its own amount.",
            Part = "U1",
            Severity = new SeverityDefinition { Unit = "%", Default = 0.03, Minimum = -0.5, Maximum = 1, Description = "By how much the reference is above its due value." },
        };
    }
}
