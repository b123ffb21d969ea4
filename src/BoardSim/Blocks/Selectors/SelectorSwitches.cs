using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Selectors;

namespace BoardSim.Blocks.Selectors;

/// <summary>
/// Two coded selector switches with sixteen positions each, read by a processor over four lines.
/// <code>
///  supply --+------------[R_pullup0]--+           selector panel
///           |                         |
///           |   in0 --[R_in0]---------+-- board0 --[R_wire0]-- wire0 --+--|&gt;|--[R_contact10]-- S1 contact 0
///           |    |                                                     |  D10
///           |  C_in0                    (the same for 1, 2 and 3)      +--|&gt;|--[R_contact20]-- S2 contact 0
///           |    |                                                        D20
///          U1 ---+-- ground
///           |   enable1 --[R_enable1]-- common1 -- S1 common (contacts 0 to 3 by its position)
///           +-- enable2 --[R_enable2]-- common2 -- S2 common
///  U1: the program that pulls one enable low at a time and reads the lines
/// </code>
/// </summary>
public sealed partial class SelectorSwitches : Block
{
    internal const int Lines = 4;

    /// <inheritdoc/>
    public override string Id => "selector-switches";

    /// <inheritdoc/>
    public override string Title => "Two coded selector switches on four lines";

    /// <inheritdoc/>
    public override string Summary =>
        "Reads two rotary switches with four coded contacts each over the same lines, one after the other, by enable lines and isolation diodes. Shows what position the program takes the switch for when "
        + "a contact is dirty, a line open or shorted, an enable stuck, and how a shorted diode makes one switch appear in the other's reading.";

    /// <inheritdoc/>
    public override string Topology => """
         supply --+------------[R_pullup0]--+           selector panel
                  |                         |
                  |   in0 --[R_in0]---------+-- board0 --[R_wire0]-- wire0 --+--|>|--[R_contact10]-- S1 contact 0
                  |    |                                                     |  D10
                  |  C_in0                    (the same for 1, 2 and 3)      +--|>|--[R_contact20]-- S2 contact 0
                  |    |                                                        D20
                 U1 ---+-- ground
                  |   enable1 --[R_enable1]-- common1 -- S1 common (contacts 0 to 3 by its position)
                  +-- enable2 --[R_enable2]-- common2 -- S2 common
         U1: the program that pulls one enable low at a time and reads the lines
        """;

    /// <inheritdoc/>
    public override bool LineSide => false;

    /// <summary>Supply in volts.</summary>
    [Quantity("supply.voltage", "V", 2, 15, "Supply of processor and pull-ups.", OnBenchOnly = true)]
    public double SupplyVoltage { get; set; } = 5;

    /// <summary>Code of switches and program.</summary>
    [Choice("code", "Code of the switches, which the program's table fits.")]
    public SelectorCode Code { get; set; } = SelectorCode.Binary;

    /// <summary>Position of the first switch.</summary>
    [Quantity("selector1.position", "", 0, 15, "Position of the first switch, a whole number.")]
    public double Position1 { get; set; } = 5;

    /// <summary>When the first switch is turned, in seconds; null for never.</summary>
    [Quantity("selector1.turn-at", "s", 1e-3, 1e6, "When the first switch is turned; never unless set.")]
    public double? TurnAt1 { get; set; }

    /// <summary>Position that the first switch is turned to.</summary>
    [Quantity("selector1.turn-to", "", 0, 15, "Position that it is turned to, a whole number.")]
    public double TurnTo1 { get; set; } = 8;

    /// <summary>Position of the second switch.</summary>
    [Quantity("selector2.position", "", 0, 15, "Position of the second switch, a whole number.")]
    public double Position2 { get; set; } = 10;

    /// <summary>When the second switch is turned, in seconds; null for never.</summary>
    [Quantity("selector2.turn-at", "s", 1e-3, 1e6, "When the second switch is turned; never unless set.")]
    public double? TurnAt2 { get; set; }

