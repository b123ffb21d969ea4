using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Selectors;
using BoardSim.Faults;

namespace BoardSim.Blocks.Selectors;

public sealed partial class SelectorSwitches
{
    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults =>
    [
        .. Enumerable.Range(1, 2).SelectMany(n => Enumerable.Range(0, Lines).SelectMany(k => ContactFaults(n, k))),
        .. Enumerable.Range(0, Lines).SelectMany(LineFaults),
        .. Enumerable.Range(0, Lines - 1).Select(Bridged),
        .. Enumerable.Range(1, 2).SelectMany(EnableFaults),
        WrongTable(),
    ];

    private static IEnumerable<FaultDefinition> ContactFaults(int n, int k)
    {
        yield return new((board, ohms) => PartEdits.Change<Resistor>(board, $"R_contact{n}{k}", r => r.Resistance = ohms))
        {
            Id = $"selector{n}-contact{k}-dirty",
            Title = $"Switch {n}: contact {k} dirty",
            Mechanism = "Flour dust and steam make a film on a contact that carries half a milliampere and never cleans itself: at worn places of the track it does not close.",
            Part = $"R_contact{n}{k}",
            Severity = Ohms(20e3, 1e-3, 1e9, "Resistance of the contact."),
        };
        yield return new((board, ohms) => PartEdits.Short(board, $"D{n}{k}", ohms))
        {
            Id = $"diode{n}{k}-shorted",
            Title = $"Diode of switch {n}, contact {k} shorted",
            Mechanism = "A discharge through the knob has fused the isolation diode: current can go back from the switch into the line, and the switch appears in the other one's reading.",
            Part = $"D{n}{k}",
            Severity = Ohms(1, 1e-3, 10e3, "What is left of the diode."),
        };
        yield return new((board, _) => PartEdits.Open(board, $"D{n}{k}"))
        {
            Id = $"diode{n}{k}-open",
            Title = $"Diode of switch {n}, contact {k} open",
            Mechanism = "A cracked joint or die, from the board being bent when knobs are pulled off: the contact never reaches the line.",
            Part = $"D{n}{k}",
        };
    }

    private static IEnumerable<FaultDefinition> LineFaults(int k)
    {
        yield return new((board, _) => PartEdits.Open(board, $"R_wire{k}"))
        {
            Id = $"line{k}-open",
            Title = $"Line {k} open",
            Mechanism = "A crimp of the ribbon cable lets go: the bit reads as open contact for both switches.",
            Part = $"R_wire{k}",
        };
        yield return new((board, ohms) => PartEdits.Add(board, new Resistor($"R_short{k}", $"wire{k}", Circuit.Ground, ohms)))
        {
            Id = $"line{k}-shorted",
            Title = $"Line {k} shorted to ground",
            Mechanism = "A pinched ribbon cable, or damp between line and ground: the bit reads as closed contact for both switches.",
            Part = $"R_wire{k}",
            Severity = Ohms(10, 1e-3, 1e9, "Resistance between line and ground."),
        };
        yield return new((board, _) => PartEdits.Open(board, $"R_pullup{k}"))
        {
            Id = $"line{k}-pull-up-lost",
            Title = $"Pull-up of line {k} lost",
            Mechanism = "A chip resistor cracked, or its joint: nothing brings the line up again.",
            Part = $"R_pullup{k}",
        };
    }

    private static FaultDefinition Bridged(int k) => new((board, ohms) => PartEdits.Add(board, new Resistor($"R_bridge{k}", $"wire{k}", $"wire{k + 1}", ohms)))
    {
        Id = $"lines-{k}-{k + 1}-bridged",
        Title = $"Lines {k} and {k + 1} bridged",
        Mechanism = "A solder bridge between neighbouring pins of the connector, or a whisker: what pulls one line low pulls the other one as well.",
        Part = $"R_wire{k}",
        Severity = Ohms(1, 1e-3, 1e6, "Resistance between the two lines."),
    };

    private static IEnumerable<FaultDefinition> EnableFaults(int n)
    {
        yield return new((board, ohms) => PartEdits.Add(board, new Resistor($"R_low{n}", $"common{n}", Circuit.Ground, ohms)))
        {
            Id = $"enable{n}-stuck-low",
            Title = $"Enable {n} stuck low",
            Mechanism = "The output transistor has fused, or the wire touches ground: the switch is selected all the time and adds its contacts to the other one's.",
            Part = $"R_enable{n}",
            Severity = Ohms(2, 1e-3, 1e5, "Resistance between the enable line and ground."),
        };
        yield return new((board, ohms) => PartEdits.Add(board, new Resistor($"R_high{n}", $"common{n}", "supply", ohms)))
        {
            Id = $"enable{n}-stuck-high",
            Title = $"Enable {n} stuck high",
            Mechanism = "A solder bridge to the supply, or the output transistor to the supply has fused: the switch is never selected.",
            Part = $"R_enable{n}",
            Severity = Ohms(2, 1e-3, 1e5, "Resistance between the enable line and the supply."),
        };
        yield return new((board, _) => PartEdits.Open(board, $"R_enable{n}"))
        {
            Id = $"enable{n}-open",
            Title = $"Enable {n} open",
            Mechanism = "A crimp of the ribbon cable lets go: the switch is never selected, and its common contact floats.",
            Part = $"R_enable{n}",
        };
    }

    private FaultDefinition WrongTable()
    {
        var wrong = Code == SelectorCode.Gray ? SwitchCode.Binary : SwitchCode.Gray;
        return new((board, _) => PartEdits.Change<SelectorScanner>(board, "U1", u => u.Code = wrong))
        {
            Id = "firmware-wrong-table",
            Title = "Program with the table of another switch",
            Mechanism = "A board with the program of a sister model, or a replacement switch of the other code: right at a few positions, and each position has its own wrong number.",
            Part = "U1",
        };
    }

    private static SeverityDefinition Ohms(double usual, double least, double most, string description) =>
        new() { Unit = "ohm", Default = usual, Minimum = least, Maximum = most, Description = description };
}
