using System.Text;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Netlists.Writing;

namespace BoardSim.Engine.Netlists;

/// <summary>
/// Writes circuits as Berkeley SPICE3 netlists that <see cref="NetlistReader"/>, and other programs of that heritage, read back. Series
/// resistance and leakage become parts of their own. What Berkeley's netlists cannot express gets a comment line that says so and
/// the nearest expression; nothing is left out or changed in silence. Safe to call from several threads on different circuits.
/// </summary>
public static class NetlistWriter
{
    /// <summary>Lines are folded beyond this width, for readers that remember punched cards.</summary>
    private const int Width = 78;

    /// <summary>Writes a circuit with its analyses.</summary>
    /// <param name="circuit">The circuit; its parameters must be finite and legal (see <see cref="Device.Problems"/>).</param>
    /// <param name="analyses">Analyses to state; none when null.</param>
    /// <param name="prints">Output to state; none when null.</param>
    /// <returns>The netlist, lines ended by a line feed.</returns>
    /// <exception cref="CircuitException">A parameter is out of its legal range.</exception>
    public static string Write(Circuit circuit, IEnumerable<AnalysisCard>? analyses = null, IEnumerable<PrintCard>? prints = null) =>
        Write(circuit, analyses, prints, out _);

    /// <summary>Writes a circuit with its analyses, and tells where the text departs from the circuit.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="analyses">Analyses to state; none when null.</param>
    /// <param name="prints">Output to state; none when null.</param>
    /// <param name="departures">What the text does not say as the circuit does, one sentence each; the same stand in its comments.</param>
    /// <exception cref="CircuitException">A parameter is out of its legal range.</exception>
    public static string Write(
        Circuit circuit, IEnumerable<AnalysisCard>? analyses, IEnumerable<PrintCard>? prints, out IReadOnlyList<string> departures)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        var problems = circuit.Devices.SelectMany(d => d.Problems()).ToList();
        if (problems.Count > 0)
        {
            throw new CircuitException(problems);
        }

        var names = new Names(circuit);
        var models = new Models(names);
        var parts = new PartWriter(circuit, names, models);
        foreach (var device in circuit.Devices)
        {
            parts.Write(device);
        }

        departures = parts.Departures;
        var text = new StringBuilder();
        text.Append("* ").Append(circuit.Title.ReplaceLineEndings(" ")).Append('\n');
        if (departures.Count > 0)
        {
            Comment(text, departures.Count == 1
                ? "1 departure from the circuit is marked below, before the line that it concerns."
                : $"{departures.Count} departures from the circuit are marked below, each before the line that it concerns.");
        }

        foreach (var (node, name) in names.RenamedNodes)
        {
            Comment(text, $"node '{node}' is written {name}");
        }

        foreach (var line in parts.Lines)
        {
            Append(text, line);
        }

        foreach (var card in models.Cards)
        {
            Append(text, card);
        }

        Controls(text, circuit, names, parts, analyses ?? [], prints ?? []);
        return text.Append(".end\n").ToString();
    }

    private static void Controls(
        StringBuilder text, Circuit circuit, Names names, PartWriter parts, IEnumerable<AnalysisCard> analyses, IEnumerable<PrintCard> prints)
    {
        if (circuit.Temperature != 300.15)
        {
            Append(text, $".options TEMP={SpiceNumber.Format(ModelValues.Celsius(circuit.Temperature))}");
        }

        foreach (var (node, volts) in circuit.InitialVoltages.Where(v => names.HasNode(v.Key)))
        {
            Append(text, $".ic V({names.Node(node)})={SpiceNumber.Format(volts)}");
        }

        foreach (var card in analyses)
        {
            Append(text, Text(card, parts));
        }

        foreach (var print in prints)
        {
            var kind = print.Kind switch { AnalysisKind.Ac => "ac", AnalysisKind.DcSweep => "dc", AnalysisKind.Transient => "tran", _ => null };
            if (kind is null)
            {
                Comment(text, "an operating point has no .print card; it shows everything");
                continue;
            }

            var variables = print.Variables.Select(v => v.IsCurrent
                ? v with { First = parts.Written(v.First) ?? v.First }
                : v with { First = names.Node(v.First), Second = v.Second is { } s ? names.Node(s) : null });
            Append(text, $".print {kind} {string.Join(' ', variables)}");
        }
    }

    private static string Text(AnalysisCard card, PartWriter parts)
    {
        return card switch
        {
            OperatingPointCard => ".op",
            DcSweepCard dc => $".dc {Axis(dc.Inner)}{(dc.Outer is { } outer ? " " + Axis(outer) : "")}",
            AcCard ac => $".ac {Spacing(ac.Spacing)} {ac.Points} {N(ac.Start)} {N(ac.Stop)}",
            TransientCard t =>
                $".tran {N(t.Step)} {N(t.Stop)}"
                + (t.Start != 0 || t.MaxStep is not null ? $" {N(t.Start)}" : "")
                + (t.MaxStep is { } most ? $" {N(most)}" : "")
                + (t.UseInitialConditions ? " UIC" : ""),
            _ => throw new ArgumentException($"There is no card for a {card.GetType().Name}."),
        };

        string Axis(DcSweepAxis a) => $"{parts.Written(a.Source) ?? a.Source} {N(a.Start)} {N(a.Stop)} {N(a.Step)}";
        static string Spacing(FrequencySpacing s) => s switch { FrequencySpacing.Decade => "dec", FrequencySpacing.Octave => "oct", _ => "lin" };
        static string N(double value) => SpiceNumber.Format(value);
    }

    private static void Comment(StringBuilder text, string line) => Append(text, "* " + line);

    /// <summary>Adds a line, folded at blanks; a comment goes on as a comment, a card with a plus sign.</summary>
    private static void Append(StringBuilder text, string line)
    {
        var more = line.StartsWith('*') ? "*   " : "+ ";
        var rest = line.AsSpan();
        var room = Width;
        while (rest.Length > room && rest[..(room + 1)].LastIndexOf(' ') is var at && at > more.Length - (Width - room))
        {
            text.Append(rest[..at]).Append('\n').Append(more);
            rest = rest[(at + 1)..];
            room = Width - more.Length;
        }

        text.Append(rest).Append('\n');
    }
}
