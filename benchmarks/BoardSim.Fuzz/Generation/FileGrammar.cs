using System.Globalization;
using BoardSim.Blocks;
using BoardSim.Boards;
using BoardSim.Measurement;
using BoardSim.Quantities;
using BoardSim.Scenarios;
using BoardSim.Scenarios.Format;
using BoardSim.Scenarios.Running;

namespace BoardSim.Fuzz.Generation;

/// <summary>
/// Makes whole scenario and board files from the tables that the readers themselves are made of, so that a new key is tried
/// without a word here. Most values are right for their type; whether they go together is left to chance.
/// </summary>
internal sealed class FileGrammar
{
    private static readonly IReadOnlyList<(Block Block, Board Board)> Blocks = [.. BlockCatalogue.All.Select(b => (b, b.Build()))];
    private static readonly IReadOnlyList<string> Nets = ["earth", "line", "neutral", "bulk", "return", "rail-12v", "rail-5v", "ground", "air", "spare"];

    private readonly Dice dice;
    private readonly FieldSet root;
    private Block block;
    private Board board;
    private readonly string[] conditions;
    private readonly string[] observations;
    private readonly string[] metrics;

    /// <param name="dice">Chance.</param>
    /// <param name="root">The keys of the file: those of a scenario or of a board.</param>
    public FileGrammar(Dice dice, FieldSet root)
    {
        (this.dice, this.root) = (dice, root);
        (block, board) = dice.Of(Blocks);
        conditions = [.. Enumerable.Range(0, dice.Between(0, 3)).Select(k => $"c{k}").Prepend("healthy")];
        observations = [.. Enumerable.Range(0, dice.Between(1, 3)).Select(k => $"o{k}")];
        metrics = [.. Enumerable.Range(0, dice.Between(0, 3)).Select(k => $"m{k}")];
    }

    /// <summary>One file.</summary>
    public string Make() => Mapping(root, "root", 0) + (dice.OneIn(100) ? dice.Of(Oddities.Texts) : "");

    private string Mapping(FieldSet fields, string name, int depth)
    {
        if (fields == BoardFormat.Block)
        {
            (block, board) = dice.Of(Blocks);
        }

        var lines = new List<string>();
        foreach (var field in fields.Fields)
        {
            if (dice.OneIn(150) || !(field.Required || dice.OneIn(depth == 0 ? 2 : 4) || IsObserved(field, name)))
            {
                continue;
            }

            lines.Add($"{Pad(depth)}{Key(field.Name)}: {Value(field.Type, field.Name, name, depth)}\n");
        }

        if (dice.OneIn(80))
        {
            lines.Add($"{Pad(depth)}{dice.Of("unknown", "a b", "1", "? x", "-", "\"\"", "~")}: {Scalar()}\n");
        }

