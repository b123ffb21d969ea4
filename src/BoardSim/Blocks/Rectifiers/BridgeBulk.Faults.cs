using BoardSim.Blocks.Thermistors;
using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.Rectifiers;

public sealed partial class BridgeBulk
{
    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults =>
        LineDetail == LineDetail.Rms ? [.. MeanFaults()] : [.. LimiterFaults(), .. DiodeFaults(), .. CapacitorFaults()];

    private IEnumerable<FaultDefinition> LimiterFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "RT1"))
        {
            Id = "limiter-open",
            Title = "Inrush limiter open",
            Mechanism = "Years of heating and cooling crack the disc or its solder joints; a surge can blow it apart.",
            Part = "RT1",
        };
        if (Limiter == InrushLimiter.None)
        {
            yield break;
        }

        yield return new(static (board, _) => PartEdits.Short(board, "RT1", 1e-3))
        {
            Id = "limiter-bypassed",
            Title = "Inrush limiter bypassed",
            Mechanism = "Somebody linked out a cracked limiter to get the board going again, or the bypass relay's contact welded.",
            Part = "RT1",
        };
        yield return new(static (board, factor) => Scale(board, factor))
        {
            Id = "limiter-drifted",
            Title = "Inrush limiter drifted",
            Mechanism = "Micro-cracks from thermal cycling leave less of the cross-section: cold and hot resistance rise together.",
            Part = "RT1",
            Severity = new SeverityDefinition { Unit = "", Default = 3, Minimum = 0.2, Maximum = 20, Description = "Resistance relative to the rated one." },
        };
        var beta = LimiterBeta;
        yield return new((board, ohms) => Set(board, ohms, beta))
        {
            Id = "limiter-wrong-part",
            Title = "Inrush limiter of the wrong value",
            Mechanism = "A repair put in what was in the drawer; a body of the same size comes in values from 1 to 100 ohm.",
            Part = "RT1",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 1, Minimum = 0.1, Maximum = 500, Description = "Resistance at 25 degC of the part that was put in." },
        };
    }

    private static IEnumerable<FaultDefinition> DiodeFaults()
    {
        foreach (var name in new[] { "D1", "D2", "D3", "D4" })
        {
            var id = $"diode-{name.ToLowerInvariant()}";
            yield return new((board, _) => PartEdits.Open(board, name))
            {
                Id = $"{id}-open",
                Title = $"Bridge diode {name} open",
                Mechanism = "A surge melted the bond, or the joint cracked; the bridge goes on as a half-wave rectifier.",
                Part = name,
            };
            yield return new((board, _) => PartEdits.Short(board, name))
            {
                Id = $"{id}-shorted",
                Title = $"Bridge diode {name} shorted",
                Mechanism = "A surge beyond its reverse voltage or too high a first charging current fused the junction; line and bulk are then tied together each other half-cycle, until the fuse opens.",
                Part = name,
            };
        }
    }

    private IEnumerable<FaultDefinition> CapacitorFaults()
    {
        var isDoubler = Arrangement == RectifierArrangement.Doubler;
        foreach (var fault in Of("C_bulk", "bulk", isDoubler ? "Upper bulk capacitor" : "Bulk capacitor"))
        {
            yield return fault;
        }

        if (isDoubler)
        {
            foreach (var fault in Of("C_bulk2", "lower", "Lower bulk capacitor"))
            {
                yield return fault;
            }

            yield return new(static (board, _) => PartEdits.Open(board, "S_selector"))
            {
                Id = "selector-open",
                Title = "Link of the doubler open",
                Mechanism = "The voltage selector's contact has corroded, stands at the higher voltage, or its link was never fitted: the bridge charges both capacitors in series to a single crest.",
                Part = "S_selector",
            };
        }

        string[] capacitors = isDoubler ? ["C_bulk", "C_bulk2"] : ["C_bulk"];
        yield return Electrolytic.AgedInService(
            "Bulk capacitor after years in service", capacitors, BulkRating, Pulses * Frequency, BulkRippleCurrent ?? RippleEstimate());
    }

    private IEnumerable<FaultDefinition> Of(string part, string id, string title)
    {
        var factor = Electrolytic.SeriesResistanceFactor(BulkTemperature);
        var rated = BulkCapacitance;
        yield return new((board, ohms) => PartEdits.Change<Capacitor>(board, part, c => c.SeriesResistance = ohms * factor))
        {
            Id = $"{id}-esr-high",
            Title = $"{title} with high series resistance",
            Mechanism = "Electrolyte dries out through the seal over thousands of hot hours: less of it carries the current, so the series resistance climbs long before the capacitance falls.",
            Part = part,
            Severity = new SeverityDefinition { Unit = "ohm", Default = 15, Minimum = 0.001, Maximum = 1000, Description = "Series resistance at 25 degC." },
        };
        yield return new((board, left) => PartEdits.Change<Capacitor>(board, part, c => c.Capacitance = left * rated))
        {
            Id = $"{id}-capacitance-lost",
            Title = $"{title} with little capacitance left",
            Mechanism = "Dried-out electrolyte no longer reaches into the etched foil; end of life is commonly set at 80 % of the rated value, a really dry one has a tenth.",
            Part = part,
            Severity = new SeverityDefinition { Unit = "", Default = 0.3, Minimum = 0.001, Maximum = 1, Description = "Share of the rated capacitance that is left." },
        };
        yield return new((board, ohms) => PartEdits.Change<Capacitor>(board, part, c => c.LeakageResistance = ohms))
        {
            Id = $"{id}-leaky",
            Title = $"{title} leaky",
            Mechanism = "Oxide that was damaged by over-voltage, or thinned by years without voltage, lets direct current through and heats the part.",
            Part = part,
            Severity = new SeverityDefinition { Unit = "ohm", Default = 5000, Minimum = 100, Maximum = 1e9, Description = "Leakage resistance." },
        };
        yield return new((board, _) => PartEdits.Short(board, part, 0.05))
        {
            Id = $"{id}-shorted",
            Title = $"{title} shorted",
            Mechanism = "The oxide broke through; nothing but the source impedance and the limiter holds the current until the fuse opens.",
            Part = part,
        };
        yield return new((board, _) => PartEdits.Open(board, part))
        {
            Id = $"{id}-open",
            Title = $"{title} open",
            Mechanism = "A vibrating can has broken its joint or its inner tab: the load sees the bare rectified sine.",
            Part = part,
        };
    }

    private static void Scale(Boards.Board board, double factor)
    {
        if (board.Circuit["RT1"] is Thermistor ntc)
        {
            ntc.Curve = new DriftedCurve(ntc.Curve, factor);
        }
        else
        {
            PartEdits.Get<Resistor>(board, "RT1").Resistance *= factor;
        }
    }

    private static void Set(Boards.Board board, double ohms, double beta)
    {
        if (board.Circuit["RT1"] is Thermistor ntc)
        {
            ntc.Curve = new BetaCurve(ohms, beta);
        }
        else
        {
            PartEdits.Get<Resistor>(board, "RT1").Resistance = ohms;
        }
    }
}
