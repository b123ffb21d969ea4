using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Processors;

/// <summary>
/// Processor with its supply, reset, program and pins.
/// <code>
///  V_supply V_dip R_supply L_supply
///  (+)------(~)---/\/\----UUUU----supply--+------------+---------+----------+
///                                         |            |         |          |
///                                     C_decoupling  R_reset   +----+     +-----+--- out1 (P1) -- R_load1
///                                     C_chip           |      | U2 |     |     |    ...
///                                         |          reset ---|    |     | U1  |--- out8 (P8)
///                                         |            |      +----+     |     |
///                                         |            +-----------------|     |--- adc1 -- R_adc1, V_adc1
///                                         |                      |       |     |--- in1..in4 -- R_in1.. to supply
///  ground --------------------------------+----------------------+-------+-----+
///  U2: supply supervisor (brown-out detector), U1: processor, P1..P8: its outputs
/// </code>
/// </summary>
public sealed partial class ProcessorSupply : Block
{
    private const int Inputs = 4;

    /// <inheritdoc/>
    public override string Id => "processor";

    /// <inheritdoc/>
    public override string Title => "Processor with supply, reset and program";

    /// <inheritdoc/>
    public override string Summary =>
        "Reads inputs and commands what the board drives: eight outputs follow a schedule, pulses or a thermostat, by the processor's own time base, from the moment "
        + "when the reset is released. Shows which dips of the supply reset it and how often, what happens when nobody watches the supply, and how a weak pin, a pin "
        + "that is stuck or a wrong time base look from outside. The processor hangs with its outputs as they were when its supply falls below what its program needs.";

    /// <inheritdoc/>
    public override string Topology => """
         V_supply V_dip R_supply L_supply
         (+)------(~)---/\/\----UUUU----supply--+------------+---------+----------+
                                                |            |         |          |
                                            C_decoupling  R_reset   +----+     +-----+--- out1 (P1) -- R_load1
                                            C_chip           |      | U2 |     |     |    ...
                                                |          reset ---|    |     | U1  |--- out8 (P8)
                                                |            |      +----+     |     |
                                                |            +-----------------|     |--- adc1 -- R_adc1, V_adc1
                                                |                      |       |     |--- in1..in4 -- R_in1.. to supply
         ground --------------------------------+----------------------+-------+-----+
         U2: supply supervisor (brown-out detector), U1: processor, P1..P8: its outputs
        """;

    /// <inheritdoc/>
    public override bool LineSide => false;

    /// <summary>Supply voltage that the processor is meant for, in volts.</summary>
    [Quantity("supply.nominal", "V", 1, 15, "Supply voltage that the board is designed for; digital inputs switch at half of it.")]
    public double NominalSupply { get; set; } = 5;

    /// <summary>Voltage of the bench's supply, in volts; null for the nominal one.</summary>
    [Quantity("supply.voltage", "V", 1, 15, "Voltage of the supply; the nominal one unless set.", OnBenchOnly = true)]
    public double? SupplyVoltage { get; set; }

    /// <summary>Resistance of the bench's supply, in ohms.</summary>
    [Quantity("supply.resistance", "ohm", 1e-3, 1000, "Resistance of the supply.", OnBenchOnly = true)]
    public double SupplyResistance { get; set; } = 0.1;

    /// <summary>Inductance of the bench's supply, in henries.</summary>
    [Quantity("supply.inductance", "H", 1e-9, 1e-3, "Inductance of the wiring from the supply.", OnBenchOnly = true)]
    public double SupplyInductance { get; set; } = 200e-9;

    /// <summary>Time in seconds in which the bench's supply comes up.</summary>
    [Quantity("supply.rise-time", "s", 1e-6, 100, "Time in which the supply comes up from zero.", OnBenchOnly = true)]
    public double RiseTime { get; set; } = 2e-3;

    /// <summary>Voltage to which the supply falls in a dip, in volts.</summary>
    [Quantity("dip.voltage", "V", 0, 15, "Voltage to which the supply falls in a dip.", OnBenchOnly = true)]
    public double DipVoltage { get; set; } = 3.5;

    /// <summary>Instant in seconds of the first dip; null for none.</summary>
    [Quantity("dip.at", "s", 1e-3, 1e6, "When the supply begins to fall; never unless set.", OnBenchOnly = true)]
    public double? DipAt { get; set; }

    /// <summary>Length of a dip in seconds.</summary>
    [Quantity("dip.for", "s", 1e-6, 1e5, "How long a dip lasts.", OnBenchOnly = true)]
    public double DipFor { get; set; } = 10e-3;

    /// <summary>Time in seconds from one dip to the next; null for a single one.</summary>
    [Quantity("dip.every", "s", 1e-3, 1e6, "Time from one dip to the next; a single one unless set.", OnBenchOnly = true)]
    public double? DipEvery { get; set; }

