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
    /// <exception cref="JsonException">A line is no case; the message tells which and where.</exception>
    public static IReadOnlyList<CampaignCase> Read(string file) => [.. File.ReadLines(file).Select(Numbered).OfType<CampaignCase>()];

    private static CampaignCase? Numbered(string line, int index)
    {
        try
        {
            return line.Length > 0 ? Parse(line) : null;
        }
        catch (JsonException wrong)
        {
            throw new JsonException($"line {index + 1}: {wrong.Message}", wrong);
        }
    }

    /// <summary>Reads one line.</summary>
    /// <param name="line">A line of such a file.</param>
    /// <exception cref="JsonException">The line is no case; the message tells where.</exception>
    public static CampaignCase Parse(string line) =>
        JsonSerializer.Deserialize<Line>(line, Options)?.Case ?? throw new JsonException("A line of a case file holds an object with a case.");

    private sealed record Line(CampaignCase Case, string Message);
}
