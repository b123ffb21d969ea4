namespace BoardSim.Engine.Devices;

/// <summary>Checks of model parameters that many devices share; each breach is one sentence.</summary>
internal static class Ranges
{
    public static IEnumerable<string> Positive(string name, params (string What, double Value)[] parameters) =>
        parameters.Where(p => !(p.Value > 0)).Select(p => $"{name}: {p.What} {p.Value}; it must be positive.");

    public static IEnumerable<string> NotNegative(string name, params (string What, double Value)[] parameters) =>
        parameters.Where(p => !(p.Value >= 0 && double.IsFinite(p.Value)))
            .Select(p => $"{name}: {p.What} {p.Value}; it must be zero or more and finite.");

    public static IEnumerable<string> Fractions(string name, params (string What, double Value)[] parameters) =>
        parameters.Where(p => !(p.Value >= 0 && p.Value < 1)).Select(p => $"{name}: {p.What} {p.Value}; it must be 0 or more and below 1.");

    /// <summary>Complains when an inner node that was bound is no longer needed, or the other way round.</summary>
    /// <exception cref="InvalidOperationException">A series resistance came or went since the circuit was compiled.</exception>
    public static void SameInnerNode(string name, string what, bool bound, bool needed)
    {
        if (bound != needed)
        {
            throw new InvalidOperationException(
                $"{name}: {what} {(needed ? "was zero" : "was above zero")} when the circuit was compiled and now it is {(needed ? "not" : "zero")}; compile the circuit again.");
        }
    }
}
