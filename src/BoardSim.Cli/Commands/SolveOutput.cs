using System.Globalization;
using System.Text.Json;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Netlists;
using Spectre.Console;

namespace BoardSim.Cli.Commands;

/// <summary>What <c>solve</c> writes: file names, <c>result.json</c>, the summary on the console.</summary>
internal static class SolveOutput
{
    /// <summary>Longest operating point that is shown on the console as well.</summary>
    private const int MostValuesShown = 60;

    private const string PartialEnding = ".partial.csv";

    /// <summary>The analysis as users write it, without the point.</summary>
    public static string Word(AnalysisKind kind) => kind switch
    {
        AnalysisKind.OperatingPoint => "op",
        AnalysisKind.DcSweep => "dc",
        AnalysisKind.Ac => "ac",
        _ => "tran",
    };

    /// <summary>How an analysis stands, as result.json says it.</summary>
    private static string Word(RunStatus status) => status switch
    {
        RunStatus.Completed => "completed",
        RunStatus.Cancelled => "cancelled",
        RunStatus.TimedOut => "timed-out",
        RunStatus.RecordFull => "record-full",
        _ => throw new ArgumentOutOfRangeException(nameof(status), status, "An analysis that is still running has no table."),
    };

    /// <summary>What cut an analysis short, how far it came, and what to try.</summary>
    public static string Cut(AnalysisTable table, NetlistRunOptions options, string path)
    {
        var main = table.Columns[0];
        var place = double.IsFinite(table.Reached) ? $"at {main.Label} = {Quantity(table.Reached, main.Unit)}{End(table.Card)}" : "before its first row";
        var (why, remedy) = table.Status switch
        {
            RunStatus.Cancelled => ("cancelled", ""),
            RunStatus.TimedOut => (
                $"cut by the time limit of {options.TimeLimit!.Value.TotalSeconds.ToString("0.###", CultureInfo.InvariantCulture)} s",
                " Allow more time (--time-limit), ask for less accuracy (--accuracy), or for a shorter run."),
            _ => (
                string.Create(CultureInfo.InvariantCulture, $"full with {options.MostValues} values"),
                " Name fewer signals (.print), record later or stop earlier, or allow more (--most-values)."),
        };
        return $".{Word(table.Card.Kind)} was {why} {place}; {path} holds what was computed until then.{remedy}";
    }

    private static string End(AnalysisCard card) => card switch
    {
        TransientCard t => $" of {Quantity(t.Stop, "s")}",
        AcCard ac => $" of {Quantity(ac.Stop, "Hz")}",
        _ => "",
    };

    private static string Quantity(double value, string unit) => $"{value.ToString("G4", CultureInfo.InvariantCulture)} {unit}";

    /// <summary>File of each analysis: the transient, or else the first, gets the plain name. One that was cut short is marked in its name.</summary>
    /// <param name="cards">All analyses of the netlist.</param>
    /// <param name="tables">The tables there are, in the same order.</param>
    public static IReadOnlyList<string> FileNames(IReadOnlyList<AnalysisCard> cards, IReadOnlyList<AnalysisTable> tables) =>
        [.. FileNames(cards).Zip(tables, (name, table) => table.IsPartial ? OtherName(name) : name)];

    /// <summary>The name of the same table when it is whole, or when it is partial: the one that must not stay beside the other.</summary>
    public static string OtherName(string name) => name.EndsWith(PartialEnding, StringComparison.Ordinal)
        ? name[..^PartialEnding.Length] + ".csv"
        : name[..^".csv".Length] + PartialEnding;

    private static string[] FileNames(IReadOnlyList<AnalysisCard> cards)
    {
        var main = Math.Max(0, cards.ToList().FindIndex(c => c is TransientCard));
        var seen = new Dictionary<AnalysisKind, int>();
        var names = new string[cards.Count];
        for (var k = 0; k < cards.Count; k++)
        {
            var kind = cards[k].Kind;
            seen[kind] = seen.GetValueOrDefault(kind) + 1;
            names[k] = k == main ? "waveforms.csv" : seen[kind] == 1 ? $"waveforms-{Word(kind)}.csv" : $"waveforms-{Word(kind)}-{seen[kind]}.csv";
        }

        return names;
    }