    /// <summary>Edge of a dip in seconds.</summary>
    [Quantity("dip.edge", "s", 1e-9, 10, "Time in which the supply falls and comes back.", OnBenchOnly = true)]
    public double DipEdge { get; set; } = 100e-6;

    /// <summary>Decoupling capacitance in farads.</summary>
    [Quantity("decoupling.capacitance", "F", 1e-9, 10e-3, "Capacitor across the processor's supply, next to it.")]
    public double Decoupling { get; set; } = 10e-6;

    /// <summary>Series resistance of the decoupling capacitor, in ohms.</summary>
    [Quantity("decoupling.esr", "ohm", 1e-4, 100, "Series resistance of the decoupling capacitor.")]
    public double DecouplingEsr { get; set; } = 0.05;

    /// <summary>Supply current while the program runs, in amperes.</summary>
    [Quantity("processor.current", "A", 0, 1, "Supply current while the program runs; 5 to 30 mA for a small controller.")]
    public double RunCurrent { get; set; } = 15e-3;

    /// <summary>Supply current in reset, in amperes.</summary>
    [Quantity("processor.reset-current", "A", 0, 1, "Supply current in reset.")]
    public double ResetCurrent { get; set; } = 3e-3;

    /// <summary>Supply voltage below which a running program loses its way, in volts.</summary>
    [Quantity("processor.minimum-voltage", "V", 1.5, 15, "Supply voltage below which a running program loses its way; set by the clock frequency.")]
    public double MinimumVoltage { get; set; } = 3.3;

    /// <summary>Supply voltage from which the processor takes part at all, in volts.</summary>
    [Quantity("processor.power-on-voltage", "V", 0.5, 10, "Supply voltage from which the processor takes part at all; below it even one that hangs forgets.")]
    public double PowerOnVoltage { get; set; } = 1.4;

    /// <summary>Time from the release of the reset to the program's beginning, in seconds.</summary>
    [Quantity("processor.start-up", "s", 0, 10, "Time from the release of the reset to the program's beginning, by the processor's time base.")]
    public double StartUp { get; set; } = 5e-3;

    /// <summary>Frequency of the time base relative to the due one.</summary>
    [Quantity("processor.time-base", "", 0.1, 3, "Frequency of the time base relative to the due one; all times of the program scale with it.")]
    public double TimeBase { get; set; } = 1;

    /// <summary>Threshold of the supervisor for a falling supply, in volts.</summary>
    [Quantity("reset.threshold", "V", 0.5, 15, "Threshold of the supervisor for a falling supply: 2.7 V and 4.3 V are usual levels of a brown-out detector.")]
    public double ResetThreshold { get; set; } = 4.3;

    /// <summary>Hysteresis of the supervisor, in volts.</summary>
    [Quantity("reset.hysteresis", "V", 1e-3, 2, "By how much the threshold for a rising supply lies higher; 50 mV is usual.")]
    public double ResetHysteresis { get; set; } = 0.05;

    /// <summary>Time-out of the supervisor, in seconds.</summary>
    [Quantity("reset.delay", "s", 0, 10, "Time for which the reset stays low after the supply has come back.")]
    public double ResetDelay { get; set; } = 20e-3;

    /// <summary>Length of a dip that the supervisor just notices, in seconds.</summary>
    [Quantity("reset.reaction", "s", 0, 1, "Length of a dip that the supervisor just notices; some microseconds.")]
    public double ResetReaction { get; set; } = 2e-6;

    /// <summary>Pull-up of the reset line, in ohms.</summary>
    [Quantity("reset.pull-up", "ohm", 100, 1e6, "Pull-up resistor of the reset line.")]
    public double ResetPullUp { get; set; } = 10e3;

    /// <summary>Resistance of an output towards the supply, in ohms.</summary>
    [Quantity("port.source-resistance", "ohm", 1, 10e3, "Resistance of an output that is high, towards the supply; 20 to 60 ohm.")]
    public double SourceResistance { get; set; } = 40;

    /// <summary>Resistance of an output towards the ground, in ohms.</summary>
    [Quantity("port.sink-resistance", "ohm", 1, 10e3, "Resistance of an output that is low, towards the ground; 15 to 45 ohm.")]
    public double SinkResistance { get; set; } = 25;

    /// <summary>Largest current out of an output, in amperes.</summary>
    [Quantity("port.source-limit", "A", 1e-4, 1, "Current at which an output that is high gives no more.")]
    public double SourceLimit { get; set; } = 40e-3;

    /// <summary>Largest current into an output, in amperes.</summary>
    [Quantity("port.sink-limit", "A", 1e-4, 1, "Current at which an output that is low takes no more.")]
    public double SinkLimit { get; set; } = 60e-3;

