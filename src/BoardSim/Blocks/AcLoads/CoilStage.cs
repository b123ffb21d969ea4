using BoardSim.Blocks.Relays;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks.AcLoads;

/// <summary>
/// Transistor that switches a relay's coil against ground, as in <see cref="RelayDriver"/> without its choices: base resistor, pull-down, transistor. The free-wheel diode is
/// the block's own, across the coil, in either drive.
/// </summary>
/// <param name="Suffix">What the names of the parts end with, so that a block can have two stages.</param>
/// <param name="Words">What a fault's title calls the stage, such as <c>Forward relay's</c>.</param>
/// <param name="Prefix">What the names of the faults begin with: empty, or words with a hyphen behind.</param>
internal sealed record CoilStage(string Suffix, string Words, string Prefix)
{
    /// <summary>Voltage of a processor's output in volts, for benches.</summary>
    public const double Logic = 5;

    private const double Gain = 200;

    private string Transistor => $"Q_{Suffix}";

    private string BaseResistor => $"R_base_{Suffix}";

    /// <summary>Puts the stage into a circuit.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="command">Node of the processor's output.</param>
    /// <param name="collector">Node of the coil's lower end.</param>
    /// <param name="ground">Node of the ground.</param>
    /// <param name="baseResistance">Base resistor in ohms.</param>
    public void AddTo(Circuit circuit, string command, string collector, string ground, double baseResistance)
    {
        circuit.Add(new Resistor(BaseResistor, command, $"base-{Suffix}", baseResistance));
        circuit.Add(new Resistor($"R_pulldown_{Suffix}", $"base-{Suffix}", ground, 47e3));
        circuit.Add(new BipolarTransistor(Transistor, collector, $"base-{Suffix}", ground, DriverModels.SmallNpn(Gain)));
    }

    /// <summary>Its faults.</summary>
    public IEnumerable<FaultDefinition> Faults()
    {
        yield return new((board, _) => PartEdits.Open(board, Transistor))
        {
            Id = $"{Prefix}driver-open",
            Title = $"{Words} driver transistor open",
            Mechanism = "An over-current burst took the bond wire, or a joint cracked: the processor's output goes high and nothing clicks.",
            Part = Transistor,
        };
        yield return new((board, ohms) => PartEdits.Across(board, Transistor, ohms, 0, 2))
        {
            Id = $"{Prefix}driver-shorted",
            Title = $"{Words} driver transistor shorted",
            Mechanism = "Over-voltage from the coil or too much heat fused collector to emitter: the relay pulls in with the rail and stays in, whatever the program wants.",
            Part = Transistor,
            Severity = new SeverityDefinition { Unit = "ohm", Default = 1, Minimum = 0.001, Maximum = 1e6, Description = "What is left between collector and emitter." },
        };
        yield return new((board, _) => PartEdits.Open(board, BaseResistor))
        {
            Id = $"{Prefix}base-resistor-open",
            Title = $"{Words} base resistor open",
            Mechanism = "A cracked chip resistor after the board was bent, or a dry joint: the output is high and the base is not.",
            Part = BaseResistor,
        };
    }
}
