using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.Converters;

public sealed partial class FlybackOutput
{
    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults =>
        [.. CapacitorFaults(), .. RectifierFaults(), .. SwitchFaults(), ShortedTurns(), Overload()];

    private IEnumerable<FaultDefinition> CapacitorFaults()
    {
        var factor = EsrFactor;
        var rated = OutputCapacitance;
        yield return new((board, ohms) => PartEdits.Change<Capacitor>(board, "C_out1", c => c.SeriesResistance = ohms * factor))
        {
            Id = "output-esr-high",
            Title = "Output capacitor with high series resistance",
            Mechanism = "Ripple current heats the capacitor and drives its electrolyte out through the seal; near a hot rectifier it takes a few years.",
            Part = "C_out1",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 0.5, Minimum = 1e-4, Maximum = 100, Description = "Series resistance at 25 degC." },
        };
        yield return new((board, left) => PartEdits.Change<Capacitor>(board, "C_out1", c => c.Capacitance = left * rated))
        {
            Id = "output-capacitance-lost",
            Title = "Output capacitor with little capacitance left",
            Mechanism = "Dried-out electrolyte no longer reaches into the etched foil; the series resistance is usually far up before this shows.",
            Part = "C_out1",
            Severity = new SeverityDefinition { Unit = "", Default = 0.1, Minimum = 0.001, Maximum = 1, Description = "Share of the rated capacitance that is left." },
        };
        yield return new(static (board, _) => PartEdits.Open(board, "C_out1"))
        {
            Id = "output-capacitor-open",
            Title = "Output capacitor open",
            Mechanism = "A dry joint or a torn inner tab; with one capacitor only, nothing smooths the packets any more.",
            Part = "C_out1",
        };
        string[] capacitors = Capacitors == OutputCapacitors.One ? ["C_out1"] : ["C_out1", "C_out2"];
        yield return Electrolytic.AgedInService(
            "Output capacitor after years in service", capacitors, OutputRating, Frequency, OutputRippleCurrent ?? RippleEstimate());
    }

    private static IEnumerable<FaultDefinition> RectifierFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "D_out"))
        {
            Id = "rectifier-open",
            Title = "Output rectifier open",
            Mechanism = "Heat cycles crack the joint or the bond; the stored energy has nowhere to go but the clamp and the switch.",
            Part = "D_out",
        };
        yield return new(static (board, _) => PartEdits.Short(board, "D_out"))
        {
            Id = "rectifier-shorted",
            Title = "Output rectifier shorted",
            Mechanism = "Over-voltage or heat fused the junction: the secondary winding is a short by way of the capacitor, and the primary current runs up.",
            Part = "D_out",
        };
        yield return new(static (board, ohms) => PartEdits.Across(board, "D_out", ohms))
        {
            Id = "rectifier-leaky",
            Title = "Output rectifier leaky",
            Mechanism = "A Schottky barrier near its limits in heat and reverse voltage leaks more each year; leakage heats it further.",
            Part = "D_out",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 50, Minimum = 0.1, Maximum = 1e6, Description = "Leakage resistance across the rectifier." },
        };
    }

    private static IEnumerable<FaultDefinition> SwitchFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "D_clamp"))
        {
            Id = "clamp-open",
            Title = "Clamp open",
            Mechanism = "The clamp's resistor runs hot all its life and ends in a cracked joint, or its diode failed open: the leakage inductance's energy drives the drain up until the switch breaks down.",
            Part = "D_clamp",
        };
        yield return new(static (board, _) => PartEdits.Across(board, "M_switch", 0.05, 0, 2))
        {
            Id = "switch-shorted",
            Title = "Switch shorted",
            Mechanism = "Over-voltage or heat fused drain to source: only the source's resistance is left until the fuse opens.",
            Part = "M_switch",
        };
        yield return new(static (board, _) => PartEdits.Open(board, "M_switch"))
        {
            Id = "switch-open",
            Title = "Switch open",
            Mechanism = "A blown bond wire or a cracked joint: no packet is ever sent.",
            Part = "M_switch",
        };
    }

    private static FaultDefinition ShortedTurns() => new(static (board, share) =>
    {
        var primary = PartEdits.Get<Inductor>(board, "L_primary");
        var resistance = PartEdits.Get<Inductor>(board, "L_leakage").SeriesResistance;

        // The shorted turns are a third winding of their own on the same core, closed by their own resistance.
        PartEdits.Add(board, new Inductor("L_shorted", "0", "shorted", primary.Inductance * share * share));
        PartEdits.Add(board, new Coupling("K_shorted1", "L_primary", "L_shorted", 0.99));
        PartEdits.Add(board, new Coupling("K_shorted2", "L_secondary", "L_shorted", 0.99));
        PartEdits.Add(board, new Resistor("R_shorted", "shorted", "0", Math.Max(resistance * share, 1e-4)));
    })
    {
        Id = "shorted-turns",
        Title = "Shorted turns in the transformer",
        Mechanism = "Enamel chafed through or cooked by a hot core: a few turns close on themselves and swallow the energy that should cross the barrier.",
        Part = "L_primary",
        Severity = new SeverityDefinition { Unit = "", Default = 0.03, Minimum = 0.002, Maximum = 0.5, Description = "Share of the primary's turns that are shorted." },
    };

    private static FaultDefinition Overload() => new(static (board, ohms) => PartEdits.Change<Resistor>(board, "R_load", r => r.Resistance = ohms))
    {
        Id = "overload",
        Title = "Output overloaded",
        Mechanism = "Something on the rail takes too much: a shorted load, a stalled fan, a leaky capacitor further down.",
        Part = "R_load",
        Severity = new SeverityDefinition { Unit = "ohm", Default = 3, Minimum = 0.01, Maximum = 1e6, Description = "Resistance of the load." },
    };
}
