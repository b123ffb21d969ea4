using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Processors;

public sealed partial class ProcessorSupply
{
    // Where digital inputs with a Schmitt trigger switch, as parts of the supply that they are read against (common practice, no source).
    private const double InputThreshold = 0.5;

    private List<TestPoint> Points() =>
    [
        Ground("supply", "supply", "Supply of the processor: within a few per cent of its nominal value, without dips."),
        Ground("reset", "reset", "Reset line: low for some milliseconds after power-up, then at the supply for good."),
        .. Outputs.Where(o => o.IsUsed).Select(o => Ground(o.Pin, o.Pin, $"Output {o.Number}: near the supply when high, near ground when low, open in reset.")),
        Ground("adc1", "adc1", "Analog input."),
    ];

    private List<CurrentPoint> Clamps() =>
    [
        new() { Name = "supply", Part = "R_supply", Description = "Current from the supply." },
        new() { Name = "processor", Part = "U1", Description = "Supply current of the processor, without its outputs'." },
        new() { Name = "decoupling", Part = "C_decoupling", Description = "Current into the decoupling capacitor: what switching takes out of it comes back." },
        .. Outputs.Where(o => o.IsUsed).Select(o => new CurrentPoint { Name = o.Pin, Part = o.Part, Description = $"Current into the pin of output {o.Number}; negative when it feeds its load." }),
    ];

    private List<Readout> WhatTheProgramReads()
    {
        var supply = ((ProcessorSupply?)Design ?? this).NominalSupply;
        return
        [
            .. Enumerable.Range(1, Inputs).Select(n => new Readout
            {
                Name = $"in{n}",
                Node = $"in{n}",
                ReferenceNode = Circuit.Ground,
                Unit = "",
                Description = $"Digital input {n} as the program reads it: 1 above half the nominal supply, 0 below.",
                Convert = volts => volts > InputThreshold * supply ? 1 : 0,
            }),
            new()
            {
                Name = "adc1",
                Node = "adc1",
                ReferenceNode = Circuit.Ground,
                Unit = "",
                Description = "Analog input as a ratio to the nominal supply: what the thermostat's ratios are held against while the supply is right.",
                Convert = volts => volts / supply,
            },
        ];
    }

    private static List<StatePoint> StatesOfTheProcessor() =>
    [
        State("reset-count", "", "Number of times that the processor fell back into reset or lost its supply after it had started; 0 in a healthy one."),
        State("running", "", "1 while the program runs, 0 in reset and while it hangs."),
        State("program-time", "s", "Time since the program began, by the processor's own time base; it stands still when the program hangs."),
        State("heat", "", "1 while the thermostat asks for heat."),
    ];

    private static StatePoint State(string name, string unit, string description) =>
        new() { Name = name, Part = "U1", State = name, Unit = unit, Description = description };

    private static TestPoint Ground(string name, string node, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = Circuit.Ground,
        Reference = Reference.BoardGround,
        Description = description,
    };
}
