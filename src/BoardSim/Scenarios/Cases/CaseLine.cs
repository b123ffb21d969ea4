using System.Buffers;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Analyses.PeriodicStates;

namespace BoardSim.Scenarios.Cases;

/// <summary>Header and cases as lines of JSON; numbers are written so that they are read back to the last bit.</summary>
internal static class CaseLine
{
    private const string Format = "boardsim-cases/1";

    private static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>A residual that was never measured is not a number, which plain JSON has no word for.</summary>
    private static readonly JsonSerializerOptions AnyNumber = new() { NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals };

    public static byte[] Header(Scenario scenario) => Line(json =>
    {
        json.WriteString("format", Format);
        json.WriteBoolean("partial", true);
        json.WriteString("about", "Finished cases of a run that has not ended; run the scenario with --resume to go on.");
        json.WriteString("scenario", RunIdentity.Of(scenario));
        json.WriteString("program", RunIdentity.Program);
    });

    /// <summary>What does not go with a scenario in a header; null when all does.</summary>
    public static string? Problem(JsonElement header, Scenario scenario)
    {
        if (header.ValueKind != JsonValueKind.Object || Text(header, "format") != Format)
        {
            return "it is no file of finished cases of this program";
        }

        return Text(header, "scenario") != RunIdentity.Of(scenario) ? "it belongs to another scenario, or the scenario was changed since"
            : Text(header, "program") != RunIdentity.Program ? "it was written by another version of this program"
            : null;
    }

    public static byte[] Case(CaseRecord record) => Line(json =>
    {
        json.WriteNumber("case", record.Number);
        if (record.Failure is { } failure)
        {
            json.WriteString("failure", failure);
            return;
        }

        json.WriteStartArray("values");
        foreach (var value in record.Values)
        {
            if (double.IsNaN(value))
            {
                json.WriteNullValue();
            }
            else
            {
                json.WriteNumberValue(value);
            }
        }

        json.WriteEndArray();
        var e = record.Evidence!;
        json.WriteStartArray("solver");
        foreach (var count in new[] { e.Points, e.Rejected, e.Forced, e.NewtonIterations, e.Factorizations, e.Events })
        {
            json.WriteNumberValue(count);
        }

        foreach (var number in new[] { e.WorstKclResidual, e.PowerBalance, e.SourceEnergy, e.WallSeconds, e.WorstHeatResidual })
        {
            json.WriteStringValue(number.ToString("R", System.Globalization.CultureInfo.InvariantCulture));
        }

        json.WriteStringValue(e.Start);
        json.WriteEndArray();
        if (record.Periodic is { } periodic)
        {
            json.WritePropertyName("periodic");
            JsonSerializer.Serialize(json, periodic, AnyNumber);
        }
    });

    /// <summary>Reads a case; null when the line is none, as the last one of a killed run may be.</summary>
    /// <param name="line">The line without its end.</param>
    public static CaseRecord? Case(ReadOnlyMemory<byte> line)
    {
        try
        {
            using var document = JsonDocument.Parse(line);
            var root = document.RootElement;
            var number = root.GetProperty("case").GetInt32();
            if (root.TryGetProperty("failure", out var failure))
            {
                return new CaseRecord(number, [], null, failure.GetString()!);
            }

            double[] read = [.. root.GetProperty("values").EnumerateArray().Select(v => v.ValueKind == JsonValueKind.Null ? double.NaN : v.GetDouble())];
            return new CaseRecord(number, read, Evidence([.. root.GetProperty("solver").EnumerateArray()]), null)
            {
                Periodic = root.TryGetProperty("periodic", out var periodic) ? periodic.Deserialize<PeriodicEvidence>(AnyNumber) : null,
            };
        }
        catch (Exception e) when (e is JsonException or KeyNotFoundException or InvalidOperationException or FormatException or IndexOutOfRangeException)
        {
            return null;
        }
    }

    private static SolverEvidence Evidence(JsonElement[] parts)
    {
        double Number(int at) => double.Parse(parts[at].GetString()!, System.Globalization.CultureInfo.InvariantCulture);
        return new SolverEvidence
        {
            Points = parts[0].GetInt64(),
            Rejected = parts[1].GetInt64(),
            Forced = parts[2].GetInt64(),
            NewtonIterations = parts[3].GetInt64(),
            Factorizations = parts[4].GetInt64(),
            Events = parts[5].GetInt64(),
            WorstKclResidual = Number(6),
            PowerBalance = Number(7),
            SourceEnergy = Number(8),
            WallSeconds = Number(9),
            WorstHeatResidual = Number(10),
            Start = string.Intern(parts[11].GetString()!),
        };
    }

    private static string? Text(JsonElement header, string name) =>
        header.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString() : null;

    private static byte[] Line(Action<Utf8JsonWriter> write)
    {
        var buffer = new ArrayBufferWriter<byte>(256);
        using (var json = new Utf8JsonWriter(buffer, Options))
        {
            json.WriteStartObject();
            write(json);
            json.WriteEndObject();
        }

        return [.. buffer.WrittenSpan, (byte)'\n'];
    }
}
