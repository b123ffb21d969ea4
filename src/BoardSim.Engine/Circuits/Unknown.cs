namespace BoardSim.Engine.Circuits;

/// <summary>One unknown of a circuit's equations: a node's voltage, a branch's current or a device's own state.</summary>
/// <param name="Index">Position in the solution vector, from 1; 0 is the ground, which is no unknown.</param>
/// <param name="Name">The node's name, or device name and a suffix, such as <c>L1#i</c>.</param>
/// <param name="Kind">Its physical quantity.</param>
/// <param name="Owner">The device that declared it; null for a node of the circuit.</param>
public sealed record Unknown(int Index, string Name, UnknownKind Kind, string? Owner);
