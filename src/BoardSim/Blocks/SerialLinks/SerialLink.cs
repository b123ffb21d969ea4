using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Serial;

namespace BoardSim.Blocks.SerialLinks;

/// <summary>
/// Serial link on one wire between the controller and a panel: open-drain line with a pull-up, cable, and a ground wire that carries the load's current as well.
/// <code>
///  controller                                cable                                panel
///  rail ----------------------------------[R_feed]------------------------- panel-rail --(I_load)--+
///  supply --[R_pullup]--+                                              panel-supply --(V_panel)--+ |
///                       |                                                                        | |
///  near-pin --[R_near]--+-- line ---------[R_line]--------- line-at-panel --[R_far]-- far-pin    | |
///   |  |  |             |                                        |                     |  |  |   | |
///  U1 D_near C_near   C_line1                                 C_line2             C_far D_far U2 | |
///   |  |  |             |                                        |                     |  |  |   | |
///  ground (0) --------------------------[R_ground]----------------------- panel-ground ----------+-+
///  U1 at the sending board, U2 at the reading one: sender: panel puts U1 at the panel and U2 at the controller
/// </code>
/// </summary>
public sealed partial class SerialLink : Block
{
    /// <inheritdoc/>
    public override string Id => "serial-link";

    /// <inheritdoc/>
    public override string Title => "Serial link on one wire";

    /// <inheritdoc/>
    public override string Summary =>
        "Sends asynchronous frames over an open-drain line between two boards and compares what was read with what was sent. Shows what a pull-up, a long or damp cable, a worn ground wire "
        + "under load and a clock that is off do to levels, edges and noise margins, and which frame is misread first, noticed or not.";

    /// <inheritdoc/>
    public override string Topology => """
         controller                                cable                                panel
         rail ----------------------------------[R_feed]------------------------- panel-rail --(I_load)--+
         supply --[R_pullup]--+                                              panel-supply --(V_panel)--+ |
                              |                                                                        | |
         near-pin --[R_near]--+-- line ---------[R_line]--------- line-at-panel --[R_far]-- far-pin    | |
          |  |  |             |                                        |                     |  |  |   | |
         U1 D_near C_near   C_line1                                 C_line2             C_far D_far U2 | |
          |  |  |             |                                        |                     |  |  |   | |
         ground (0) --------------------------[R_ground]----------------------- panel-ground ----------+-+
         U1 at the sending board, U2 at the reading one: sender: panel puts U1 at the panel and U2 at the controller
        """;

    /// <inheritdoc/>
    public override bool LineSide => false;

    /// <summary>Logic supply of the controller in volts.</summary>
    [Quantity("supply.voltage", "V", 1.5, 15, "Logic supply of the controller, which the pull-up leads to.", OnBenchOnly = true)]
    public double SupplyVoltage { get; set; } = 5;

    /// <summary>Logic supply of the panel in volts.</summary>
    [Quantity("panel.voltage", "V", 1.5, 15, "Logic supply of the panel, against the panel's own ground.", OnBenchOnly = true)]
    public double PanelVoltage { get; set; } = 5;

    /// <summary>Voltage of the load's rail in volts.</summary>
    [Quantity("rail.voltage", "V", 3, 60, "Rail that feeds the panel's loads.", OnBenchOnly = true)]
    public double RailVoltage { get; set; } = 12;

    /// <summary>Current of the panel's load in amperes.</summary>
    [Quantity("load.current", "A", 0, 10, "Current of what hangs on the panel (lamp, fan): it comes back through the ground wire.", OnBenchOnly = true)]
    public double LoadCurrent { get; set; } = 0.8;

    /// <summary>When the load goes on, in seconds.</summary>
    [Quantity("load.on-at", "s", 1e-6, 1e5, "When the load goes on.", OnBenchOnly = true)]
    public double LoadOnAt { get; set; } = 7.6e-3;

