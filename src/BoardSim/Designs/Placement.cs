using BoardSim.Blocks;

namespace BoardSim.Designs;

/// <summary>A block in its place on a board.</summary>
/// <param name="Name">Name on this board: lower case words joined by hyphens; it stands before the names of the block's values, faults, points and parts.</param>
/// <param name="Block">The block with the values that it has here. A design owns it: nobody else may change it.</param>
/// <param name="Wires">The net that each of its ports is wired to, by the port's name. Optional ports may be missing.</param>
public sealed record Placement(string Name, Block Block, IReadOnlyDictionary<string, string> Wires);
