using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Serial;
using BoardSim.Faults;

namespace BoardSim.Blocks.SerialLinks;

public sealed partial class SerialLink
{
    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults => [.. LineFaults(), .. WireFaults(), .. ChipFaults()];

    private static IEnumerable<FaultDefinition> LineFaults()
    {
        yield return new(static (board, ohms) => PartEdits.Add(board, new Resistor("R_low", "line", Circuit.Ground, ohms)))
        {
            Id = "line-stuck-low",
            Title = "Line stuck low",
            Mechanism = "The cable is pinched until signal and ground wire touch, or an output transistor on the line has fused: nobody can let the line go high.",
            Part = "R_line",
            Severity = Ohms(2, 1e-3, 1000, "Resistance between line and ground."),
        };
        yield return new(static (board, ohms) => PartEdits.Add(board, new Resistor("R_high", "line", "supply", ohms)))
        {
            Id = "line-stuck-high",
            Title = "Line stuck high",
            Mechanism = "A chafed cable or a solder bridge ties the line to the logic supply: the sender's transistor pulls against it in vain.",
            Part = "R_line",
            Severity = Ohms(2, 1e-3, 1000, "Resistance between line and supply."),
        };
        yield return new(static (board, ohms) => PartEdits.Add(board, new Resistor("R_leak", "line-at-panel", "panel-ground", ohms)))
        {
            Id = "line-leaky",
            Title = "Line leaky",
            Mechanism = "Steam condenses in the panel's plug, and with flour dust the film conducts: with the pull-up it makes a divider, and high bits are no longer high.",
            Part = "R_line",
            Severity = Ohms(4700, 100, 1e9, "Leakage resistance between line and ground at the panel."),
        };
        yield return new(static (board, _) => PartEdits.Open(board, "R_pullup"))
        {
            Id = "pull-up-lost",
            Title = "Pull-up lost",
            Mechanism = "A chip resistor cracked when the board was bent, or its joint did: nothing brings the line up once it was low.",
            Part = "R_pullup",
        };
        yield return new(static (board, factor) => PartEdits.Change<Resistor>(board, "R_pullup", r => r.Resistance *= factor))
        {
            Id = "pull-up-drifted",
            Title = "Pull-up drifted",
            Mechanism = "Moisture under its coating, or the wrong value at the last repair: the line still comes up, but late.",
            Part = "R_pullup",
            Severity = new SeverityDefinition { Unit = "", Default = 40, Minimum = 0.02, Maximum = 1000, Description = "Resistance relative to the rated one." },
        };
    }

    private static IEnumerable<FaultDefinition> WireFaults()
    {
        yield return new(static (board, farads) => PartEdits.Add(board, new Capacitor("C_more", "line-at-panel", "panel-ground", farads)))
        {
            Id = "slow-edges",
            Title = "Slow edges",
            Mechanism = "A longer cable was put in, or a capacitor against disturbances soldered across the line: the pull-up takes its time to charge it.",
            Part = "C_line2",
            Severity = new SeverityDefinition { Unit = "F", Default = 15e-9, Minimum = 1e-12, Maximum = 1e-5, Description = "Capacitance that comes to that of the cable." },
        };
        yield return new(static (board, ohms) => PartEdits.Change<Resistor>(board, "R_ground", r => r.Resistance = ohms))
        {
            Id = "ground-corroded",
            Title = "Ground wire corroded",
            Mechanism = "The ground contact frets and oxidises under the load's current: that current lifts the panel's ground, and every level moves with it.",
            Part = "R_ground",
            Severity = Ohms(3, 1e-3, 100, "Resistance of the ground wire and its contacts."),
        };
        yield return new(static (board, _) => PartEdits.Open(board, "R_line"))
        {
            Id = "line-open",
            Title = "Signal wire open",
            Mechanism = "A strand broke where the cable bends with the door, or the plug is not home: each board is alone with its end of the line.",
            Part = "R_line",
        };
    }

    private static IEnumerable<FaultDefinition> ChipFaults()
    {
        yield return new(static (board, ohms) => PartEdits.Change<SerialSender>(board, "U1", u => u.OnResistance = ohms))
        {
            Id = "sender-weak",
            Title = "Sender weak",
            Mechanism = "A discharge along the cable destroyed part of the output transistor: low bits are no longer low.",
            Part = "U1",
            Severity = Ohms(3300, 1, 1e6, "Resistance of the output while it pulls the line low."),
        };
        yield return new(static (board, _) => PartEdits.Open(board, "U1"))
        {
            Id = "sender-dead",
            Title = "Sender dead",
            Mechanism = "The output transistor or its joint is open, or the sending board hangs: the line stays high and nothing comes.",
            Part = "U1",
        };
        yield return new(static (board, error) => PartEdits.Change<SerialReceiver>(board, "U2", u => u.ClockRatio *= 1 + error))
        {
            Id = "receiver-clock-off",
            Title = "Receiver's clock off",
            Mechanism = "A cracked resonator, or an RC oscillator that drifts with heat: the receiver looks ever later, or earlier, at the bits of a frame.",
            Part = "U2",
            Severity = new SeverityDefinition { Unit = "%", Default = 0.08, Minimum = -0.5, Maximum = 1, Description = "By how much the receiver's clock is faster than it should be." },
        };
    }

    private static SeverityDefinition Ohms(double usual, double least, double most, string description) =>
        new() { Unit = "ohm", Default = usual, Minimum = least, Maximum = most, Description = description };
}
