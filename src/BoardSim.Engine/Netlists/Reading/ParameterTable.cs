namespace BoardSim.Engine.Netlists.Reading;

/// <summary>The parameters that a model type knows, and what becomes of each.</summary>
internal sealed class ParameterTable(string type)
{
    private readonly Dictionary<string, Rule> rules = new(StringComparer.OrdinalIgnoreCase);

    private enum Fate
    {
        Used,
        WithoutEffect,
        OnlyAt,
        Refused,
    }

    public string Type { get; } = type;

    /// <summary>Parameters that the device uses.</summary>
    public ParameterTable Used(params string[] names) => Add(names, n => new Rule(n, Fate.Used, 0, ""));

    /// <summary>A second spelling of a parameter.</summary>
    public ParameterTable Alias(string alias, string name) => Add([alias], _ => rules[name]);

    /// <summary>Parameters of effects that no analysis here computes (noise), so that any value is right.</summary>
    public ParameterTable WithoutEffect(params string[] names) => Add(names, n => new Rule(n, Fate.WithoutEffect, 0, ""));

    /// <summary>Parameters of effects that the device does not have: only the value that switches the effect off is accepted.</summary>
    public ParameterTable OnlyAt(double neutral, string reason, params string[] names) => Add(names, n => new Rule(n, Fate.OnlyAt, neutral, reason));

    /// <summary>Parameters that Berkeley knows for another level or type.</summary>
    public ParameterTable Refused(string reason, params string[] names) => Add(names, n => new Rule(n, Fate.Refused, 0, reason));

    /// <summary>Reads the name-value pairs of a model card.</summary>
    /// <param name="card">Card after the type word.</param>
    /// <param name="findings">Receives every parameter that does not fit.</param>
    /// <returns>The values that were given, by name; null when there was a finding.</returns>
    public ParameterValues? Read(Card card, Findings findings)
    {
        var before = findings.Count;
        var values = new ParameterValues();
        while (!card.AtEnd)
        {
            var name = card.Next("a parameter");
            if (!rules.TryGetValue(name.Text, out var rule))
            {
                var used = rules.Where(r => r.Value.Fate is Fate.Used).Select(r => r.Key);
                findings.Add(name.Finding($"A model of type {Type} has no parameter {name.Text}{Nearest.Hint(name.Text, used)}."));
                if (!card.AtEnd && SpiceNumber.LooksLikeOne(card.Current.Text))
                {
                    card.Next("its value");
                }

                continue;
            }

            var at = card.Next($"the value of {name.Text}");
            var value = Card.Number(at, $"the value of {name.Text}");
            if (rule.Fate is Fate.Refused || (rule.Fate is Fate.OnlyAt && value != rule.Neutral))
            {
                var leave = rule.Fate is Fate.OnlyAt ? FormattableString.Invariant($"; only {rule.Neutral}, which switches it off, can be computed faithfully") : "";
                findings.Add(name.Finding($"{name.Text} {rule.Reason}{leave}."));
            }
            else if (!values.TryAdd(rule.Name, value))
            {
                findings.Add(name.Finding($"{name.Text} is given twice."));
            }
        }

        return findings.Count == before ? values : null;
    }

    private ParameterTable Add(IEnumerable<string> names, Func<string, Rule> rule)
    {
        foreach (var name in names)
        {
            rules.Add(name, rule(name));
        }

        return this;
    }

    private sealed record Rule(string Name, Fate Fate, double Neutral, string Reason);
}

/// <summary>Values of a model card by parameter name.</summary>
internal sealed class ParameterValues
{
    private readonly Dictionary<string, double> values = [];

    /// <summary>The value given, or the default.</summary>
    public double this[string name, double otherwise] => values.GetValueOrDefault(name, otherwise);

    public bool Has(string name) => values.ContainsKey(name);

    public bool TryAdd(string name, double value) => values.TryAdd(name, value);

    /// <summary>A value that Berkeley's defaults (and many netlists) write as 0 for infinity, such as VAF.</summary>
    public double InfiniteAtZero(string name) => values.TryGetValue(name, out var v) && v != 0 ? v : double.PositiveInfinity;
}
