namespace BoardSim.Blocks.Processors;

// What the program does with each of the eight outputs; all times count from the program's beginning, by the processor's own time base.
public sealed partial class ProcessorSupply
{
    /// <summary>What the program does with output 1.</summary>
    [Choice("out1.mode", "What the program does with output 1: nothing, low, high, a schedule, pulses, or what the thermostat asks for.")]
    public OutputMode Out1Mode { get; set; } = OutputMode.Schedule;

    /// <summary>When output 1 goes high, in seconds of program time.</summary>
    [Quantity("out1.on-at", "s", 0, 1e8, "Program time at which a schedule goes high or pulses begin.")]
    public double Out1OnAt { get; set; } = 20e-3;

    /// <summary>When output 1 goes low again, in seconds of program time; null for never.</summary>
    [Quantity("out1.off-at", "s", 1e-6, 1e8, "Program time at which a schedule goes low or pulses end; never unless set.")]
    public double? Out1OffAt { get; set; }

    /// <summary>Period of output 1 in seconds; null for pulses of 1 ms and for a schedule that does not repeat.</summary>
    [Quantity("out1.period", "s", 1e-6, 1e8, "Period of pulses, 1 ms unless set, or of a schedule that repeats; a schedule runs once unless set.")]
    public double? Out1Period { get; set; }

    /// <summary>Duty factor of output 1.</summary>
    [Quantity("out1.duty", "", 0, 1, "Share of the period that a pulse takes.")]
    public double Out1Duty { get; set; } = 0.5;

    /// <summary>What the program does with output 2.</summary>
    [Choice("out2.mode", "What the program does with output 2: nothing, low, high, a schedule, pulses, or what the thermostat asks for.")]
    public OutputMode Out2Mode { get; set; } = OutputMode.Unused;

    /// <summary>When output 2 goes high, in seconds of program time.</summary>
    [Quantity("out2.on-at", "s", 0, 1e8, "Program time at which a schedule goes high or pulses begin.")]
    public double Out2OnAt { get; set; }

    /// <summary>When output 2 goes low again, in seconds of program time; null for never.</summary>
    [Quantity("out2.off-at", "s", 1e-6, 1e8, "Program time at which a schedule goes low or pulses end; never unless set.")]
    public double? Out2OffAt { get; set; }

    /// <summary>Period of output 2 in seconds; null for pulses of 1 ms and for a schedule that does not repeat.</summary>
    [Quantity("out2.period", "s", 1e-6, 1e8, "Period of pulses, 1 ms unless set, or of a schedule that repeats; a schedule runs once unless set.")]
    public double? Out2Period { get; set; }

    /// <summary>Duty factor of output 2.</summary>
    [Quantity("out2.duty", "", 0, 1, "Share of the period that a pulse takes.")]
    public double Out2Duty { get; set; } = 0.5;

    /// <summary>What the program does with output 3.</summary>
    [Choice("out3.mode", "What the program does with output 3: nothing, low, high, a schedule, pulses, or what the thermostat asks for.")]
    public OutputMode Out3Mode { get; set; } = OutputMode.Unused;

    /// <summary>When output 3 goes high, in seconds of program time.</summary>
    [Quantity("out3.on-at", "s", 0, 1e8, "Program time at which a schedule goes high or pulses begin.")]
    public double Out3OnAt { get; set; }

    /// <summary>When output 3 goes low again, in seconds of program time; null for never.</summary>
    [Quantity("out3.off-at", "s", 1e-6, 1e8, "Program time at which a schedule goes low or pulses end; never unless set.")]
    public double? Out3OffAt { get; set; }

    /// <summary>Period of output 3 in seconds; null for pulses of 1 ms and for a schedule that does not repeat.</summary>
    [Quantity("out3.period", "s", 1e-6, 1e8, "Period of pulses, 1 ms unless set, or of a schedule that repeats; a schedule runs once unless set.")]
    public double? Out3Period { get; set; }

