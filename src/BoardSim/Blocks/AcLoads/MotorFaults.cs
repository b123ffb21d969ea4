using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.AcLoads;

/// <summary>Faults of the capacitor that makes a motor's second phase.</summary>
internal static class MotorFaults
{
    public static IEnumerable<FaultDefinition> Capacitor(string part)
    {
        yield return new((board, share) => PartEdits.Change<Capacitor>(board, part, c => c.Capacitance *= share))
        {
            Id = "capacitor-faded",
            Title = "Capacitor faded",
            Mechanism = "A metallised film heals its breakdowns by burning a little of its metal away each time: after years of surges and heat some of the capacitance is gone, and the torque with it.",
            Part = part,
            Severity = new SeverityDefinition { Unit = "", Default = 0.4, Minimum = 0.001, Maximum = 1, Description = "Capacitance that is left, as a share." },
        };
        yield return new((board, _) => PartEdits.Open(board, part))
        {
            Id = "capacitor-open",
            Title = "Capacitor open",
            Mechanism = "Its overpressure disconnector has pulled, or a tab has come off: no second phase.",
            Part = part,
        };
        yield return new((board, ohms) => PartEdits.Across(board, part, ohms))
        {
            Id = "capacitor-shorted",
            Title = "Capacitor shorted",
            Mechanism = "A breakdown that did not heal: the start winding gets the line without its phase, and too much current.",
            Part = part,
            Severity = new SeverityDefinition { Unit = "ohm", Default = 0.5, Minimum = 0.01, Maximum = 1e6, Description = "What is left of its insulation." },
        };
    }
}
