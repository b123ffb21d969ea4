namespace BoardSim.Engine.Netlists.Reading;

/// <summary>Sorts cards into subcircuit definitions, parts, models and control cards.</summary>
internal sealed class StructureReader(Findings findings)
{
    /// <summary>Deepest nesting of definitions and of calls; deeper is a slip, or an attack.</summary>
    public const int DeepestNesting = 50;

    private readonly List<(Definition Scope, Card Card)> models = [];
    private readonly List<Card> controls = [];
    private Definition scope = new(new Token("", 1, 1, ""), [], null);

    /// <summary>Control cards (analyses, output, options) in order.</summary>
    public IReadOnlyList<Card> Controls => controls;

    /// <summary>Model cards with the definition that they stand in.</summary>
    public IReadOnlyList<(Definition Scope, Card Card)> Models => models;

    /// <summary>Sorts the cards.</summary>
    /// <returns>The whole netlist as the outermost definition.</returns>
    public Definition Read(IReadOnlyList<Card> cards)
    {
        var top = scope;
        var ended = false;
        foreach (var card in cards)
        {
            try
            {
                if (ended)
                {
                    findings.Add(card.Head.Finding("Text after .end; a file holds one netlist."));
                    break;
                }

                ended = Sort(card.Rewind());
            }
            catch (CardException fault)
            {
                fault.Report(findings);
            }
        }

        for (; scope.Parent is not null; scope = scope.Parent)
        {
            findings.Add(scope.Name.Finding($"The subcircuit {scope.Name.Text} has no .ends line."));
        }

        if (!ended)
        {
            var last = cards.Count > 0 ? cards[^1].Head : new Token("", 1, 1, "");
            findings.Add(last.Finding("The netlist has no .end line after this one; it may have been cut off."));
        }

        return top;
    }

    private bool Sort(Card card)
    {
        var head = card.Head;
        if (!head.Text.StartsWith('.'))
        {
            scope.Parts.Add(card);
            return false;
        }

        switch (head.Text.ToUpperInvariant())
        {
            case ".END":
                card.End(".end");
                return true;
            case ".SUBCKT":
                Open(card);
                break;
            case ".ENDS":
                Close(card);
                break;
            case ".MODEL":
                models.Add((scope, card));
                break;
            default:
                if (scope.Parent is not null)
                {
                    throw Card.Fault(head, $"{head.Text} stands inside the subcircuit {scope.Name.Text}; only parts, .model and .subckt may.");
                }

                controls.Add(card);
                break;
        }

        return false;
    }

    private void Open(Card card)
    {
        const string Form = ".subckt name node...";
        var name = card.Next("the subcircuit's name");
        var terminals = new List<Token>();
        while (!card.AtEnd)
        {
            terminals.Add(card.Next("a node"));
        }

        var inner = new Definition(name, terminals, scope);
        var outer = scope;
        scope = inner;
        if (inner.Depth > DeepestNesting)
        {
            findings.Add(name.Finding($"Subcircuits nested more than {DeepestNesting} deep."));
            throw new ReadingEndedException();
        }

        if (!outer.Subcircuits.TryAdd(name.Text, inner))
        {
            throw Card.Fault(name, $"There is a subcircuit {name.Text} already, in line {outer.Subcircuits[name.Text].Name.Line}.");
        }

        if (terminals.Count == 0)
        {
            throw Card.Fault(name, $"The subcircuit {name.Text} has no nodes; the form is: {Form}.");
        }

        var seen = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (var terminal in terminals)
        {
            if (terminal.Is("0"))
            {
                throw Card.Fault(terminal, "Node 0 is the same everywhere and cannot be a terminal of a subcircuit; leave it out.");
            }

            if (!seen.Add(terminal.Text))
            {
                throw Card.Fault(terminal, $"The node {terminal.Text} is listed twice.");
            }
        }
    }

    private void Close(Card card)
    {
        if (scope.Parent is null)
        {
            throw Card.Fault(card.Head, ".ends without a .subckt before it.");
        }

        var closed = scope;
        scope = scope.Parent;
        if (!card.AtEnd)
        {
            var name = card.Next("the subcircuit's name");
            if (!name.Is(closed.Name.Text))
            {
                throw Card.Fault(name, $"This .ends names {name.Text}, but the open subcircuit is {closed.Name.Text} of line {closed.Name.Line}.");
            }
        }

        card.End(".ends [name]");
    }
}