    /// <summary>How long it stays on, in seconds; null for ever.</summary>
    [Quantity("load.for", "s", 1e-5, 1e5, "How long the load stays on; for good unless set.", OnBenchOnly = true)]
    public double? LoadFor { get; set; }

    /// <summary>Time in which the load's current rises and falls, in seconds.</summary>
    [Quantity("load.edge", "s", 1e-8, 1, "Time in which the load's current rises and falls.", OnBenchOnly = true)]
    public double LoadEdge { get; set; } = 20e-6;

    /// <summary>Pull-up in ohms.</summary>
    [Quantity("pull-up.resistance", "ohm", 100, 1e6, "Pull-up of the line, on the controller: 1 to 10 kohm.")]
    public double PullUp { get; set; } = 4700;

    /// <summary>Resistance in series with each pin, in ohms.</summary>
    [Quantity("pin.resistance", "ohm", 0.1, 10e3, "Resistor in series with each pin, against discharges.")]
    public double PinResistance { get; set; } = 100;

    /// <summary>Capacitance of each pin in farads.</summary>
    [Quantity("pin.capacitance", "F", 1e-12, 1e-6, "Capacitance of each pin, filter included.")]
    public double PinCapacitance { get; set; } = 100e-12;

    /// <summary>Resistance of the signal wire in ohms.</summary>
    [Quantity("cable.resistance", "ohm", 1e-3, 10e3, "Resistance of the signal wire and its contacts.")]
    public double CableResistance { get; set; } = 0.3;

    /// <summary>Capacitance of the signal wire in farads.</summary>
    [Quantity("cable.capacitance", "F", 1e-12, 1e-5, "Capacitance between signal wire and ground wire: some 100 pF for each metre.")]
    public double CableCapacitance { get; set; } = 300e-12;

    /// <summary>Resistance of the ground wire in ohms.</summary>
    [Quantity("ground.resistance", "ohm", 1e-3, 100, "Resistance of the ground wire and its contacts, which signal and load share.")]
    public double GroundResistance { get; set; } = 0.1;

    /// <summary>Resistance of the load's feed wire in ohms.</summary>
    [Quantity("feed.resistance", "ohm", 1e-3, 100, "Resistance of the wire that feeds the panel's loads.")]
    public double FeedResistance { get; set; } = 0.1;

    /// <summary>Which board sends.</summary>
    [Choice("sender", "Board that sends: the panel, or the controller.")]
    public SendingBoard Sender { get; set; } = SendingBoard.Panel;

    /// <summary>Resistance of the sender while it pulls low, in ohms.</summary>
    [Quantity("sender.on-resistance", "ohm", 0.1, 10e3, "Resistance of the sender's output while it pulls the line low.")]
    public double OnResistance { get; set; } = 25;

    /// <summary>Symbol rate in baud.</summary>
    [Quantity("frame.rate", "Bd", 50, 1e6, "Symbol rate that both boards are set to.")]
    public double Rate { get; set; } = 9600;

    /// <summary>Parity bit.</summary>
    [Choice("frame.parity", "Parity bit of the frames.")]
    public ParityBit Parity { get; set; } = ParityBit.None;

    /// <summary>Number of stop bits, 1 or 2.</summary>
    [Quantity("frame.stop-bits", "", 1, 2, "Number of stop bits, a whole number: 1 or 2.")]
    public double StopBits { get; set; } = 1;

    /// <summary>When the first frame begins, in seconds.</summary>
    [Quantity("message.start", "s", 1e-6, 1e5, "When the first frame begins.")]
    public double MessageStart { get; set; } = 1e-3;

    /// <summary>Idle time between frames in seconds.</summary>
    [Quantity("message.gap", "s", 0, 1e4, "Idle time between two frames.")]
    public double MessageGap { get; set; } = 1e-3;

    /// <summary>Number of frames.</summary>
    [Quantity("message.frames", "", 0, 1e6, "Number of frames that are sent, a whole number; the four bytes come again and again.")]
    public double MessageFrames { get; set; } = 8;

