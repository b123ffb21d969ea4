using System.Text.Json;

namespace BoardSim.Benchmarks.Boards;

/// <summary>What a metric should be.</summary>
/// <param name="Value">The value, in SI units.</param>
/// <param name="Uncertainty">How far it may be off.</param>
internal readonly record struct Reference(double Value, double Uncertainty)
{
    /// <summary>The uncertainty relative to the value.</summary>
    public double Relative => Uncertainty / Math.Abs(Value);

    /// <summary>Error of a result, relative to the value.</summary>
    /// <param name="value">The result.</param>
    public double ErrorOf(double value) => Math.Abs(value - Value) / Math.Abs(Value);

    /// <summary>Reads <c>{"metrics": {NAME: {"value": .., "uncertainty": ..}}}</c>.</summary>
    /// <param name="path">Path of the file.</param>
    public static IReadOnlyDictionary<string, Reference> ReadAll(string path)
    {
        using var document = JsonDocument.Parse(File.ReadAllText(path));
        return document.RootElement.GetProperty("metrics").EnumerateObject().ToDictionary(
            m => m.Name,
            m => new Reference(m.Value.GetProperty("value").GetDouble(), m.Value.GetProperty("uncertainty").GetDouble()));
    }
}
