using System.Text.Json.Serialization;

namespace BoardSim.Campaign.Judging;

/// <summary>What became of a case.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<Verdict>))]
public enum Verdict
{
    /// <summary>The run reached its end, finite everywhere, with its power and its currents in balance.</summary>
    Converged,

    /// <summary>The structural check refused the circuit, and names what is wrong with it.</summary>
    Refused,

    /// <summary>Anything else.</summary>
    Failed,
}
