using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.Processors;

public sealed partial class ProcessorSupply
{
    /// <inheritdoc/>
    public override IReadOnlyList<FaultDefinition> Faults => [.. ResetFaults(), .. TimeBaseFaults(), .. Outputs.Where(o => o.IsUsed).SelectMany(PinFaults)];

    private static IEnumerable<FaultDefinition> ResetFaults()
    {
        yield return new(static (board, volts) => PartEdits.Change<ResetSupervisor>(board, "U2", s => s.Threshold = volts))
        {
            Id = "reset-threshold-drifted",
            Title = "Reset threshold too high",
            Mechanism = "A supervisor of the next higher level was put in, or its divider has drifted: ripple and load steps that are quite in order reset the processor again and again.",
            Part = "U2",
            Severity = new SeverityDefinition { Unit = "V", Default = 4.9, Minimum = 0.5, Maximum = 15, Description = "Threshold for a falling supply." },
        };
        yield return new(static (board, _) => PartEdits.Change<ResetSupervisor>(board, "U2", s => s.IsWatching = false))
        {
            Id = "brown-out-detector-dead",
            Title = "Brown-out detector dead",
            Mechanism = "Fuses set wrongly when the processor was programmed, or a dead supervisor: nobody stops the program when the supply dips, and it loses its way.",
            Part = "U2",
        };
        yield return new(static (board, ohms) => PartEdits.Add(board, new Resistor("R_leak", "reset", Circuit.Ground, ohms)))
        {
            Id = "reset-line-leaky",
            Title = "Reset line leaky",
            Mechanism = "Flux residues or condensed steam between the reset line and ground: with the pull-up they make a divider, near or below the level that counts as released.",
            Part = "R_reset",
            Severity = new SeverityDefinition { Unit = "ohm", Default = 12e3, Minimum = 1, Maximum = 1e9, Description = "Leakage resistance from the reset line to ground." },
        };
        yield return new(static (board, _) => PartEdits.Add(board, new Resistor("R_held", "reset", Circuit.Ground, PartEdits.ShortOhms)))
        {
            Id = "reset-line-held-low",
            Title = "Reset line held low",
            Mechanism = "A shorted capacitor on the reset line, a solder bridge, or a supervisor whose output has fused: the processor never begins.",
            Part = "R_reset",
        };
        yield return new(static (board, _) => PartEdits.Open(board, "C_decoupling"))
        {
            Id = "decoupling-open",
            Title = "Decoupling capacitor open",
            Mechanism = "A ceramic capacitor cracks when the board is bent: each switching output now pulls at the supply through the whole length of the track.",
            Part = "C_decoupling",
        };
    }

    private static IEnumerable<FaultDefinition> TimeBaseFaults()
    {
        yield return new(static (board, ratio) => PartEdits.Change<Processor>(board, "U1", u => u.ClockRatio *= ratio))
        {
            Id = "time-base-off",
            Title = "Time base off frequency",
            Mechanism = "A cracked resonator runs on an overtone or on its stray capacitance, an RC oscillator drifts with heat: all of the program's times are off by the same factor.",
            Part = "U1",
            Severity = new SeverityDefinition { Unit = "", Default = 0.9, Minimum = 0.1, Maximum = 10, Description = "Frequency relative to the right one." },
        };
        yield return new(static (board, _) => PartEdits.Change<Processor>(board, "U1", u => u.ClockRatio = 0))
        {
            Id = "time-base-dead",
            Title = "Time base dead",
            Mechanism = "The resonator is broken or its joint is: supply and reset are in order, and the program never begins.",
            Part = "U1",
        };
    }

    private static IEnumerable<FaultDefinition> PinFaults(Output output)
    {
        var (pin, part) = (output.Pin, output.Part);
        yield return new((board, ohms) => PartEdits.Change<ProcessorPort>(board, part, p =>
        {
            // Less of the transistor is left: resistance and limit change together.
            p.SourceLimit *= p.SourceResistance / ohms;
            p.SourceResistance = ohms;
        }))
        {
            Id = $"{pin}-weak",
            Title = $"Output {output.Number} weak",
            Mechanism = "A surge came back along the wire that hangs on the pin and destroyed most of the output transistor: high is still high for a meter, but not for a load.",
            Part = part,
            Severity = new SeverityDefinition { Unit = "ohm", Default = 1500, Minimum = 1, Maximum = 1e6, Description = "Resistance towards the supply when high; the current limit falls as it rises." },
        };
        yield return new((board, ohms) => PartEdits.Across(board, part, ohms, 0, 1))
        {
            Id = $"{pin}-stuck-high",
            Title = $"Output {output.Number} stuck high",
            Mechanism = "The output transistor to the supply has fused, or solder bridges pin and supply: the program's low fights against it and loses.",
            Part = part,
            Severity = new SeverityDefinition { Unit = "ohm", Default = 3, Minimum = 1e-3, Maximum = 1e6, Description = "Resistance between pin and supply." },
        };
        yield return new((board, ohms) => PartEdits.Across(board, part, ohms, 0, 2))
        {
            Id = $"{pin}-stuck-low",
            Title = $"Output {output.Number} stuck low",
            Mechanism = "The output transistor to ground has fused: whatever hangs on the pin stays off, and the program knows nothing of it.",
            Part = part,
            Severity = new SeverityDefinition { Unit = "ohm", Default = 3, Minimum = 1e-3, Maximum = 1e6, Description = "Resistance between pin and ground." },
        };
    }
}
