using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.Transformers;

public sealed partial class TransformerSupply
{
    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults => [.. WindingFaults(), .. DiodeNames.SelectMany(DiodeFaults), .. CapacitorFaults()];

    private IEnumerable<FaultDefinition> WindingFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "R_primary"))
        {
            Id = "primary-open",
            Title = "Primary winding open",
            Mechanism = "The thermal fuse under the winding's tape has blown, or the thin wire has corroded through: nothing comes out, and an ohmmeter at the unplugged primary shows it.",
            Part = "R_primary",
        };
        yield return new(static (board, _) => PartEdits.Open(board, "R_secondary"))
        {
            Id = "secondary-open",
            Title = "Secondary winding open",
            Mechanism = "A broken lead at the terminal, or a dry joint that carries the charging pulses; with a centre tap, the supply goes on as a half-wave rectifier.",
            Part = "R_secondary",
        };
        var ohms = PrimaryOhms;
        yield return new((board, share) =>
        {
            // The shorted turns are a winding of their own on the core, loaded with its own resistance; the primary has lost them and
            // stands in a higher ratio to all others. Everything is seen from the turns that are left.
            var left = 1 - share;
            PartEdits.Change<Resistor>(board, "R_primary", r => r.Resistance *= left);
            PartEdits.Change<Resistor>(board, "R_core", r => r.Resistance = left * left / (1 / r.Resistance + share / ohms));
            PartEdits.Change<SaturableTransformer>(board, "T1", t =>
            {
                t.Ratios = [.. t.Ratios.Select((n, k) => k == 0 ? n : n / left)];
                t.MagnetisingInductance *= left * left;
                t.SaturatedInductance *= left * left;
                t.SaturationFlux *= left;
            });
        })
        {
            Id = "shorted-turns",
            Title = "Shorted turns in the primary",
            Mechanism = "Heat has cooked the wire's enamel, and a surge finishes it: the turns between make a shorted winding that heats itself until the thermal fuse blows.",
            Part = "T1",
            Severity = new SeverityDefinition { Unit = "", Default = 0.05, Minimum = 1e-4, Maximum = 0.5, Description = "Share of the primary's turns that is shorted." },
        };
    }

    private static IEnumerable<FaultDefinition> DiodeFaults(string name)
    {
        var id = $"diode-{name.ToLowerInvariant()}";
        yield return new((board, _) => PartEdits.Open(board, name))
        {
            Id = $"{id}-open",
            Title = $"Diode {name} open",
            Mechanism = "A surge melted the bond, or the joint cracked: every other charging pulse is missing and the ripple has the line's own frequency.",
            Part = name,
        };
        yield return new((board, _) => PartEdits.Short(board, name))
        {
            Id = $"{id}-shorted",
            Title = $"Diode {name} shorted",
            Mechanism = "A surge fused the junction: every other half-cycle the winding works into a short, and its resistance is all that limits the current.",
            Part = name,
        };
    }

    private IEnumerable<FaultDefinition> CapacitorFaults()
    {
        var factor = Electrolytic.SeriesResistanceFactor(CapacitorTemperature);
        var rated = Capacitance;
        yield return new((board, ohms) => PartEdits.Change<Capacitor>(board, "C_reservoir", c => c.SeriesResistance = ohms * factor))
        {
            Id = "reservoir-esr-high",
            Title = "Reservoir capacitor with high series resistance",
            Mechanism = "Electrolyte dries out through the seal over thousands of warm hours: the charging pulses now show across the series resistance.",
            Part = "C_reservoir",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 2, Minimum = 1e-3, Maximum = 1000, Description = "Series resistance at 25 degC." },
        };
        yield return new((board, left) => PartEdits.Change<Capacitor>(board, "C_reservoir", c => c.Capacitance = left * rated))
        {
            Id = "reservoir-capacitance-lost",
            Title = "Reservoir capacitor with little capacitance left",
            Mechanism = "Dried-out electrolyte no longer reaches into the etched foil: the voltage falls further between crests.",
            Part = "C_reservoir",
            Severity = new SeverityDefinition { Unit = "", Default = 0.3, Minimum = 0.001, Maximum = 1, Description = "Share of the rated capacitance that is left." },
        };
        yield return new(static (board, _) => PartEdits.Open(board, "C_reservoir"))
        {
            Id = "reservoir-open",
            Title = "Reservoir capacitor open",
            Mechanism = "A heavy can has broken its joint or its inner tab: what is left is the bare rectified sine.",
            Part = "C_reservoir",
        };

        // The winding's RMS current at full load is 1.8 times the load's (makers' selection guides for a bridge with a capacitor): what is not
        // direct current flows through the capacitor.
        const double formFactor = 1.8;
        var full = Rating / SecondaryVoltage / formFactor;
        var pulses = Rectifier == TransformerRectifier.HalfWave ? 1 : 2;
        yield return Electrolytic.AgedInService(
            "Reservoir capacitor after years in service", ["C_reservoir"], CapacitorRating, pulses * Frequency, RippleCurrent ?? full * Math.Sqrt(formFactor * formFactor - 1));
    }
}
