using System.Text.Encodings.Web;
using System.Text.Json;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Analyses.PeriodicStates;
using BoardSim.Scenarios;

namespace BoardSim.Reports.Results;

/// <summary>
/// The machine-readable account of a run. The order of its fields never changes, values without a number are null, and the one
/// figure that differs from run to run is <c>solver.wallSeconds</c>.
/// </summary>
internal static class ResultJson
{
    /// <summary>Marks a file as ours, so that a later run knows the folder for its own.</summary>
    public const string Format = "boardsim-result/1";

    /// <summary>Failed cases that are told in words: enough to see what is wrong.</summary>
    private const int MostFailures = 20;

    private static readonly JsonWriterOptions Options = new()
    {
        Indented = true,
        NewLine = "\n",
        // The file is read as JSON, not pasted into a page, so µ and Ω may stay as they are.
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static byte[] Write(ScenarioResult result, IReadOnlyDictionary<string, string> netlists, IReadOnlyList<string> files)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, Options))
        {
            json.WriteStartObject();
            json.WriteString("format", Format);
            Scenario(json, result);
            json.WriteBoolean("allHold", result.AllHold);
            Texts(json, "cautions", result.Cautions);
            Array(json, "expectations", result.Expectations, item => Expectation(json, item));
            Array(json, "conditions", result.Conditions, item => Condition(json, item, netlists[item.Name]));
            if (result.Sweep is { } sweep)
                Sweep(json, sweep);
            if (result.Tolerance is { } tolerance)
                ToleranceJson.Write(json, tolerance);
            Totals(json, result);
            Texts(json, "files", files);
            json.WriteEndObject();
        }

        return [.. stream.ToArray(), (byte)'\n'];
    }

    /// <summary>The files that an earlier run wrote beside its result, or null when the text is not one of ours.</summary>
    public static IReadOnlyList<string>? FilesOf(byte[] text)
    {
        try
        {
            using var document = JsonDocument.Parse(text);
            var root = document.RootElement;
            return root.ValueKind == JsonValueKind.Object && root.TryGetProperty("format", out var format) && format.ValueKind == JsonValueKind.String
                && format.GetString() == Format && root.TryGetProperty("files", out var files) && files.ValueKind == JsonValueKind.Array
                ? [.. files.EnumerateArray().Where(file => file.ValueKind == JsonValueKind.String).Select(file => file.GetString()!)]
                : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }

    private static void Scenario(Utf8JsonWriter json, ScenarioResult result)
    {
        json.WriteStartObject("scenario");
        json.WriteString("id", result.Scenario.Id);
        json.WriteString("title", result.Scenario.Title);
        json.WriteString("about", result.Scenario.About);
        json.WriteString("block", result.Scenario.Block);
        json.WriteString("blockTitle", result.BlockTitle);
        Number(json, "accuracy", result.Scenario.Run.Accuracy);
        Array(json, "values", result.Scenario.Values, value =>
        {
            json.WriteString("key", value.Key);
            json.WriteString("text", value.Text);
        });
        json.WriteEndObject();
    }

    private static void Expectation(Utf8JsonWriter json, ExpectationResult expectation)
    {
        json.WriteString("text", expectation.Text);
        json.WriteString("why", expectation.Why);
        json.WriteBoolean("holds", expectation.Holds);
        Number(json, "value", expectation.Value);
        json.WriteString("unit", expectation.Unit);
        json.WriteString("found", expectation.Found);
        if (expectation.Yield is { } share)
            Number(json, "yield", share);
    }

    private static void Condition(Utf8JsonWriter json, ConditionResult condition, string netlist)
    {
        json.WriteString("name", condition.Name);
        json.WriteString("label", condition.Label);
        json.WriteBoolean("healthy", condition.IsHealthy);
        Texts(json, "faults", condition.Faults);
        json.WriteString("netlist", netlist);
        Number(json, "start", condition.Start);
        Number(json, "stop", condition.Stop);
        Array(json, "readings", condition.Readings, reading =>
        {
            json.WriteString("name", reading.Name);
            json.WriteString("label", reading.Label);
            Number(json, "value", reading.Value);
            json.WriteString("unit", reading.Unit);
            json.WriteString("display", reading.Display);
            json.WriteString("point", reading.Signal.Point);
            json.WriteString("reference", reading.Signal.Reference);
            json.WriteString("instrument", reading.Signal.Instrument);
        });
        Array(json, "metrics", condition.Metrics, metric =>
        {
            json.WriteString("name", metric.Name);
            json.WriteString("label", metric.Label);
            json.WriteString("metric", metric.Id);
            Number(json, "value", metric.Value);
            json.WriteString("unit", metric.Unit);
            json.WriteString("display", metric.Display);
            json.WriteString("of", metric.Of);
            Number(json, "from", metric.From);
            Number(json, "to", metric.To);
            json.WriteString("definition", metric.Definition);
            if (metric.Remark.Length > 0)
                json.WriteString("remark", metric.Remark);
        });
        Array(json, "events", condition.Events, item =>
        {
            Number(json, "time", item.Time);
            json.WriteString("part", item.Part);
            json.WriteString("state", item.State);
        });
        json.WriteStartObject("solver");
        Evidence(json, condition.Evidence);
        json.WriteEndObject();
        if (condition.Periodic is { } periodic)
        {
            json.WriteStartObject("periodic");
            Periodic(json, periodic);
            json.WriteEndObject();
        }
    }

    private static void Sweep(Utf8JsonWriter json, SweepResult sweep)
    {
        json.WriteStartObject("sweep");
        json.WriteString("variable", sweep.Variable);
        json.WriteString("label", sweep.Label);
        json.WriteString("unit", sweep.Unit);
        json.WriteBoolean("logarithmic", sweep.Logarithmic);
        Numbers(json, "x", sweep.X);
        Array(json, "series", sweep.Series, series =>
        {
            json.WriteString("condition", series.Condition);
            json.WriteString("name", series.Name);
            json.WriteString("label", series.Label);
            json.WriteString("unit", series.Unit);
            Numbers(json, "values", series.Values);
        });
        Cases(json, sweep.Cases);
        json.WriteStartObject("solver");
        Evidence(json, sweep.Evidence);
        json.WriteEndObject();
        if (sweep.Periodic.Count > 0)
        {
            Array(json, "periodic", sweep.Periodic, point =>
            {
                json.WriteString("point", point.Point);
                Periodic(json, point.Evidence);
            });
        }

        json.WriteEndObject();
    }

    /// <summary>How many cases there were, and what became of those that failed: the first of them in words.</summary>
    public static void Cases(Utf8JsonWriter json, CaseCount cases)
    {
        json.WriteStartObject("cases");
        json.WriteNumber("total", cases.Total);
        json.WriteNumber("failed", cases.Failures.Count);
        Array(json, "firstFailures", cases.Failures.Take(MostFailures), failure =>
        {
            json.WriteString("case", failure.Case);
            json.WriteString("message", failure.Message);
        });
        json.WriteEndObject();
    }

    private static void Totals(Utf8JsonWriter json, ScenarioResult result)
    {
        var all = result.Conditions.Select(condition => condition.Evidence).Concat(result.Sweep is { } sweep ? [sweep.Evidence] : [])
            .Concat(result.Tolerance is { } tolerance ? [tolerance.Evidence] : []).ToList();
        json.WriteStartObject("solver");
        var total = SolverEvidence.Total(all) with { Start = "" };
        Evidence(json, total);
        Number(json, "wallSeconds", Math.Round(total.WallSeconds, 6));
        json.WriteEndObject();
    }

    public static void Evidence(Utf8JsonWriter json, SolverEvidence evidence)
    {
        json.WriteNumber("points", evidence.Points);
        json.WriteNumber("rejected", evidence.Rejected);
        json.WriteNumber("forced", evidence.Forced);
        json.WriteNumber("newtonIterations", evidence.NewtonIterations);
        json.WriteNumber("factorizations", evidence.Factorizations);
        json.WriteNumber("periodsComputed", evidence.PeriodsComputed);
        json.WriteNumber("periodsInterpolated", evidence.PeriodsInterpolated);
        json.WriteNumber("events", evidence.Events);
        Number(json, "worstKclResidual", evidence.WorstKclResidual);
        Number(json, "worstHeatResidual", evidence.WorstHeatResidual);
        Number(json, "powerBalance", evidence.PowerBalance);
        Number(json, "sourceEnergy", evidence.SourceEnergy);
        if (evidence.Start.Length > 0)
            json.WriteString("start", evidence.Start);
    }

    private static void Periodic(Utf8JsonWriter json, PeriodicEvidence evidence)
    {
        json.WriteString("outcome", evidence.Outcome switch
        {
            PeriodicOutcome.Found => "found",
            PeriodicOutcome.Settled => "settled",
            PeriodicOutcome.NotPeriodic => "not periodic",
            _ => "interrupted",
        });
        Number(json, "period", evidence.Period);
        json.WriteNumber("leadPeriods", evidence.LeadPeriods);
        json.WriteNumber("searchPeriods", evidence.SearchPeriods);
        json.WriteNumber("settlingPeriods", evidence.SettlingPeriods);
        Number(json, "residual", evidence.Residual);
        if (evidence.SlowestTimeConstant is { } slowest)
            Number(json, "slowestTimeConstant", slowest);
        if (evidence.Reason is { } reason)
            json.WriteString("reason", reason);
    }

    public static void Array<T>(Utf8JsonWriter json, string name, IEnumerable<T> items, Action<T> write)
    {
        json.WriteStartArray(name);
        foreach (var item in items)
        {
            json.WriteStartObject();
            write(item);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    public static void Texts(Utf8JsonWriter json, string name, IEnumerable<string> texts)
    {
        json.WriteStartArray(name);
        foreach (var text in texts)
            json.WriteStringValue(text);
        json.WriteEndArray();
    }

    private static void Numbers(Utf8JsonWriter json, string name, IEnumerable<double> values)
    {
        json.WriteStartArray(name);
        foreach (var value in values)
            if (double.IsFinite(value))
                json.WriteNumberValue(value);
            else
                json.WriteNullValue();
        json.WriteEndArray();
    }

    // JSON has no NaN and no infinity: a value without a number is null, and the text beside it says why.
    public static void Number(Utf8JsonWriter json, string name, double value)
    {
        if (double.IsFinite(value))
            json.WriteNumber(name, value);
        else
            json.WriteNull(name);
    }
}
