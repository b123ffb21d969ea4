using System.Globalization;
using System.Text.Json;
using BoardSim.Measurement;
using BoardSim.Scenarios;

namespace BoardSim.Reports.Results;

/// <summary>The part of the account that a tolerance run has: what was varied, and statistics of each recorded number. The numbers of each board are in
/// <c>cases.csv</c>.</summary>
internal static class ToleranceJson
{
    private static readonly double[] Percentiles = [0.1, 1, 5, 25, 50, 75, 95, 99, 99.9];

    public static void Write(Utf8JsonWriter json, ToleranceResult run)
    {
        json.WriteStartObject("tolerance");
        json.WriteNumber("samples", run.Samples);
        json.WriteNumber("corners", run.Corners);
        json.WriteNumber("seed", run.Seed);
        ResultJson.Array(json, "of", run.Inputs, input =>
        {
            json.WriteString("key", input.Key);
            ResultJson.Texts(json, "conditions", input.Conditions);
            ResultJson.Number(json, "nominal", input.Nominal);
            json.WriteString("unit", input.Unit);
            json.WriteString("tolerance", input.Tolerance);
        });
        json.WriteString("quantiles", "definition 7 of Hyndman and Fan 1996");
        ResultJson.Array(json, "series", run.Series, series =>
        {
            json.WriteString("condition", series.Condition);
            json.WriteString("name", series.Name);
            json.WriteString("label", series.Label);
            json.WriteString("unit", series.Unit);
            if (run.Samples > 0)
                Drawn(json, series.Statistics());
            if (run.Corners > 0)
                Corners(json, series.CornerStatistics());
        });
        ResultJson.Cases(json, run.Cases);
        json.WriteStartObject("solver");
        ResultJson.Evidence(json, run.Evidence);
        json.WriteEndObject();
        json.WriteEndObject();
    }

    private static void Drawn(Utf8JsonWriter json, SampleStatistics statistics)
    {
        json.WriteNumber("count", statistics.Count);
        json.WriteNumber("withoutValue", statistics.Missing);
        ResultJson.Number(json, "mean", statistics.Mean);
        ResultJson.Number(json, "standardDeviation", statistics.StandardDeviation);
        ResultJson.Number(json, "minimum", statistics.Minimum);
        ResultJson.Number(json, "maximum", statistics.Maximum);
        json.WriteStartObject("percentiles");
        foreach (var percent in Percentiles)
            ResultJson.Number(json, "p" + percent.ToString(CultureInfo.InvariantCulture), statistics.Quantile(percent / 100));
        json.WriteEndObject();
    }

    private static void Corners(Utf8JsonWriter json, SampleStatistics statistics)
    {
        ResultJson.Number(json, "lowestCorner", statistics.Minimum);
        ResultJson.Number(json, "highestCorner", statistics.Maximum);
        json.WriteNumber("cornersWithoutValue", statistics.Missing);
    }
}
