using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Converters;
using BoardSim.Faults;

namespace BoardSim.Blocks.Converters;

public sealed partial class FlybackSupply
{
    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults =>
        [.. CapacitorFaults(), .. AgeingFaults(), .. LoopFaults(), .. SupplyFaults(), .. Detail == ConverterDetail.Switching ? SwitchingFaults() : [], Sense(), Overload()];

    private static IEnumerable<FaultDefinition> CapacitorFaults()
    {
        yield return new(static (board, ohms) =>
        {
            PartEdits.Change<Capacitor>(board, "C_out1", c => c.SeriesResistance = ohms);
            PartEdits.Change<Capacitor>(board, "C_out2", c => c.SeriesResistance = ohms);
        })
        {
            Id = "output-esr-high",
            Title = "Output capacitors with high series resistance",
            Mechanism = "The electrolyte has dried out: ripple current and a hot place age the capacitors next to the rectifier first.",
            Part = "C_out1",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 0.6, Minimum = 1e-3, Maximum = 1e3, Description = "Series resistance of each output capacitor." },
        };
        yield return new(static (board, share) =>
        {
            PartEdits.Change<Capacitor>(board, "C_out1", c => c.Capacitance *= share);
            PartEdits.Change<Capacitor>(board, "C_out2", c => c.Capacitance *= share);
        })
        {
            Id = "output-capacitance-lost",
            Title = "Output capacitors have lost capacitance",
            Mechanism = "The electrolyte has dried out and no longer reaches all of the foil.",
            Part = "C_out1",
            Severity = Share(0.3, "Capacitance that is left, as a share of the rated one."),
        };
        yield return new(static (board, ohms) => PartEdits.Change<Capacitor>(board, "C_vcc", c => c.SeriesResistance = ohms))
        {
            Id = "vcc-esr-high",
            Title = "Capacitor of the controller's supply with high series resistance",
            Mechanism = "A small electrolytic capacitor beside the hot clamp dries out first of all.",
            Part = "C_vcc",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 400, Minimum = 1e-3, Maximum = 1e5, Description = "Its series resistance." },
        };
        yield return new(static (board, share) => PartEdits.Change<Capacitor>(board, "C_vcc", c => c.Capacitance *= share))
        {
            Id = "vcc-capacitance-lost",
            Title = "Capacitor of the controller's supply has lost capacitance",
            Mechanism = "It dries out until it no longer carries the controller through the start: the supply ticks.",
            Part = "C_vcc",
            Severity = Share(0.1, "Capacitance that is left, as a share of the rated one."),
        };
        yield return new(static (board, _) => PartEdits.Open(board, "L_post"))
        {
            Id = "filter-open",
            Title = "Choke of the post filter open",
            Mechanism = "A cracked joint of a part that is heavy and gets shaken.",
            Part = "L_post",
        };
    }

    private IEnumerable<FaultDefinition> AgeingFaults()
    {
        yield return Electrolytic.AgedInService(
            "Output capacitors after years in service", ["C_out1", "C_out2"], OutputRating, Frequency, OutputRippleCurrent ?? OutputRippleEstimate(), "output-aged-in-service");
        yield return Electrolytic.AgedInService(
            "Capacitor of the controller's supply after years in service", ["C_vcc"], VccRating, Frequency, VccRippleCurrent ?? VccRippleEstimate(), "vcc-aged-in-service");
    }

    private static IEnumerable<FaultDefinition> LoopFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "U_opto"))
        {
            Id = "opto-led-open",
            Title = "LED of the opto-coupler open",
            Mechanism = "The bond wire of the LED has gone, or its resistor has: the controller is told of no voltage and gives all it can.",
            Part = "U_opto",
        };
        yield return new(static (board, _) => PartEdits.Open(board, "U_opto", 2))
        {
            Id = "opto-transistor-open",
            Title = "Transistor of the opto-coupler open",
            Mechanism = "A broken bond or a dry joint on the primary side: the same as an open LED.",
            Part = "U_opto",
        };
        yield return new(static (board, ohms) => PartEdits.Across(board, "U_opto", ohms, 2, 3))
        {
            Id = "opto-transistor-shorted",
            Title = "Transistor of the opto-coupler shorted",
            Mechanism = "A surge across the barrier has fused it: the controller is told that the rail is high and gives nothing.",
            Part = "U_opto",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 10, Minimum = 0.01, Maximum = 1e6, Description = "What is left between collector and emitter." },
        };
        yield return new(static (board, ratio) => PartEdits.Change<OptoCoupler>(board, "U_opto", o => o.TransferRatio = ratio))
        {
            Id = "opto-transfer-low",
            Title = "Current transfer ratio of the opto-coupler low",
            Mechanism = "The LED ages with current and heat: its light fades over the years.",
            Part = "U_opto",
            Severity = new SeverityDefinition { Unit = "", Default = 0.5, Minimum = 0.001, Maximum = 20, Description = "Current transfer ratio at 5 mA that is left." },
        };
        yield return new(static (board, factor) => PartEdits.Change<Resistor>(board, "R_upper", r => r.Resistance *= factor))
        {
            Id = "divider-upper-drifted",
            Title = "Upper resistor of the feedback divider drifted",
            Mechanism = "Moisture under the end cap of a film resistor: the value rises, and the rail with it.",
            Part = "R_upper",
            Severity = new SeverityDefinition { Unit = "", Default = 1.2, Minimum = 0.01, Maximum = 100, Description = "Resistance as a multiple of the rated one." },
        };
        yield return new(static (board, factor) => PartEdits.Change<Resistor>(board, "R_lower", r => r.Resistance *= factor))
        {
            Id = "divider-lower-drifted",
            Title = "Lower resistor of the feedback divider drifted",
            Mechanism = "Moisture under the end cap of a film resistor: the value rises, and the rail falls.",
            Part = "R_lower",
            Severity = new SeverityDefinition { Unit = "", Default = 1.2, Minimum = 0.01, Maximum = 100, Description = "Resistance as a multiple of the rated one." },
        };
        yield return new(static (board, ohms) => PartEdits.Across(board, "U_ref", ohms, 2, 1))
        {
            Id = "reference-shorted",
            Title = "Shunt reference shorted",
            Mechanism = "A spike on the rail has fused cathode to anode: the LED shines with all it can get, and the rail stays low.",
            Part = "U_ref",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 5, Minimum = 0.01, Maximum = 1e6, Description = "What is left between cathode and anode." },
        };
    }

    private static IEnumerable<FaultDefinition> SupplyFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "R_start"))
        {
            Id = "start-resistor-open",
            Title = "Start resistor open",
            Mechanism = "A resistor with hundreds of volts across it for years: its film opens at a hot spot, and the supply never starts.",
            Part = "R_start",
        };
        yield return new(static (board, factor) => PartEdits.Change<Resistor>(board, "R_start", r => r.Resistance *= factor))
        {
            Id = "start-resistor-drifted",
            Title = "Start resistor drifted",
            Mechanism = "High voltage and heat raise its value: the supply takes longer and longer to start, until it does not.",
            Part = "R_start",
            Severity = new SeverityDefinition { Unit = "", Default = 4, Minimum = 1, Maximum = 1000, Description = "Resistance as a multiple of the rated one." },
        };
    }

    private static IEnumerable<FaultDefinition> SwitchingFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "D_out"))
        {
            Id = "rectifier-open",
            Title = "Output rectifier open",
            Mechanism = "A cracked joint of a hot part: all energy goes into the clamp.",
            Part = "D_out",
        };
        yield return new(static (board, ohms) => PartEdits.Short(board, "D_out", ohms))
        {
            Id = "rectifier-shorted",
            Title = "Output rectifier shorted",
            Mechanism = "Overheated until the junction fused: the controller sees a shorted winding.",
            Part = "D_out",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 0.02, Minimum = 1e-4, Maximum = 100, Description = "What is left of it." },
        };
        yield return new(static (board, ohms) => PartEdits.Across(board, "D_out", ohms))
        {
            Id = "rectifier-leaky",
            Title = "Output rectifier leaky",
            Mechanism = "A Schottky junction that has been too hot: it leaks backwards, gets hotter and leaks more.",
            Part = "D_out",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 30, Minimum = 0.1, Maximum = 1e6, Description = "Leakage resistance across it." },
        };
        yield return new(static (board, _) => PartEdits.Open(board, "D_clamp"))
        {
            Id = "clamp-open",
            Title = "Clamp open",
            Mechanism = "The clamp's diode or its joint has broken: nothing holds the drain at turn-off but the winding's own capacitance.",
            Part = "D_clamp",
        };
        yield return new(static (board, ohms) => PartEdits.Short(board, "S_switch", ohms))
        {
            Id = "switch-shorted",
            Title = "Switch shorted",
            Mechanism = "Over-voltage or too much current fused it: bulk voltage across winding and sense resistor, until a fuse opens.",
            Part = "S_switch",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 0.5, Minimum = 1e-3, Maximum = 1e4, Description = "What is left between drain and source." },
        };
        yield return new(static (board, _) => PartEdits.Open(board, "S_switch"))
        {
            Id = "switch-open",
            Title = "Switch open",
            Mechanism = "A bond wire or a joint has gone: the controller starts again and again and nothing follows.",
            Part = "S_switch",
        };
        yield return new(static (board, ohms) => PartEdits.Add(board, new Resistor("R_turn", "winding", "drain", ohms)))
        {
            Id = "shorted-turns",
            Title = "Shorted turns in the transformer",
            Mechanism = "Insulation between layers has broken down: a few turns shorted are a load that no rectifier blocks.",
            Part = "T_main",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 2000, Minimum = 1, Maximum = 1e6, Description = "Resistance of the shorted turns' wire, seen across the whole primary." },
        };
    }

    private FaultDefinition Sense()
    {
        // The averaged converter has the resistor within its power stage: what it loses there goes with it.
        var switching = Detail == ConverterDetail.Switching;
        return new((board, factor) =>
        {
            if (switching)
            {
                PartEdits.Change<Resistor>(board, "R_sense", r => r.Resistance *= factor);
                return;
            }

            PartEdits.Change<AveragedFlyback>(board, Controller, c => c.Stage = c.Stage with
            {
                SenseResistance = factor * c.Stage.SenseResistance,
                PrimaryResistance = c.Stage.PrimaryResistance + (factor - 1) * c.Stage.SenseResistance,
            });
        })
        {
            Id = "sense-drifted",
            Title = "Sense resistor drifted",
            Mechanism = "Pulses of current crack a film resistor's trimming slot: its value rises and the current limit falls.",
            Part = switching ? "R_sense" : Controller,
            Severity = new SeverityDefinition { Unit = "", Default = 1.6, Minimum = 0.1, Maximum = 100, Description = "Resistance as a multiple of the rated one." },
        };
    }

    private static FaultDefinition Overload() => new(static (board, ohms) => PartEdits.Add(board, new Resistor("R_overload", "rail", "0", ohms)))
    {
        Id = "rail-overloaded",
        Title = "Rail overloaded or shorted",
        Mechanism = "A shorted part somewhere on the rail: the current limit holds, the overload timer stops the converter, and it tries again.",
        Part = "C_post",
        Severity = new SeverityDefinition { Unit = "ohm", Default = 1, Minimum = 1e-3, Maximum = 1e6, Description = "Resistance across the rail." },
    };

    private static SeverityDefinition Share(double usual, string description) =>
        new() { Unit = "", Default = usual, Minimum = 0.001, Maximum = 1, Description = description };
}