    /// <summary>Position that the second switch is turned to.</summary>
    [Quantity("selector2.turn-to", "", 0, 15, "Position that it is turned to, a whole number.")]
    public double TurnTo2 { get; set; } = 8;

    /// <summary>Time from one detent to the next, in seconds.</summary>
    [Quantity("turn.step-time", "s", 1e-3, 100, "Time from one detent to the next while a switch is turned; 50 to 100 ms by hand.")]
    public double StepTime { get; set; } = 60e-3;

    /// <summary>Time from the first contact to the last within a step, in seconds.</summary>
    [Quantity("turn.skew", "s", 0, 10, "Time from the first contact to the last one within a step: contacts never move at the same instant.")]
    public double Skew { get; set; } = 2e-3;

    /// <summary>Resistance of a closed contact in ohms.</summary>
    [Quantity("contact.resistance", "ohm", 1e-3, 1e6, "Resistance of a closed contact.")]
    public double ContactResistance { get; set; } = 0.1;

    /// <summary>Pull-up of each line in ohms.</summary>
    [Quantity("pull-up.resistance", "ohm", 500, 1e6, "Pull-up of each line: 4.7 to 47 kohm.")]
    public double PullUp { get; set; } = 10e3;

    /// <summary>Resistance between line and input in ohms.</summary>
    [Quantity("input.resistance", "ohm", 1, 100e3, "Resistor between each line and its input.")]
    public double InputResistance { get; set; } = 1e3;

    /// <summary>Capacitance of each input in farads.</summary>
    [Quantity("input.capacitance", "F", 1e-12, 1e-5, "Filter capacitance of each input: with the pull-up it sets how long a line takes to come up again.")]
    public double InputCapacitance { get; set; } = 1e-9;

    /// <summary>Resistance of each wire in ohms.</summary>
    [Quantity("wire.resistance", "ohm", 1e-3, 1e5, "Resistance of each line's wire and contacts between board and selector panel.")]
    public double WireResistance { get; set; } = 0.2;

    /// <summary>Resistance in series with each enable output, in ohms.</summary>
    [Quantity("enable.resistance", "ohm", 1e-2, 10e3, "Resistor in series with each enable output.")]
    public double EnableResistance { get; set; } = 100;

    /// <summary>How the enable lines are driven.</summary>
    [Choice("enable.drive", "Enable outputs driven both ways, or low only.")]
    public EnableDrive Drive { get; set; } = EnableDrive.PushPull;

    /// <summary>Resistance of an enable output that is low, in ohms.</summary>
    [Quantity("enable.sink-resistance", "ohm", 0.1, 10e3, "Resistance of an enable output that is low.")]
    public double SinkResistance { get; set; } = 25;

    /// <summary>Resistance of an enable output that is high, in ohms.</summary>
    [Quantity("enable.source-resistance", "ohm", 0.1, 10e3, "Resistance of an enable output that is high; of use with enable.drive: push-pull.")]
    public double SourceResistance { get; set; } = 40;

    /// <summary>Time in which both switches are read once, in seconds.</summary>
    [Quantity("scan.period", "s", 1e-5, 100, "Time in which both switches are read once.")]
    public double Period { get; set; } = 20e-3;

    /// <summary>Time from selecting to reading, in seconds.</summary>
    [Quantity("scan.settle", "s", 1e-7, 10, "Time from selecting a switch to reading the lines; less than half of scan.period.")]
    public double Settle { get; set; } = 200e-6;

