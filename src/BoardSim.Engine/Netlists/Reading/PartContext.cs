using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Netlists.Reading;

/// <summary>What the reading of one part can see: its card, its place in the nest of calls, and the netlist's settings.</summary>
internal sealed class PartContext(Card card, Call call, Options options, SourceReader sources, Findings remarks)
{
    private readonly HashSet<string> keywords = new(StringComparer.OrdinalIgnoreCase);

    public Card Card { get; } = card;

    public Options Options { get; } = options;

    /// <summary>Name of the part in the circuit.</summary>
    public string Name => call.Part(Card.Head.Text);

    public Token Head => Card.Head;

    /// <summary>The next word as a node, by its name in the circuit.</summary>
    public string Node(string what) => call.Node(Card.Next(what).Text);

    /// <summary>The next word as the name of another part, by its name in the circuit.</summary>
    public string Other(string what, out Token at)
    {
        at = Card.Next(what);
        return call.Part(at.Text);
    }

    /// <summary>What follows the nodes of an independent source.</summary>
    public SourceValue Source() => sources.Read(Card);

    public void Remark(Token at, string message) => remarks.Add(at.Finding(message));

    /// <summary>Whether a model of that name can be seen from here.</summary>
    public bool IsModel(string name) => call.Definition.FindModel(name) is not null;

    /// <summary>The next word as the name of a model.</summary>
    /// <typeparam name="T">Type of the parameters.</typeparam>
    /// <param name="types">Type letters that fit the part.</param>
    public T Model<T>(params string[] types)
        where T : class
    {
        var at = Card.Next("the model's name");
        var model = call.Definition.FindModel(at.Text)
            ?? throw Card.Fault(at, $"There is no model {at.Text}{Nearest.Hint(at.Text, call.Definition.ModelNames)}; state it with .model {at.Text} {types[0]}(...).");
        if (model.Parameters is null)
        {
            throw new CardException(null);
        }

        return types.Contains(model.Type) && model.Parameters is T parameters
            ? parameters
            : throw Card.Fault(at, $"The model {at.Text} is of type {model.Type}; {Head.Text} needs {string.Join(" or ", types)}.");
    }

    /// <summary>Reads keyword-value pairs up to the end of the card.</summary>
    /// <param name="form">The form of the card.</param>
    /// <param name="known">Keywords with what to do with their value.</param>
    public void Keywords(string form, params (string Word, Action<double> Take)[] known)
    {
        while (!Card.AtEnd)
        {
            Keyword(form, known);
        }
    }

    /// <summary>Reads one keyword and its value.</summary>
    /// <param name="form">The form of the card.</param>
    /// <param name="known">Keywords with what to do with their value.</param>
    public void Keyword(string form, params (string Word, Action<double> Take)[] known)
    {
        var word = Card.Next("a keyword");
        var take = known.FirstOrDefault(k => word.Is(k.Word)).Take ?? throw Misplaced(word, form, known.Select(k => k.Word));

        var value = Card.Number($"the value of {word.Text}");
        if (!keywords.Add(word.Text))
        {
            throw Card.Fault(word, $"{word.Text} is given twice.");
        }

        take(value);
    }

    /// <summary>A word that is none of those that could stand there.</summary>
    public static CardException Misplaced(Token word, string form, IEnumerable<string> known) =>
        Card.Fault(word, word.Is("TEMP")
            ? "A temperature of a single part is not supported; .options temp=... sets that of the circuit."
            : $"'{word.Text}' has no place here{Nearest.Hint(word.Text, known)}; the form is: {form}.");

    /// <summary>OFF, a hint for the search of the operating point.</summary>
    public void TakeOff()
    {
        var at = Card.AtEnd ? Head : Card.Current;
        if (Card.TryWord("OFF"))
        {
            Remark(at, "OFF is a hint for the search of the operating point, which needs none here; where several operating points exist, choose one with .ic.");
        }
    }

    /// <summary>Refuses start voltages of junctions.</summary>
    public void RefuseInitial()
    {
        if (!Card.AtEnd && Card.Current.Is("IC"))
        {
            throw Card.Fault(Card.Current, "Start voltages of a semiconductor are not supported; give its nodes with .ic.");
        }

    }
}
