using System.Security.Cryptography;
using System.Text.Json;
using System.Text.Json.Serialization;
using BoardSim.Engine.Circuits;

namespace BoardSim.Scenarios.Cases;

/// <summary>Tells whether finished cases belong to a scenario and to this program: only then do they go with those still to come.</summary>
internal static class RunIdentity
{
    private static readonly JsonSerializerOptions Exact = new() { NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals };

    /// <summary>This build of the program: the same source gives the same, another engine another.</summary>
    public static string Program { get; } = Hash([.. new[] { typeof(RunIdentity), typeof(CircuitSystem) }.SelectMany(t => t.Module.ModuleVersionId.ToByteArray())]);

    /// <summary>All of a scenario that has a say in what is computed; words for the reader, expectations and figures have none.</summary>
    public static string Of(Scenario scenario) => Hash(JsonSerializer.SerializeToUtf8Bytes(
        scenario with { Id = "", Title = "", About = "", Expectations = [], Figures = [] }, Exact));

    private static string Hash(byte[] bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));
}
