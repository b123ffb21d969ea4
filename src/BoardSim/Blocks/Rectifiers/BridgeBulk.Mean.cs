using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Faults;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Rectifiers;

/// <summary>The block with the line by its RMS value: limiter and diodes are one part that knows the mean only.</summary>
public sealed partial class BridgeBulk
{
    // What holds the return where no diode does: in mean values nothing flows through it.
    private const double TieOhms = 1e6;

    private void AddMeanRectifier(Circuit circuit)
    {
        circuit.Add(new MeanRectifier("B1", "inlet", "neutral", "bulk", "return", "C_bulk")
        {
            Frequency = Frequency,
            Threshold = 2 * RectifierModels.LineThreshold,
            Resistance = 2 * RectifierModels.LineSlope + (Limiter == InrushLimiter.Resistor ? LimiterResistance : 1e-3),
            SourceResistance = SourceResistance ?? 1,
            Limiter = Limiter == InrushLimiter.Ntc ? new BetaCurve(LimiterResistance, LimiterBeta) : null,
            LimiterHeatCapacity = LimiterHeatCapacity,
            LimiterDissipation = LimiterDissipation,
            LimiterStartTemperature = LimiterStartTemperature,
        });
        circuit.Add(new Resistor("R_tie", "return", "neutral", TieOhms));
        circuit.Add(new Capacitor("C_y", "return", "0", YCapacitance));
        circuit.Add(Bulk("C_bulk", "bulk", "return"));
    }

    private static List<TestPoint> MeanPoints() =>
    [
        Against("bulk", "bulk", "return", Reference.PrimaryReturn, "Plus of the bulk capacitor: its mean."),
        Against("line", "inlet", "neutral", Reference.Neutral, "Line at the board's inlet, behind the plug: its RMS value."),
    ];

    private static List<CurrentPoint> MeanClamps() =>
    [
        Clamp("rectified", "B1", "Mean current out of the rectifier."),
        Clamp("load", "R_load", "Current that the load takes from the bulk capacitor."),
    ];

    private List<StatePoint> MeanStates()
    {
        List<StatePoint> states =
        [
            new() { Name = "line-current", Part = "B1", State = "line-current", Unit = "A", Description = "RMS value of the pulses from the line, harmonics included: what an ammeter would show." },
            new() { Name = "ripple-current", Part = "B1", State = "ripple-current", Unit = "A", Description = "RMS ripple current of the bulk capacitor." },
        ];
        if (Limiter == InrushLimiter.Ntc)
        {
            states.Add(new() { Name = "limiter-temperature", Part = "B1", State = "temperature", Unit = "degC", Description = "Temperature of the NTC limiter." });
        }

        return states;
    }

    private IEnumerable<FaultDefinition> MeanFaults()
    {
        yield return new(static (board, _) => PartEdits.Open(board, "B1"))
        {
            Id = "limiter-open",
            Title = "Inrush limiter open",
            Mechanism = "Years of heating and cooling crack the disc or its solder joints; a surge can blow it apart.",
            Part = "B1",
        };
        if (Limiter != InrushLimiter.None)
        {
            yield return new(static (board, _) => PartEdits.Change<MeanRectifier>(board, "B1", b => (b.Limiter, b.Resistance) = (null, 2 * RectifierModels.LineSlope + 1e-3)))
            {
                Id = "limiter-bypassed",
                Title = "Inrush limiter bypassed",
                Mechanism = "Somebody linked out a cracked limiter to get the board going again, or the bypass relay's contact welded.",
                Part = "B1",
            };
        }

        foreach (var name in new[] { "D1", "D2", "D3", "D4" })
        {
            yield return new(static (board, _) => PartEdits.Change<MeanRectifier>(board, "B1", b => b.Pulses = 1))
            {
                Id = $"diode-{name.ToLowerInvariant()}-open",
                Title = $"Bridge diode {name} open",
                Mechanism = "A surge melted the bond, or the joint cracked; the bridge goes on as a half-wave rectifier.",
                Part = "B1",
            };
        }

        // An open or shorted capacitor leaves nothing that the mean-value model could stand on.
        foreach (var fault in CapacitorFaults().Where(f => f.Id is not ("bulk-open" or "bulk-shorted")))
        {
            yield return fault;
        }
    }
}
