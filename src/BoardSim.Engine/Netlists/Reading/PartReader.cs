using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Netlists.Reading;

/// <summary>Turns part cards into devices, subcircuit calls expanded.</summary>
internal sealed class PartReader(Circuit circuit, Options options, SourceReader sources, Budget budget, Findings findings, Findings remarks)
{
    private const string Letters = "R C L K V I E F G H D Q M S W X";

    private readonly HashSet<Card> faulty = [];
    private readonly List<(Token At, string Part, Token Other, string Name, Func<Device?, string?> Check)> later = [];
    private readonly Dictionary<string, Token> places = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Where each part of the circuit was read, by its name in the circuit.</summary>
    public IReadOnlyDictionary<string, Token> Places => places;

    /// <summary>Reads a call's parts, and those of the calls within it, into the circuit.</summary>
    public void Expand(Call call)
    {
        foreach (var card in call.Definition.Parts)
        {
            if (faulty.Contains(card))
            {
                continue;
            }

            try
            {
                budget.Book(card, call);
                Read(card.Rewind(), call);
            }
            catch (CardException fault)
            {
                faulty.Add(card);
                fault.Report(findings);
            }

            if (budget.IsUsedUp)
            {
                return;
            }
        }
    }

    /// <summary>Checks references between parts, once all are there.</summary>
    public void CheckReferences()
    {
        foreach (var (head, _, other, name, check) in later)
        {
            var device = circuit.Find(name);
            if (device is null)
            {
                findings.Add(other.Finding($"{head.Text} refers to {other.Text}, which is no part{Nearest.Hint(other.Text, circuit.Devices.Select(d => d.Name))}."));
            }
            else if (check(device) is { } wrong)
            {
                findings.Add(other.Finding($"{head.Text} refers to {other.Text}, but {wrong}."));
            }
        }
    }

    private void Read(Card card, Call call)
    {
        var head = card.Head;
        if (char.ToUpperInvariant(head.Text[0]) == 'X')
        {
            Enter(card, call);
            return;
        }

        var part = new PartContext(card, call, options, sources, remarks);
        Device device = char.ToUpperInvariant(head.Text[0]) switch
        {
            'R' => LinearParts.Resistor(part),
            'C' => LinearParts.Capacitor(part),
            'L' => LinearParts.Inductor(part),
            'K' => LinearParts.Coupling(part, Later),
            'V' => LinearParts.VoltageSource(part),
            'I' => LinearParts.CurrentSource(part),
            'E' => ControlledParts.VoltageControlled(part, isVoltage: true),
            'G' => ControlledParts.VoltageControlled(part, isVoltage: false),
            'H' => ControlledParts.CurrentControlled(part, isVoltage: true, Later),
            'F' => ControlledParts.CurrentControlled(part, isVoltage: false, Later),
            'S' => ControlledParts.VoltageSwitch(part),
            'W' => ControlledParts.CurrentSwitch(part, Later),
            'D' => SemiconductorParts.Diode(part),
            'Q' => SemiconductorParts.Bipolar(part),
            'M' => SemiconductorParts.Mosfet(part),
            'B' or 'J' or 'O' or 'T' or 'U' or 'Z' => throw Card.Fault(head, $"Parts of type {head.Text[..1]} are not supported; known letters are {Letters}."),
            _ => throw Card.Fault(head, $"'{head.Text}' is neither a part nor a card; parts begin with one of {Letters}, cards with a point."),
        };
        if (places.TryGetValue(part.Name, out var earlier))
        {
            throw Card.Fault(head, $"There is a part {part.Name} already, in line {earlier.Line}.");
        }

        foreach (var problem in device.Problems())
        {
            throw Card.Fault(head, problem);
        }

        circuit.Add(device);
        places.Add(part.Name, head);

        void Later(Token at, string name, Func<Device?, string?> check) => later.Add((head, part.Name, at, name, check));
    }

    private void Enter(Card card, Call call)
    {
        const string Form = "Xname node... subcircuit";
        var words = new List<Token>();
        while (!card.AtEnd)
        {
            words.Add(card.Next("a node"));
        }

        if (words.Count < 2)
        {
            throw Card.Fault(card.Head, $"{card.Head.Text} needs nodes and the name of a subcircuit; the form is: {Form}.");
        }

        var name = words[^1];
        var definition = call.Definition.FindSubcircuit(name.Text)
            ?? throw Card.Fault(name, $"There is no subcircuit {name.Text}{Nearest.Hint(name.Text, call.Definition.SubcircuitNames)}.");
        if (definition.Terminals.Count != words.Count - 1)
        {
            throw Card.Fault(card.Head, $"{card.Head.Text} connects {words.Count - 1} node{(words.Count == 2 ? "" : "s")}, but {definition.Name.Text} of line {definition.Name.Line} has {definition.Terminals.Count}.");
        }

        if (call.IsWithin(definition))
        {
            throw Card.Fault(name, $"The subcircuit {name.Text} contains itself by this call; that has no end.");
        }

        if (call.Depth >= StructureReader.DeepestNesting)
        {
            throw Card.Fault(card.Head, $"Calls nested more than {StructureReader.DeepestNesting} deep.");
        }

        if (!places.TryAdd(call.Part(card.Head.Text), card.Head))
        {
            throw Card.Fault(card.Head, $"There is a call {card.Head.Text} already, in line {places[call.Part(card.Head.Text)].Line}.");
        }

        definition.IsCalled = true;
        var connections = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase);
        for (var k = 0; k < definition.Terminals.Count; k++)
        {
            connections[definition.Terminals[k].Text] = call.Node(words[k].Text);
        }

        Expand(new Call(definition, "." + card.Head.Text + call.Suffix, connections, call));
    }
}