    /// <summary>Pull-down of the outputs in reset, in ohms; null for none.</summary>
    [Quantity("port.pull-down", "ohm", 1e3, 10e6, "Weak pull-down that the outputs have in reset; none unless set, and what they drive needs one of its own.")]
    public double? PullDown { get; set; }

    /// <summary>How the pulses of outputs are computed.</summary>
    [Choice("pulses", "Pulses of outputs edge by edge, or by their mean: for loads that average by themselves, in runs over minutes and hours.")]
    public PulseDetail Pulses { get; set; } = PulseDetail.Edges;

    /// <summary>Ratio of the analog input to the supply at which the thermostat turns heat on.</summary>
    [Quantity("thermostat.on-ratio", "", 0, 1, "Ratio of the analog input to the supply at which heat goes on; above the off-ratio for a thermistor towards ground.")]
    public double OnRatio { get; set; } = 0.6;

    /// <summary>Ratio at which it turns heat off.</summary>
    [Quantity("thermostat.off-ratio", "", 0, 1, "Ratio at which heat goes off.")]
    public double OffRatio { get; set; } = 0.55;

    /// <summary>Time between two looks at the analog input, in seconds.</summary>
    [Quantity("thermostat.sampling", "s", 1e-4, 1000, "Program time between two looks at the analog input.")]
    public double Sampling { get; set; } = 0.1;

    /// <summary>Resistance that leaks from the analog input to ground, in ohms.</summary>
    [Quantity("adc1.input-resistance", "ohm", 1e3, 1e12, "Input resistance of the analog input.")]
    public double AnalogResistance { get; set; } = 100e6;

    /// <summary>Voltage at the analog input at the start, in volts.</summary>
    [Quantity("adc1.from", "V", 0, 15, "Voltage that the bench puts on the analog input at the start.", OnBenchOnly = true)]
    public double AnalogFrom { get; set; } = 3.2;

    /// <summary>Voltage at the analog input at the end of the ramp, in volts.</summary>
    [Quantity("adc1.to", "V", 0, 15, "Voltage that it goes to on a straight line.", OnBenchOnly = true)]
    public double AnalogTo { get; set; } = 2.6;

    /// <summary>Length of the ramp in seconds.</summary>
    [Quantity("adc1.within", "s", 1e-3, 1e6, "Time that this takes.", OnBenchOnly = true)]
    public double AnalogWithin { get; set; } = 1;

    /// <summary>Pull-up of the digital inputs, in ohms.</summary>
    [Quantity("input.pull-up", "ohm", 1e3, 10e6, "Pull-up of each digital input to the supply.")]
    public double InputPullUp { get; set; } = 47e3;

