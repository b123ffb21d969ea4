using BoardSim.Blocks.AcLoads;
using BoardSim.Blocks.Chambers;
using BoardSim.Blocks.Converters;
using BoardSim.Blocks.Lines;
using BoardSim.Blocks.Motors;
using BoardSim.Blocks.Processors;
using BoardSim.Blocks.Rectifiers;
using BoardSim.Blocks.Regulators;
using BoardSim.Blocks.Relays;
using BoardSim.Blocks.Selectors;
using BoardSim.Blocks.Sensors;
using BoardSim.Blocks.SerialLinks;
using BoardSim.Blocks.Thermistors;
using BoardSim.Blocks.Transformers;

namespace BoardSim.Blocks;

/// <summary>All blocks that come with the library.</summary>
public static class BlockCatalogue
{
    private static readonly Func<Block>[] Makers =
    [
        () => new MainsOutlet(),
        () => new LineEntry(),
        () => new BridgeBulk(),
        () => new FlybackOutput(),
        () => new FlybackSupply(),
        () => new TransformerSupply(),
        () => new Regulator5V(),
        () => new ProcessorSupply(),
        () => new ThermistorInput(),
        () => new SensorInputs(),
        () => new SelectorSwitches(),
        () => new SerialLink(),
        () => new RelayDriver(),
        () => new ActuatorBridge(),
        () => new FanDrive(),
        () => new Heater(),
        () => new SwitchedLoad(),
        () => new SolenoidValve(),
        () => new AcMotor(),
        () => new MotorReversal(),
        () => new HeatedChamber(),
    ];

    /// <summary>Makers by name: a sweep makes a block for each case, and would make all the others with it.</summary>
    private static readonly Lazy<Dictionary<string, Func<Block>>> ById = new(() => Makers.ToDictionary(make => make().Id, StringComparer.OrdinalIgnoreCase));

    /// <summary>One fresh block of each kind, with default values, in the order of the signal from the line to the load.</summary>
    public static IReadOnlyList<Block> All => [.. Makers.Select(make => make())];

    /// <summary>A fresh block of that name, or null when there is none.</summary>
    /// <param name="id">Name, case-insensitive.</param>
    public static Block? Find(string id) =>
        id is not null && ById.Value.TryGetValue(id, out var make) ? make() : null;

    /// <summary>A fresh block of that name.</summary>
    /// <param name="id">Name, case-insensitive.</param>
    /// <exception cref="KeyNotFoundException">There is no such block.</exception>
    public static Block Create(string id) =>
        Find(id) ?? throw new KeyNotFoundException($"There is no block '{id}'; there are {string.Join(", ", All.Select(b => b.Id))}.");
}
