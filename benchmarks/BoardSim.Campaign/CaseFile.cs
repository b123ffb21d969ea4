using System.Text.Json;
using System.Text.Json.Serialization;
using BoardSim.Campaign.Drawing;
using BoardSim.Campaign.Judging;

namespace BoardSim.Campaign;

/// <summary>Cases in a file, one JSON object a line: easy to pick from, to join and to compare.</summary>
public static class CaseFile
{
    private static readonly JsonSerializerOptions Options = new() { DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingDefault };

    /// <summary>Writes results, with their verdict and message for the reader.</summary>
    /// <param name="file">The file; it is replaced.</param>
    /// <param name="results">The results.</param>
    public static void Write(string file, IEnumerable<CaseResult> results) =>
        File.WriteAllLines(file, results.Select(r => JsonSerializer.Serialize(new Line(r.Case, r.Message), Options)));

    /// <summary>Reads cases.</summary>
    /// <param name="file">The file.</param>
    public static IReadOnlyList<CampaignCase> Read(string file) => [.. File.ReadLines(file).Where(l => l.Length > 0).Select(Parse)];

    /// <summary>Reads one line.</summary>
    /// <param name="line">A line of such a file.</param>
    public static CampaignCase Parse(string line) =>
        JsonSerializer.Deserialize<Line>(line, Options)?.Case ?? throw new JsonException("A line of a case file holds an object with a case.");

    private sealed record Line(CampaignCase Case, string Message);
}