    /// <summary>Duty factor of output 3.</summary>
    [Quantity("out3.duty", "", 0, 1, "Share of the period that a pulse takes.")]
    public double Out3Duty { get; set; } = 0.5;

    /// <summary>What the program does with output 4.</summary>
    [Choice("out4.mode", "What the program does with output 4: nothing, low, high, a schedule, pulses, or what the thermostat asks for.")]
    public OutputMode Out4Mode { get; set; } = OutputMode.Unused;

    /// <summary>When output 4 goes high, in seconds of program time.</summary>
    [Quantity("out4.on-at", "s", 0, 1e8, "Program time at which a schedule goes high or pulses begin.")]
    public double Out4OnAt { get; set; }

    /// <summary>When output 4 goes low again, in seconds of program time; null for never.</summary>
    [Quantity("out4.off-at", "s", 1e-6, 1e8, "Program time at which a schedule goes low or pulses end; never unless set.")]
    public double? Out4OffAt { get; set; }

    /// <summary>Period of output 4 in seconds; null for pulses of 1 ms and for a schedule that does not repeat.</summary>
    [Quantity("out4.period", "s", 1e-6, 1e8, "Period of pulses, 1 ms unless set, or of a schedule that repeats; a schedule runs once unless set.")]
    public double? Out4Period { get; set; }

    /// <summary>Duty factor of output 4.</summary>
    [Quantity("out4.duty", "", 0, 1, "Share of the period that a pulse takes.")]
    public double Out4Duty { get; set; } = 0.5;

    /// <summary>What the program does with output 5.</summary>
    [Choice("out5.mode", "What the program does with output 5: nothing, low, high, a schedule, pulses, or what the thermostat asks for.")]
    public OutputMode Out5Mode { get; set; } = OutputMode.Unused;

    /// <summary>When output 5 goes high, in seconds of program time.</summary>
    [Quantity("out5.on-at", "s", 0, 1e8, "Program time at which a schedule goes high or pulses begin.")]
    public double Out5OnAt { get; set; }

    /// <summary>When output 5 goes low again, in seconds of program time; null for never.</summary>
    [Quantity("out5.off-at", "s", 1e-6, 1e8, "Program time at which a schedule goes low or pulses end; never unless set.")]
    public double? Out5OffAt { get; set; }

    /// <summary>Period of output 5 in seconds; null for pulses of 1 ms and for a schedule that does not repeat.</summary>
    [Quantity("out5.period", "s", 1e-6, 1e8, "Period of pulses, 1 ms unless set, or of a schedule that repeats; a schedule runs once unless set.")]
    public double? Out5Period { get; set; }

    /// <summary>Duty factor of output 5.</summary>
    [Quantity("out5.duty", "", 0, 1, "Share of the period that a pulse takes.")]
    public double Out5Duty { get; set; } = 0.5;

    /// <summary>What the program does with output 6.</summary>
    [Choice("out6.mode", "What the program does with output 6: nothing, low, high, a schedule, pulses, or what the thermostat asks for.")]
    public OutputMode Out6Mode { get; set; } = OutputMode.Unused;

    /// <summary>When output 6 goes high, in seconds of program time.</summary>
    [Quantity("out6.on-at", "s", 0, 1e8, "Program time at which a schedule goes high or pulses begin.")]
    public double Out6OnAt { get; set; }

    /// <summary>When output 6 goes low again, in seconds of program time; null for never.</summary>
    [Quantity("out6.off-at", "s", 1e-6, 1e8, "Program time at which a schedule goes low or pulses end; never unless set.")]
    public double? Out6OffAt { get; set; }

    /// <summary>Period of output 6 in seconds; null for pulses of 1 ms and for a schedule that does not repeat.</summary>
    [Quantity("out6.period", "s", 1e-6, 1e8, "Period of pulses, 1 ms unless set, or of a schedule that repeats; a schedule runs once unless set.")]
    public double? Out6Period { get; set; }

