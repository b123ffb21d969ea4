using BoardSim.Scenarios;

namespace BoardSim.Reports.Figures;

/// <summary>A run seen through one figure: the conditions that are drawn, what they are called, and the numbers written beside.</summary>
internal sealed class DrawnRun
{
    public DrawnRun(ScenarioResult result, FigureSpec spec)
    {
        (Result, Spec) = (result, spec);
        Conditions = spec.Conditions.Count == 0
            ? result.Conditions
            : [.. spec.Conditions.Select(name => result.Conditions.FirstOrDefault(condition => condition.Name == name)
                ?? throw Unknown("condition", name, result.Conditions.Select(condition => condition.Name)))];
        if (spec.Show.Count == 0)
            throw new ReportException($"The figure '{spec.Id}' shows nothing; name what it draws under 'show'.");
    }

    public ScenarioResult Result { get; }

    public FigureSpec Spec { get; }

    public IReadOnlyList<ConditionResult> Conditions { get; }

    public IReadOnlyList<FigureNote> Notes => [.. Spec.CallOuts.Where(callOut => callOut.Note is not null).Select(callOut => new FigureNote(Engineering.PrintText(callOut.Note!), callOut.At))];

    /// <summary>The conditions of the whole scenario, so that each looks the same in all of its figures; only the drawn ones when they are too many.</summary>
    public IReadOnlyList<KeyValuePair<string, TraceRole>> Styling =>
        [.. (Result.Conditions.Count <= TraceStyle.Capacity ? Result.Conditions : Conditions).Select(condition => KeyValuePair.Create(Label(condition), Role(condition)))];

    /// <summary>What the legend calls a condition; two of the same label are told apart by their names.</summary>
    public string Label(ConditionResult condition) =>
        Engineering.PrintText(Result.Conditions.Count(other => other.Label == condition.Label) > 1 ? $"{condition.Label} ({condition.Name})" : condition.Label);

    public static TraceRole Role(ConditionResult condition) => condition.IsHealthy ? TraceRole.Healthy : TraceRole.Faulty;

    /// <summary>The call-outs that belong to the panel of an observation; the first panel takes those that belong to none.</summary>
    public IReadOnlyList<CallOut> CallOuts(string observation, bool first, IReadOnlyCollection<string> shown)
    {
        List<CallOut> callOuts = [];
        foreach (var name in Spec.CallOuts.Select(callOut => callOut.Metric).OfType<string>())
        {
            var of = Result.Scenario.Metrics.FirstOrDefault(metric => metric.Name == name)?.Of ?? name;
            if (of == observation || (first && !shown.Contains(of)))
                callOuts.Add(new CallOut(Engineering.PrintText(NameOf(name)), [.. Conditions.Select(condition => KeyValuePair.Create(Label(condition), TextOf(condition, name)))]));
        }

        return callOuts;
    }

    /// <summary>What tables call a metric or a reading.</summary>
    public string NameOf(string name) =>
        Result.Conditions.SelectMany(condition => condition.Metrics).FirstOrDefault(metric => metric.Name == name)?.Label
        ?? Result.Conditions.SelectMany(condition => condition.Readings).FirstOrDefault(reading => reading.Name == name)?.Label
        ?? throw Unknown("metric or reading", name, Result.Conditions.SelectMany(Names).Distinct());

    /// <summary>The value of a metric or reading as text with unit.</summary>
    public string TextOf(ConditionResult condition, string name)
    {
        if (condition.Metrics.FirstOrDefault(metric => metric.Name == name) is { } metric)
            return Engineering.Print(metric.Display);
        return condition.Readings.FirstOrDefault(reading => reading.Name == name) is { } reading
            ? Engineering.Print(reading.Display)
            : throw Unknown("metric or reading", name, Names(condition));
    }

    /// <summary>Name and unit of what a metric or reading is of, with its reference.</summary>
    public SignalInfo? SignalOf(string name)
    {
        var of = Result.Scenario.Metrics.FirstOrDefault(metric => metric.Name == name)?.Of ?? name;
        return Result.Signals.FirstOrDefault(signal => signal.Name == of);
    }

    /// <summary>A signal with its test point and reference, as a heading: "Bulk + against primary return", "12 V rail (output) against board ground".</summary>
    public static string Heading(SignalInfo signal)
    {
        var text = signal.Label;
        var point = signal.Point.Replace('-', ' ');
        if (signal.Reference.Length > 0)
        {
            var named = text.Contains(point, StringComparison.OrdinalIgnoreCase);
            if (!named)
                text = text.StartsWith("against", StringComparison.OrdinalIgnoreCase) ? $"{point} {char.ToLowerInvariant(text[0])}{text[1..]}" : $"{text} ({point})";
            if (!text.Contains("against", StringComparison.OrdinalIgnoreCase))
                text += " against " + signal.Reference;
        }

        return Capital(signal.IsWrongReference ? text + " (the wrong reference)" : text);
    }

    /// <summary>A label at the start of a line, with its units as print has them.</summary>
    public static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + Engineering.PrintText(text)[1..];

    public ReportException Unknown(string what, string name, IEnumerable<string> known) =>
        new($"The figure '{Spec.Id}' asks for the {what} '{name}', which the run does not have; it has: {string.Join(", ", known)}.");

    private static IEnumerable<string> Names(ConditionResult condition) =>
        condition.Metrics.Select(metric => metric.Name).Concat(condition.Readings.Select(reading => reading.Name));
}