        return string.Concat(lines);
    }

    /// <summary>An observation looks at something, or nothing else of the file can be right.</summary>
    private bool IsObserved(Field field, string name) => name.StartsWith('o') && field.Type is OfBlockType { What: BlockNames.TestPoint } && !dice.OneIn(10);

    private string Key(string name) => dice.OneIn(200) ? dice.Of($"\"{name}\"", $"'{name}'", name + " ", name[..^1], name.ToUpperInvariant(), $"&a {name}") : name;

    private string Value(FieldType type, string key, string owner, int depth)
    {
        if (dice.OneIn(120))
        {
            return dice.Of(Scalar(), "[]", "{}", "[a, [b]]", "{a: {b: c}}", "", "~", "\n" + Pad(depth + 1) + "- x\n", "|\n" + Pad(depth + 1) + "text\n" + Pad(depth + 1) + "more", ">-\n" + Pad(depth + 1) + "folded");
        }

        return type switch
        {
            TextType => dice.Of("A text", "\"quoted: text\"", "'single'", "é ∞", "0", "true"),
            NameType => Name(key),
            QuantityType q => Quantity(q.Unit, double.IsFinite(q.Minimum) ? q.Minimum : 1e-3, double.IsFinite(q.Maximum) ? q.Maximum : 1e3),
            AnyQuantityType => Quantity(dice.Of(Unit.Ohm, Unit.Second, Unit.Volt, Unit.Farad, Unit.Ratio), 1e-3, 1e3),
            CountType c => dice.OneIn(8) ? dice.Of(Oddities.Numbers) : dice.Between(c.Minimum, Math.Min(c.Maximum, c.Minimum + 20)).ToString(CultureInfo.InvariantCulture),
            ChoiceType c => dice.Of(c.Words).Name,
            WindowType => dice.Of("whole run", "last 2 line cycles", "last 10 switching cycles", "0 ms to 1 ms", "from 1 ms", "1 ms to 0 ms", "last 0 line cycles", "last 99999999999 line cycles", $"{dice.Of(Oddities.Numbers)} s to 1 s"),
            ListType list => Items(list.Item, key, owner, depth),
            NamedType named => Named(named.Item, key, depth),
            ObjectType o => "\n" + Mapping(o.Fields, key, depth + 1),
            OfBlockType of => OfBlock(of.What, owner, depth),
            BlockType => block.Id,
            MetricType => dice.Of(Metrics.All).Id,
            MetricParametersType => Parameters(),
            ExpectationType => Expectation(),

            // A type that is newer than this list gets anything at all.
            _ => Scalar(),
        };
    }

    private string Name(string key) => dice.OneIn(30) ? dice.Of("nobody", "Healthy", "a--b", "-", "o 1") : key switch
    {
        "of" or "and" => dice.Of(observations),
        "conditions" => dice.Of(conditions),
        "zero-net" or "from" or "to" or "net" or "against" => dice.Of(Nets),
        _ => dice.Of([.. metrics, .. observations]),
    };

    private string Items(FieldType item, string key, string owner, int depth)
    {
        var count = dice.OneIn(400) ? dice.Of(0, 200, 1500) : dice.Between(1, 4);
        if (item is ObjectType o)
        {
            return "\n" + string.Concat(Enumerable.Range(0, count).Select(_ =>
            {
                var text = Mapping(o.Fields, key, depth + 2);
                return text.Length == 0 ? $"{Pad(depth + 1)}- {{}}\n" : $"{Pad(depth + 1)}- {text.TrimStart()}";
            }));
        }

        return $"[{string.Join(", ", Enumerable.Range(0, count).Select(_ => Value(item, key, owner, depth)))}]";
    }

    private string Named(FieldType item, string key, int depth)
    {
        var names = key switch
        {
            "conditions" => conditions,
            "observe" => observations,
            "metrics" => metrics,
            _ => [.. Enumerable.Range(0, dice.Between(1, 3)).Select(k => $"f{k}")],
        };
        if (dice.OneIn(500))
        {
            names = [.. names, .. Enumerable.Range(0, dice.Of(1, 100, 1000, 5000)).Select(k => $"n{k}")];
        }

        return "\n" + string.Concat(names.Select(n => $"{Pad(depth + 1)}{n}: {(n == "healthy" ? "{label: Healthy}\n" : Value(item, n, n, depth + 1))}\n"));
    }

    private string OfBlock(BlockNames what, string owner, int depth) => what switch
    {
        BlockNames.Values => Pairs(block.Values.Where(_ => dice.OneIn(6)).Select(v => $"{v.Key}: {BlockValue(v)}"), depth),
        BlockNames.Faults => owner == "healthy" ? "{}" : Pairs(block.Faults.Where(_ => dice.OneIn(5)).Select(f => $"{f.Id}: {Severity(f)}"), depth),
        BlockNames.Tolerances => Pairs(block.Values.Where(_ => dice.OneIn(6)).Select(v => $"{v.Key}: {Tolerance()}"), depth),
        BlockNames.Wires => Pairs(block.Ports.Where(_ => !dice.OneIn(30)).Select(p => $"{p.Name}: {dice.Of(Nets)}"), depth),
        BlockNames.SweepableValue => One(block.Values, v => v.Key),
        BlockNames.FaultWithSeverity => One(block.Faults, f => f.Id),
        BlockNames.TestPoint => One(board.TestPoints, p => p.Name),
        BlockNames.LeadPlace => One([.. LeadPlaces.Of(board)], p => p.Name),
        BlockNames.Current => One(board.Currents, c => c.Name),
        BlockNames.State => One(board.States, x => x.Name),
        _ => One(board.Readouts, r => r.Name),
    };

    private string One<T>(IReadOnlyList<T> items, Func<T, string> name) => items.Count > 0 ? name(dice.Of(items)) : "none";

    private string Tolerance() => dice.Next(3) switch
    {
        0 => $"{{tolerance: {dice.Between(0, 30)} %, distribution: {dice.Of("uniform", "normal", "none")}}}",
        1 => Quantity(dice.Of(Unit.Ohm, Unit.Volt, Unit.Farad), 1e-3, 1e3),
        _ => $"{dice.Between(0, 30)} %",
    };

    private string Pairs(IEnumerable<string> pairs, int depth) => dice.OneIn(2)
        ? $"{{{string.Join(", ", pairs)}}}"
        : string.Concat(pairs.Select(p => $"\n{Pad(depth + 1)}{p}"));

    private string BlockValue(ValueDefinition value) => value.Kind == ValueKind.Choice
        ? dice.Of(value.Choices)
        : Quantity(Unit.Find(value.Unit)!, value.Minimum, value.Maximum, value.Default as double?);

    private string Severity(Faults.FaultDefinition fault) => fault.Severity is { } s && !dice.OneIn(3)
        ? Quantity(Unit.Find(s.Unit)!, s.Minimum, s.Maximum, s.Default)
        : ScenarioFormat.Present;

    private string Parameters()
    {
        var metric = dice.Of(Metrics.All);
        return $"{{{string.Join(", ", metric.Parameters.Select(p => $"{p.Key}: {Quantity(p.Unit ?? Unit.Volt, Math.Max(p.Minimum, 1e-3), Math.Min(p.Maximum, 1e3))}"))}}}";
    }

    private string Expectation()
    {
        var (name, condition) = (dice.Of([.. metrics, .. observations]), dice.Of(conditions));
        return dice.Next(9) switch
        {
            0 => $"{name} of {condition} > {Quantity(Unit.Volt, 1e-3, 1e3)}",
            1 => $"{name} of {condition} / {name} of healthy >= {dice.Of(Oddities.Numbers)}",
            2 => $"{name} of {condition} between 1 V and {Quantity(Unit.Volt, 1, 10)}",
            3 => $"{name} of {condition} = {Quantity(Unit.Ampere, 1e-3, 10)} within 3 %",
            4 => $"{name} of {condition} has no value",
            5 => $"{name} of {condition} rises over the sweep",
            6 => $"{name} of {condition} at {Quantity(Unit.Ohm, 1, 10)} < 5 V",
            7 => $"\"{name} of {condition} - {name} of healthy < 0 V\"",
            _ => dice.Of("of of of", "a of b", "> 5", "has a value", "=", "a of b = c within", "rises falls has between"),
        };
    }

    private string Quantity(Unit unit, double least, double most, double? usual = null)
    {
        if (dice.OneIn(40))
        {
            return $"{dice.Of(Oddities.Numbers)} {unit.Symbol}";
        }

        var value = usual is { } u && !dice.OneIn(3) ? u * (0.5 + dice.Share())
            : least > 0 && double.IsFinite(most) ? dice.Decades(least, most)
            : double.IsFinite(most - least) ? least + dice.Share() * (most - least)
            : dice.Decades(1e-3, 1e3);
        var shown = unit.Shown(value).ToString("G4", CultureInfo.InvariantCulture);
        return dice.OneIn(60) ? shown : dice.OneIn(60) ? $"{shown} {dice.Of(Unit.All).Symbol}" : $"{shown} {unit.Symbol}".Trim();
    }

    private string Scalar() => dice.Next(5) switch
    {
        0 => dice.Of(Oddities.Numbers),
        1 => dice.Of(Oddities.Texts),
        2 => $"\"{dice.Of(Oddities.Texts)}\"",
        3 => dice.OneIn(100) ? Oddities.Huge(dice) : "x",
        _ => dice.Of("*a", "&a b", "!!int 5", "[", "{", "]", "}", "%TAG", "a: b", "- a", "|", "'", "\"\\x\"", "\"\\u12\""),
    };

    private static string Pad(int depth) => new(' ', 2 * depth);
}