    /// <summary>Equal readings in a row after which a position counts.</summary>
    [Quantity("scan.readings", "", 1, 100, "Number of equal readings in a row after which a position counts, a whole number.")]
    public double Readings { get; set; } = 1;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "supply", Node = "supply", Description = "Supply of processor and pull-ups." },
        new() { Name = "ground", Node = Circuit.Ground, Description = "Ground." },
        .. Enumerable.Range(0, Lines).Select(k => new Port { Name = $"line{k}", Node = $"board{k}", Description = $"Line {k} on the board.", IsOptional = true }),
    ];

    /// <inheritdoc/>
    // The scanner's pins as well: what a pin drives it drives from its supply, and without one it hangs open (its protection diodes are left out).
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_supply", "U1"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = ["V_supply"];

    private SwitchCode Table => Code == SelectorCode.Gray ? SwitchCode.Gray : SwitchCode.Binary;

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        foreach (var (key, value) in new[]
        {
            ("selector1.position", Position1), ("selector1.turn-to", TurnTo1), ("selector2.position", Position2), ("selector2.turn-to", TurnTo2), ("scan.readings", Readings),
        })
        {
            if (value != Math.Floor(value))
            {
                yield return $"{key} is {value}; it must be a whole number.";
            }
        }

        if (!(Settle < Period / 2))
        {
            yield return "scan.settle must be less than half of scan.period.";
        }

        if (!(Skew < StepTime))
        {
            yield return "turn.skew must be shorter than turn.step-time.";
        }
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        circuit.Add(new VoltageSource("V_supply", "supply", Circuit.Ground, SupplyVoltage));
        for (var k = 0; k < Lines; k++)
        {
            circuit.Add(new Resistor($"R_pullup{k}", "supply", $"board{k}", PullUp));
            circuit.Add(new Resistor($"R_in{k}", $"board{k}", $"in{k}", InputResistance));
            circuit.Add(new Capacitor($"C_in{k}", $"in{k}", Circuit.Ground, InputCapacitance));
            circuit.Add(new Resistor($"R_wire{k}", $"board{k}", $"wire{k}", WireResistance));
            for (var n = 1; n <= 2; n++)
            {
                circuit.Add(new Diode($"D{n}{k}", $"wire{k}", $"cathode{n}{k}", Isolation));
                circuit.Add(new Resistor($"R_contact{n}{k}", $"cathode{n}{k}", $"contact{n}{k}", ContactResistance));
            }
        }

        AddSwitch(circuit, 1, Position1, TurnTo1, TurnAt1);
        AddSwitch(circuit, 2, Position2, TurnTo2, TurnAt2);
        circuit.Add(new SelectorScanner("U1", "supply", Circuit.Ground, "enable1", "enable2", "in0", "in1", "in2", "in3")
        {
            Code = Table,
            Period = Period,
            Settle = Settle,
            Readings = (int)Readings,
            SinkResistance = SinkResistance,
            SourceResistance = Drive == EnableDrive.PushPull ? SourceResistance : double.PositiveInfinity,
        });
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = Points(),
            Currents = Clamps(),
            States = Positions(),
            SuggestedStop = (Readings + 1) * Period + Math.Max(EndOfTurn(TurnAt1, Position1, TurnTo1), EndOfTurn(TurnAt2, Position2, TurnTo2)),
        };
    }

    /// <summary>Small silicon diode, typical of the class of part, not of a product.</summary>
    private static DiodeModel Isolation { get; } = new()
    {
        SaturationCurrent = 2.5e-9,
        EmissionCoefficient = 1.75,
        SeriesResistance = 0.6,
        JunctionCapacitance = 2e-12,
        JunctionPotential = 0.6,
        TransitTime = 4e-9,
        BreakdownVoltage = 100,
    };

    private double EndOfTurn(double? at, double from, double to) => at is { } t ? t + Math.Abs(to - from) * StepTime : 0;

    private void AddSwitch(Circuit circuit, int n, double position, double turnTo, double? turnAt)
    {
        circuit.Add(new Resistor($"R_enable{n}", $"enable{n}", $"common{n}", EnableResistance));
        circuit.Add(new CodedSwitch($"S{n}", $"common{n}", $"contact{n}0", $"contact{n}1", $"contact{n}2", $"contact{n}3")
        {
            Code = Table,
            Position = (int)position,
            TurnTo = (int)turnTo,
            TurnAt = turnAt ?? double.PositiveInfinity,
            StepTime = StepTime,
            Skew = Skew,
        });
    }
}
