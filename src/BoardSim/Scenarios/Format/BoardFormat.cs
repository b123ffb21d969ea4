using BoardSim.Designs;
using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Scenarios.Format;

/// <summary>The keys of a board file: blocks that are wired into a board.</summary>
internal static class BoardFormat
{
    private static readonly TextType Text = new();
    private static readonly NameType Name = new();

    public static IReadOnlyList<Word<LoosePartKind>> PartKinds { get; } =
    [
        new("resistor", LoosePartKind.Resistor, "a resistor, or a wire by its resistance"),
        new("capacitor", LoosePartKind.Capacitor, "a capacitor"),
        new("inductor", LoosePartKind.Inductor, "an inductor, or a wire by its inductance"),
    ];

    public static IReadOnlyList<Word<Reference>> References { get; } =
    [
        new("board-ground", Reference.BoardGround, "low-voltage ground, behind the isolation barrier"),
        new("primary-return", Reference.PrimaryReturn, "negative side of the bridge"),
        new("neutral", Reference.Neutral, "neutral conductor of the supply"),
        new("protective-earth", Reference.ProtectiveEarth, "protective earth"),
        new("across-part", Reference.AcrossPart, "another point, for a voltage across something"),
    ];

    public static FieldSet Block { get; } = new(
        "block on a board",
        new Field("block", new BlockType(), "Which block it is.", Required: true),
        new Field("values", new OfBlockType(BlockNames.Values), "Values of the block that differ from its own."),
        new Field("wires", new OfBlockType(BlockNames.Wires), "The net that each port is wired to, by the port's name.", Required: true));

    public static FieldSet Part { get; } = new(
        "part on a board",
        new Field("kind", new ChoiceType([.. PartKinds.Select(w => new Word(w.Name, w.Description))]), "What it is.", Required: true),
        new Field("value", new AnyQuantityType(), "Resistance, capacitance or inductance.", Required: true),
        new Field("from", Name, "Net of one end.", Required: true),
        new Field("to", Name, "Net of the other end.", Required: true));

    public static FieldSet Point { get; } = new(
        "test point on a net",
        new Field("net", Name, "Net that the red lead touches.", Required: true),
        new Field("against", Name, "Net that the black lead touches.", Required: true),
        new Field("reference", new ChoiceType([.. References.Select(w => new Word(w.Name, w.Description))]), "What that net is, in the trade's word.", Required: true),
        new Field("about", Text, "Where it is and what a healthy board shows there.", Required: true));

    public static FieldSet Root { get; } = new(
        "board",
        new Field("title", Text, "Title, one line.", Required: true),
        new Field("about", Text, "What the board is, a few sentences."),
        new Field("zero-net", Name, "The net that all voltages are computed against; protective earth, as a rule.", Required: true),
        new Field("ambient", new QuantityType(Unit.Temperature, 233.15, 378.15), "Temperature of the air around the board; 25 degC without it."),
        new Field("blocks", new NamedType(new ObjectType(Block)), "The blocks by names of your own.", Required: true),
        new Field("parts", new NamedType(new ObjectType(Part)), "Single parts between nets, by names of your own."),
        new Field("test-points", new NamedType(new ObjectType(Point)), "Points on nets, beside those of the blocks, by names of your own."));
}