    /// <summary>First byte of the message.</summary>
    [Quantity("message.byte1", "", 0, 255, "First byte of the message, a whole number.")]
    public double Byte1 { get; set; } = 80;

    /// <summary>Second byte of the message.</summary>
    [Quantity("message.byte2", "", 0, 255, "Second byte of the message, a whole number.")]
    public double Byte2 { get; set; } = 3;

    /// <summary>Third byte of the message.</summary>
    [Quantity("message.byte3", "", 0, 255, "Third byte of the message, a whole number.")]
    public double Byte3 { get; set; } = 38;

    /// <summary>Fourth byte of the message.</summary>
    [Quantity("message.byte4", "", 0, 255, "Fourth byte of the message, a whole number; the usual one is the sum of the other three.")]
    public double Byte4 { get; set; } = 121;

    /// <summary>Part of its supply below which the receiver reads low.</summary>
    [Quantity("receiver.low", "", 0.05, 0.9, "Part of its supply below which the receiver reads low.")]
    public double LowRatio { get; set; } = 0.3;

    /// <summary>Part of its supply above which the receiver reads high.</summary>
    [Quantity("receiver.high", "", 0.1, 0.95, "Part of its supply above which the receiver reads high.")]
    public double HighRatio { get; set; } = 0.7;

    /// <summary>Deviation of the receiver's clock from the sender's.</summary>
    [Quantity("receiver.clock-error", "%", -0.5, 0.5, "By how much the receiver's clock is faster than the sender's.")]
    public double ClockError { get; set; }

    /// <summary>Clock ticks in a bit.</summary>
    [Quantity("receiver.ticks", "", 0, 256, "Ticks of the receiver's clock in a bit, a whole number: the start edge counts from the next tick. 0 for one that sees it at once, otherwise 4 or more; 16 is usual.")]
    public double Ticks { get; set; } = 16;

