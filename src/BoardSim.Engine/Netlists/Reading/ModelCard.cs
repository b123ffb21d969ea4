namespace BoardSim.Engine.Netlists.Reading;

/// <summary>A <c>.model</c> card after reading: its name, its type's letters and the parameters as a record of <c>Devices</c>.</summary>
/// <param name="Name">Name of the model.</param>
/// <param name="Type">D, NPN, PNP, NMOS, PMOS, SW, CSW, R or C.</param>
/// <param name="Parameters">The record; null when the type is unknown, which is reported at the card.</param>
internal sealed record ModelCard(Token Name, string Type, object? Parameters);
