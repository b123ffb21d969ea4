namespace BoardSim.Engine.Netlists.Writing;

/// <summary>Collects <c>.model</c> cards; parts with equal parameters share one.</summary>
internal sealed class Models(Names names)
{
    private readonly Dictionary<(string Type, object Parameters), string> byParameters = [];
    private readonly List<string> cards = [];

    /// <summary>The cards in order of first use.</summary>
    public IReadOnlyList<string> Cards => cards;

    /// <summary>Name of the model with these parameters.</summary>
    /// <param name="type">Type letters.</param>
    /// <param name="parameters">A record: parts with equal records share a model.</param>
    /// <param name="values">Names and values; a value equal to the default, or infinite, is left out.</param>
    public string Name(string type, object parameters, params (string Name, double Value, double Default)[] values)
    {
        if (!byParameters.TryGetValue((type, parameters), out var name))
        {
            name = names.Model(type);
            byParameters[(type, parameters)] = name;
            var given = values.Where(v => v.Value != v.Default && double.IsFinite(v.Value)).Select(v => $"{v.Name}={SpiceNumber.Format(v.Value)}");
            cards.Add($".model {name} {type}({string.Join(' ', given)})");
        }

        return name;
    }
}
