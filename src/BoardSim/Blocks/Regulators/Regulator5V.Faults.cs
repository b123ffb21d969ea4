using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.Regulators;

public sealed partial class Regulator5V
{
    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults => [.. RegulatorFaults(), .. CapacitorFaults()];

    private static IEnumerable<FaultDefinition> RegulatorFaults()
    {
        const int output = 1;
        const int ground = 2;
        yield return new(static (board, _) => PartEdits.Open(board, "U1", output))
        {
            Id = "open",
            Title = "Regulator open",
            Mechanism = "A surge or a short melted the bond wire of the output; or the pin broke where the heat sink's weight hangs on it.",
            Part = "U1",
        };
        yield return new(static (board, ohms) => PartEdits.Across(board, "U1", ohms, 0, output))
        {
            Id = "shorted-through",
            Title = "Regulator shorted through",
            Mechanism = "The pass transistor's collector and emitter have fused: the whole rail stands at the output, and at all that hangs on it.",
            Part = "U1",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 0.2, Minimum = 1e-3, Maximum = 1000, Description = "Resistance that is left from input to output." },
        };
        yield return new(static (board, amperes) => PartEdits.Change<SeriesRegulator>(board, "U1", r => r.CurrentLimit = amperes))
        {
            Id = "weak",
            Title = "Regulator weak",
            Mechanism = "Years at the edge of shutdown, or a part of a smaller package put in by a repair: the current limit lies below what the load takes.",
            Part = "U1",
            Severity = new SeverityDefinition { Unit = "A", Default = 0.12, Minimum = 1e-3, Maximum = 20, Description = "Current limit that is left." },
        };
        yield return new(static (board, _) => PartEdits.Open(board, "U1", ground))
        {
            Id = "ground-open",
            Title = "Ground lead of the regulator open",
            Mechanism = "A dry joint at the middle pin: without its ground the regulator has no reference and lets through all but its drop-out voltage.",
            Part = "U1",
        };
        yield return new(static (board, kelvinPerWatt) => PartEdits.Change<SeriesRegulator>(board, "U1", r => r.CaseToAir = kelvinPerWatt))
        {
            Id = "heat-sink-loose",
            Title = "Heat sink loose or dusty",
            Mechanism = "The clip has worked loose or the fins are caked with flour: the case sheds its heat to still air by itself.",
            Part = "U1",
            Severity = new SeverityDefinition { Unit = "K/W", Default = 150, Minimum = 0.1, Maximum = 500, Description = "Thermal resistance from the case to the air." },
        };
    }

    private IEnumerable<FaultDefinition> CapacitorFaults()
    {
        var rated = OutputCapacitance;
        yield return new((board, left) => PartEdits.Change<Capacitor>(board, "C_out", c => c.Capacitance = left * rated))
        {
            Id = "output-capacitance-lost",
            Title = "Output capacitor with little capacitance left",
            Mechanism = "A small electrolytic next to a hot regulator is the first to dry out.",
            Part = "C_out",
            Severity = new SeverityDefinition { Unit = "", Default = 0.05, Minimum = 1e-4, Maximum = 1, Description = "Share of the rated capacitance that is left." },
        };
        yield return new(static (board, ohms) => PartEdits.Change<Capacitor>(board, "C_out", c => c.SeriesResistance = ohms))
        {
            Id = "output-esr-high",
            Title = "Output capacitor with high series resistance",
            Mechanism = "Dried-out electrolyte: each load step is then seen across the series resistance until the regulator's loop has caught up.",
            Part = "C_out",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 10, Minimum = 1e-3, Maximum = 1000, Description = "Series resistance." },
        };
        yield return new(static (board, _) => PartEdits.Open(board, "C_out"))
        {
            Id = "output-capacitor-open",
            Title = "Output capacitor open",
            Mechanism = "A dry joint or a broken lead: load steps reach the processor until the regulator's loop has caught up, microseconds later.",
            Part = "C_out",
        };
        yield return new(static (board, _) => PartEdits.Open(board, "C_in"))
        {
            Id = "input-capacitor-open",
            Title = "Input capacitor open",
            Mechanism = "A cracked joint: fast currents come through the whole length of the rail's wiring, and what is fast on the rail passes the regulator.",
            Part = "C_in",
        };
    }
}
