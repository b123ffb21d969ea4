namespace BoardSim.Engine.Netlists.Reading;

/// <summary>A <c>.print</c> card with the places of its names, which are checked when the circuit is there.</summary>
internal sealed record PrintRequest(AnalysisKind Kind, IReadOnlyList<(Token Name, Token? Against, OutputVariable Variable)> Variables)
{
    private const string Form = ".print dc|ac|tran V(node) V(node,node) I(source) ...";

    private static readonly Dictionary<string, PhasorPart> Parts = new(StringComparer.OrdinalIgnoreCase)
    {
        [""] = PhasorPart.Whole,
        ["R"] = PhasorPart.Real,
        ["I"] = PhasorPart.Imaginary,
        ["M"] = PhasorPart.Magnitude,
        ["P"] = PhasorPart.Phase,
        ["DB"] = PhasorPart.Decibels,
    };

    public static PrintRequest Read(Card card)
    {
        var kind = card.Next("dc, ac or tran");
        var analysis = kind.Text.ToUpperInvariant() switch
        {
            "DC" => AnalysisKind.DcSweep,
            "AC" => AnalysisKind.Ac,
            "TRAN" => AnalysisKind.Transient,
            _ => throw Card.Fault(kind, $"'{kind.Text}' is no analysis that can be printed; the form is: {Form}."),
        };
        var variables = new List<(Token, Token?, OutputVariable)>();
        do
        {
            variables.Add(Variable(card, analysis));
        }
        while (!card.AtEnd);
        return new PrintRequest(analysis, variables);
    }

    private static (Token Name, Token? Against, OutputVariable Variable) Variable(Card card, AnalysisKind analysis)
    {
        var quantity = card.Next("a variable such as V(node)");
        var letter = char.ToUpperInvariant(quantity.Text[0]);
        if (letter is not ('V' or 'I') || !Parts.TryGetValue(quantity.Text[1..], out var part))
        {
            throw Card.Fault(quantity, $"'{quantity.Text}' is nothing that can be printed; the form is: {Form}.");
        }

        if (part is not PhasorPart.Whole && analysis is not AnalysisKind.Ac)
        {
            throw Card.Fault(quantity, $"'{quantity.Text}' is part of a phasor, which only an .ac analysis has; write {letter}.");
        }

        var name = card.Next($"the name in {quantity.Text}(...)");
        if (!name.Before.Contains('('))
        {
            throw Card.Fault(name, $"'{name.Text}' should stand in parentheses: {quantity.Text}({name.Text}).");
        }

        Token? against = null;
        if (card.Ahead(0) is { } second && !second.Before.Contains(')'))
        {
            against = card.Next("the second node");
            if (letter == 'I')
            {
                throw Card.Fault(second, $"A current has one name: I({name.Text}).");
            }
        }

        return (name, against, new OutputVariable(letter == 'I', name.Text, against?.Text, part));
    }
}