    /// <summary>Duty factor of output 6.</summary>
    [Quantity("out6.duty", "", 0, 1, "Share of the period that a pulse takes.")]
    public double Out6Duty { get; set; } = 0.5;

    /// <summary>What the program does with output 7.</summary>
    [Choice("out7.mode", "What the program does with output 7: nothing, low, high, a schedule, pulses, or what the thermostat asks for.")]
    public OutputMode Out7Mode { get; set; } = OutputMode.Unused;

    /// <summary>When output 7 goes high, in seconds of program time.</summary>
    [Quantity("out7.on-at", "s", 0, 1e8, "Program time at which a schedule goes high or pulses begin.")]
    public double Out7OnAt { get; set; }

    /// <summary>When output 7 goes low again, in seconds of program time; null for never.</summary>
    [Quantity("out7.off-at", "s", 1e-6, 1e8, "Program time at which a schedule goes low or pulses end; never unless set.")]
    public double? Out7OffAt { get; set; }

    /// <summary>Period of output 7 in seconds; null for pulses of 1 ms and for a schedule that does not repeat.</summary>
    [Quantity("out7.period", "s", 1e-6, 1e8, "Period of pulses, 1 ms unless set, or of a schedule that repeats; a schedule runs once unless set.")]
    public double? Out7Period { get; set; }

    /// <summary>Duty factor of output 7.</summary>
    [Quantity("out7.duty", "", 0, 1, "Share of the period that a pulse takes.")]
    public double Out7Duty { get; set; } = 0.5;

    /// <summary>What the program does with output 8.</summary>
    [Choice("out8.mode", "What the program does with output 8: nothing, low, high, a schedule, pulses, or what the thermostat asks for.")]
    public OutputMode Out8Mode { get; set; } = OutputMode.Unused;

    /// <summary>When output 8 goes high, in seconds of program time.</summary>
    [Quantity("out8.on-at", "s", 0, 1e8, "Program time at which a schedule goes high or pulses begin.")]
    public double Out8OnAt { get; set; }

    /// <summary>When output 8 goes low again, in seconds of program time; null for never.</summary>
    [Quantity("out8.off-at", "s", 1e-6, 1e8, "Program time at which a schedule goes low or pulses end; never unless set.")]
    public double? Out8OffAt { get; set; }

    /// <summary>Period of output 8 in seconds; null for pulses of 1 ms and for a schedule that does not repeat.</summary>
    [Quantity("out8.period", "s", 1e-6, 1e8, "Period of pulses, 1 ms unless set, or of a schedule that repeats; a schedule runs once unless set.")]
    public double? Out8Period { get; set; }

    /// <summary>Duty factor of output 8.</summary>
    [Quantity("out8.duty", "", 0, 1, "Share of the period that a pulse takes.")]
    public double Out8Duty { get; set; } = 0.5;

    private IReadOnlyList<Output> Outputs =>
    [
        new(1, Out1Mode, Out1OnAt, Out1OffAt, Out1Period, Out1Duty),
        new(2, Out2Mode, Out2OnAt, Out2OffAt, Out2Period, Out2Duty),
        new(3, Out3Mode, Out3OnAt, Out3OffAt, Out3Period, Out3Duty),
        new(4, Out4Mode, Out4OnAt, Out4OffAt, Out4Period, Out4Duty),
        new(5, Out5Mode, Out5OnAt, Out5OffAt, Out5Period, Out5Duty),
        new(6, Out6Mode, Out6OnAt, Out6OffAt, Out6Period, Out6Duty),
        new(7, Out7Mode, Out7OnAt, Out7OffAt, Out7Period, Out7Duty),
        new(8, Out8Mode, Out8OnAt, Out8OffAt, Out8Period, Out8Duty),
    ];

    private sealed record Output(int Number, OutputMode Mode, double OnAt, double? OffAt, double? Period, double Duty)
    {
        public string Pin => $"out{Number}";

        public string Part => $"P{Number}";

        public bool IsUsed => Mode != OutputMode.Unused;
    }
}