    /// <summary>Writes what was run and how the solver fared. The sums over all analyses stand under <c>solver</c>.</summary>
    public static void WriteResult(
        TextWriter writer, string file, Netlist netlist, double accuracy, IReadOnlyList<AnalysisTable> tables, IReadOnlyList<string> names)
    {
        using var buffer = new MemoryStream();
        using (var json = new Utf8JsonWriter(buffer, new JsonWriterOptions { Indented = true, NewLine = "\n" }))
        {
            json.WriteStartObject();
            json.WriteString("netlist", file);
            json.WriteString("title", netlist.Circuit.Title);
            json.WriteNumber("accuracy", accuracy);
            json.WriteString("status", Word(tables.FirstOrDefault(t => t.IsPartial)?.Status ?? RunStatus.Completed));
            json.WriteStartObject("solver");
            WriteEvidence(json, [.. tables.Select(t => t.Evidence)]);
            json.WriteEndObject();
            json.WriteStartArray("analyses");
            for (var k = 0; k < tables.Count; k++)
            {
                WriteAnalysis(json, tables[k], names[k]);
            }

            json.WriteEndArray();
            json.WriteStartArray("notes");
            foreach (var remark in netlist.Remarks)
            {
                json.WriteStringValue(remark.In(file));
            }

            json.WriteEndArray();
            json.WriteEndObject();
        }

        writer.WriteLine(System.Text.Encoding.UTF8.GetString(buffer.ToArray()));
    }

    /// <summary>Prints an operating point's values and a line per analysis.</summary>
    public static void Summarise(Terminal terminal, string folder, IReadOnlyList<AnalysisTable> tables, IReadOnlyList<string> names)
    {
        foreach (var point in tables.Where(t => t.Card is OperatingPointCard && t.Columns.Count <= MostValuesShown))
        {
            var values = new Table().AddColumns("Operating point", "Value");
            values.Columns[1].RightAligned();
            foreach (var c in point.Columns)
            {
                values.AddRow(Markup.Escape(c.Label), $"{c.Values[0].ToString("G6", CultureInfo.InvariantCulture)} {c.Unit}");
            }

            terminal.Results.Write(values);
        }

        var table = new Table().AddColumns("Analysis", "Points", "Rejected", "Newton iterations", "Seconds", "File");
        foreach (var (t, name) in tables.Zip(names))
        {
            var e = t.Evidence;
            table.AddRow(
                Word(t.Card.Kind) + (t.IsPartial ? $" ({Word(t.Status)})" : ""),
                e.Points.ToString(CultureInfo.InvariantCulture),
                e.Rejected.ToString(CultureInfo.InvariantCulture),
                e.NewtonIterations.ToString(CultureInfo.InvariantCulture),
                e.WallSeconds.ToString("0.000", CultureInfo.InvariantCulture),
                Markup.Escape(Path.Combine(folder, name)));
        }

        terminal.Results.Write(table);
        foreach (var e in tables.Select(t => t.Evidence).Where(e => e.PeriodsInterpolated > 0))
        {
            terminal.Error.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"Note: {e.PeriodsComputed} periods of the sources were computed and {e.PeriodsInterpolated} between them interpolated, because they change slowly from one to the next; --leaps off computes every one."));
        }
    }

    private static void WriteAnalysis(Utf8JsonWriter json, AnalysisTable table, string name)
    {
        json.WriteStartObject();
        json.WriteString("kind", Word(table.Card.Kind));
        json.WriteString("file", name);
        json.WriteString("status", Word(table.Status));
        if (table.IsPartial && double.IsFinite(table.Reached))
        {
            json.WriteNumber("reached", table.Reached);
        }

        json.WriteNumber("rows", table.Rows);
        json.WriteStartObject("units");
        foreach (var c in table.Columns)
        {
            json.WriteString(c.Label, c.Unit);
        }

        json.WriteEndObject();
        json.WriteStartObject("solver");
        WriteEvidence(json, [table.Evidence]);
        json.WriteEndObject();
        json.WriteStartArray("events");
        foreach (var e in table.Events)
        {
            json.WriteStartObject();
            json.WriteNumber("time", e.Time);
            json.WriteString("part", e.Part);
            json.WriteString("state", e.State);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WriteEvidence(Utf8JsonWriter json, IReadOnlyList<SolverEvidence> parts)
    {
        var total = SolverEvidence.Total(parts);
        json.WriteNumber("points", total.Points);
        json.WriteNumber("rejected", total.Rejected);
        json.WriteNumber("forced", total.Forced);
        json.WriteNumber("newtonIterations", total.NewtonIterations);
        json.WriteNumber("factorizations", total.Factorizations);
        json.WriteNumber("periodsComputed", total.PeriodsComputed);
        json.WriteNumber("periodsInterpolated", total.PeriodsInterpolated);
        json.WriteNumber("events", total.Events);
        json.WriteNumber("worstKclResidual", total.WorstKclResidual);
        json.WriteNumber("powerBalance", total.PowerBalance);
        json.WriteString("start", total.Start);
        json.WriteNumber("wallSeconds", total.WallSeconds);
    }
}