    /// <summary>Input resistance of the receiver in ohms.</summary>
    [Quantity("receiver.input-resistance", "ohm", 1e3, 1e12, "Input resistance of the receiver, towards its ground.")]
    public double InputResistance { get; set; } = 1e6;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "supply", Node = "supply", Description = "Logic supply of the controller." },
        new() { Name = "ground", Node = Circuit.Ground, Description = "Ground of the controller." },
        new() { Name = "rail", Node = "rail", Description = "Rail that feeds the panel.", IsOptional = true },
        new() { Name = "panel-rail", Node = "panel-rail", Description = "The same rail at the panel.", IsOptional = true },
        new() { Name = "panel-supply", Node = "panel-supply", Description = "Logic supply of the panel." },
        new() { Name = "panel-ground", Node = "panel-ground", Description = "Ground of the panel, where what hangs on it returns its current.", IsOptional = true },
        new() { Name = "line", Node = "line", Description = "The line at the controller.", IsOptional = true },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_supply", "V_panel", "V_rail", "I_load"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = ["V_supply", "V_panel", "V_rail", "I_load", "D_load"];

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        foreach (var (key, value) in new[]
        {
            ("frame.stop-bits", StopBits), ("message.frames", MessageFrames), ("receiver.ticks", Ticks),
            ("message.byte1", Byte1), ("message.byte2", Byte2), ("message.byte3", Byte3), ("message.byte4", Byte4),
        })
        {
            if (value != Math.Floor(value))
            {
                yield return $"{key} is {value}; it must be a whole number.";
            }
        }

        if (!(LowRatio < HighRatio))
        {
            yield return "receiver.low must be below receiver.high.";
        }

        if (Ticks is > 0 and < 4)
        {
            yield return $"receiver.ticks is {Ticks}; it must be 0, or 4 at least.";
        }
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        AddBench(circuit);
        circuit.Add(new Resistor("R_pullup", "supply", "line", PullUp));
        circuit.Add(new Resistor("R_feed", "rail", "panel-rail", FeedResistance));
        circuit.Add(new Resistor("R_ground", "panel-ground", Circuit.Ground, GroundResistance));
        circuit.Add(new Resistor("R_line", "line", "line-at-panel", CableResistance));
        circuit.Add(new Capacitor("C_line1", "line", Circuit.Ground, CableCapacitance / 2));
        circuit.Add(new Capacitor("C_line2", "line-at-panel", "panel-ground", CableCapacitance / 2));
        AddPin(circuit, "near", "line", Circuit.Ground);
        AddPin(circuit, "far", "line-at-panel", "panel-ground");

        // What the panel has on board where nothing else is wired to its supply and its end of the rail.
        circuit.Add(new Resistor("R_panel", "panel-supply", "panel-ground", 100e3));
        circuit.Add(new Resistor("R_rail", "panel-rail", "panel-ground", 100e3));
        var near = ("near-pin", Circuit.Ground, "supply");
        var far = ("far-pin", "panel-ground", "panel-supply");
        var ((pin, ground, _), (input, inputGround, inputSupply)) = Sender == SendingBoard.Controller ? (near, far) : (far, near);
        var frame = new SerialFrame(
            Parity switch { ParityBit.Even => SerialParity.Even, ParityBit.Odd => SerialParity.Odd, _ => SerialParity.None },
            (int)StopBits);
        circuit.Add(new SerialSender("U1", pin, ground)
        {
            Message = [(byte)Byte1, (byte)Byte2, (byte)Byte3, (byte)Byte4],
            Frames = (int)MessageFrames,
            Frame = frame,
            Baud = Rate,
            Start = MessageStart,
            Gap = MessageGap,
            OnResistance = OnResistance,
        });
        circuit.Add(new SerialReceiver("U2", input, inputGround, inputSupply, "U1")
        {
            LowRatio = LowRatio,
            HighRatio = HighRatio,
            Baud = Rate,
            ClockRatio = 1 + ClockError,
            Oversampling = (int)Ticks,
            Frame = frame,
            InputResistance = InputResistance,
        });
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = Points(),
            Currents = Clamps(),
            States = WhatWasSentAndRead(),
            SuggestedStop = MessageStart + MessageFrames * (frame.Bits / Rate + MessageGap) + 1e-3,
        };
    }

    private void AddPin(Circuit circuit, string side, string line, string ground)
    {
        circuit.Add(new Resistor($"R_{side}", line, $"{side}-pin", PinResistance));
        circuit.Add(new Capacitor($"C_{side}", $"{side}-pin", ground, PinCapacitance));

        // The diode that every pin has towards its ground: it conducts where one ground is lifted over the other's lows.
        circuit.Add(new Diode($"D_{side}", ground, $"{side}-pin", new DiodeModel { SaturationCurrent = 1e-14, SeriesResistance = 2 }));
    }

    private void AddBench(Circuit circuit)
    {
        circuit.Add(new VoltageSource("V_supply", "supply", Circuit.Ground, SupplyVoltage));
        circuit.Add(new VoltageSource("V_panel", "panel-supply", "panel-ground", PanelVoltage));
        circuit.Add(new VoltageSource("V_rail", "rail", Circuit.Ground, RailVoltage));
        circuit.Add(new CurrentSource("I_load", "panel-rail", "panel-ground", new PulseWaveform
        {
            High = LoadCurrent,
            Delay = LoadOnAt,
            Rise = LoadEdge,
            Fall = LoadEdge,
            Width = LoadFor ?? double.PositiveInfinity,
        }));

        // What hangs on the panel takes power and gives none: where its ground wire is broken the current goes round in the load and drives nothing. A current source by itself would charge
        // the picofarads of the cable to kilovolts. Common practice, no source: fans and coils have such a diode, and transistors that switch loads have one of their own.
        circuit.Add(new Diode("D_load", "panel-ground", "panel-rail", new DiodeModel { SaturationCurrent = 1e-9, EmissionCoefficient = 1.8, SeriesResistance = 0.02 }));
    }
}