    /// <summary>Load of each output that is used, in ohms.</summary>
    [Quantity("load.resistance", "ohm", 1, 1e9, "Resistance from each used output to ground.", OnBenchOnly = true)]
    public double LoadResistance { get; set; } = 1000;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports { get; } =
    [
        new() { Name = "supply", Node = "supply", Description = "Supply of the processor." },
        new() { Name = "ground", Node = Circuit.Ground, Description = "Ground." },
        .. Enumerable.Range(1, 8).Select(n => new Port { Name = $"out{n}", Node = $"out{n}", Description = $"Output {n}.", IsOptional = true }),
        new() { Name = "adc1", Node = "adc1", Description = "Analog input: read as a ratio to the supply.", IsOptional = true },
        .. Enumerable.Range(1, Inputs).Select(n => new Port { Name = $"in{n}", Node = $"in{n}", Description = $"Digital input {n}, pulled up to the supply.", IsOptional = true }),
        new() { Name = "reset", Node = "reset", Description = "Reset line, low active.", IsOptional = true },
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_supply", "V_adc1"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } =
    [
        "V_supply", "V_dip", "R_supply", "L_supply", "V_adc1", .. Enumerable.Range(1, 8).Select(n => $"R_load{n}"),
    ];

    private double Volts => SupplyVoltage ?? NominalSupply;

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        if (!(MinimumVoltage > PowerOnVoltage))
        {
            yield return "processor.minimum-voltage must be above processor.power-on-voltage.";
        }

        if (OnRatio == OffRatio)
        {
            yield return "thermostat.on-ratio and thermostat.off-ratio must differ.";
        }

        if (DipAt is not null && DipEvery < DipFor + 2 * DipEdge)
        {
            yield return "dip.every must be longer than dip.for and the edges of the dip.";
        }

        if (DipAt is not null && !(DipVoltage < Volts))
        {
            yield return "dip.voltage must be below supply.voltage.";
        }

        foreach (var output in Outputs.Where(o => o.Mode is OutputMode.Schedule or OutputMode.Pwm))
        {
            if (output.OffAt <= output.OnAt)
            {
                yield return $"{output.Pin}.off-at must be later than {output.Pin}.on-at.";
            }

            if (output is { Mode: OutputMode.Schedule, Period: { } period } && !((output.OffAt ?? double.PositiveInfinity) <= period))
            {
                yield return $"{output.Pin}.off-at must be set and lie within {output.Pin}.period: the schedule repeats.";
            }
        }
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        AddBench(circuit);
        circuit.Add(new Capacitor("C_decoupling", "supply", Circuit.Ground, Decoupling) { SeriesResistance = DecouplingEsr });

        // What the chip and its tracks have of their own, in series with what they lose.
        circuit.Add(new Capacitor("C_chip", "supply", Circuit.Ground, 1e-9) { SeriesResistance = 2 });
        circuit.Add(new Resistor("R_reset", "supply", "reset", ResetPullUp));
        circuit.Add(new ResetSupervisor("U2", "supply", Circuit.Ground, "reset", ResetThreshold)
        {
            Hysteresis = ResetHysteresis,
            Delay = ResetDelay,
            ReactionTime = ResetReaction,
        });
        var outputs = Outputs;
        circuit.Add(new Processor("U1", "supply", Circuit.Ground, "reset", "adc1")
        {
            RunCurrent = RunCurrent,
            ResetCurrent = ResetCurrent,
            MinimumVoltage = MinimumVoltage,
            PowerOnVoltage = PowerOnVoltage,
            StartUpTime = StartUp,
            ClockRatio = TimeBase,
            Programs = [.. outputs.Select(o => ProgramOf(o, Pulses))],
            Thermostat = outputs.Any(o => o.Mode == OutputMode.Thermostat) ? new Thermostat(OnRatio, OffRatio, Sampling) : null,
        });
        foreach (var output in outputs)
        {
            circuit.Add(output.IsUsed
                ? new ProcessorPort(output.Part, output.Pin, "supply", Circuit.Ground, "U1", output.Number - 1)
                {
                    SourceResistance = SourceResistance,
                    SinkResistance = SinkResistance,
                    SourceLimit = SourceLimit,
                    SinkLimit = SinkLimit,
                    PullDown = PullDown ?? double.PositiveInfinity,
                }
                : (Device)new Resistor(output.Part, output.Pin, Circuit.Ground, 10e6));
        }

        circuit.Add(new Resistor("R_adc1", "adc1", Circuit.Ground, AnalogResistance));
        for (var n = 1; n <= Inputs; n++)
        {
            circuit.Add(new Resistor($"R_in{n}", "supply", $"in{n}", InputPullUp));
        }

        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = Points(),
            Currents = Clamps(),
            Readouts = WhatTheProgramReads(),
            States = StatesOfTheProcessor(),
            SuggestedStop = 0.25,
            StartsAtRest = true,
        };
    }

    private static PortProgram ProgramOf(Output output, PulseDetail detail) => new()
    {
        Mode = output.Mode switch
        {
            OutputMode.On => PortMode.On,
            OutputMode.Schedule => PortMode.Schedule,
            OutputMode.Pwm => PortMode.Pwm,
            OutputMode.Thermostat => PortMode.Thermostat,
            _ => PortMode.Off,
        },
        OnAt = output.OnAt,
        OffAt = output.OffAt ?? double.PositiveInfinity,
        Period = output.Period ?? (output.Mode == OutputMode.Pwm ? 1e-3 : double.PositiveInfinity),
        Duty = output.Duty,
        IsMean = detail == PulseDetail.Mean,
    };

    private void AddBench(Circuit circuit)
    {
        circuit.Add(new VoltageSource("V_supply", "mains", Circuit.Ground, new PiecewiseLinearWaveform([0, RiseTime], [0, Volts])));
        circuit.Add(new VoltageSource("V_dip", "dipping", "mains", DipAt is { } at
            ? new PulseWaveform { High = DipVoltage - Volts, Delay = at, Rise = DipEdge, Fall = DipEdge, Width = DipFor, Period = DipEvery ?? double.PositiveInfinity }
            : new DcWaveform(0)));
        circuit.Add(new Resistor("R_supply", "dipping", "wire", SupplyResistance));
        circuit.Add(new Inductor("L_supply", "wire", "supply", SupplyInductance));
        circuit.Add(new VoltageSource("V_adc1", "adc1", Circuit.Ground, new PiecewiseLinearWaveform([0, AnalogWithin], [AnalogFrom, AnalogTo])));
        foreach (var output in Outputs.Where(o => o.IsUsed))
        {
            circuit.Add(new Resistor($"R_load{output.Number}", output.Pin, Circuit.Ground, LoadResistance));
        }
    }
}
