using System.Reflection;
using System.Text;
using BoardSim.Quantities;

namespace BoardSim.Blocks;

/// <summary>
/// One value of a block as data: what scenario files, the schema and the lists on the command line are made of. It reads and
/// writes the block's property of the same meaning.
/// </summary>
public sealed class ValueDefinition
{
    private readonly PropertyInfo property;
    private readonly Unit? unit;
    private readonly Dictionary<string, object> words = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Finds the block that has the property, for a value of a block on a board.</summary>
    private Func<Block, Block>? owner;

    private ValueDefinition(PropertyInfo property, string key, string description, object? @default, Unit? unit = null)
    {
        this.property = property;
        Key = key;
        Description = description;
        Default = @default;
        this.unit = unit;
    }

    /// <summary>Key in scenario files, such as <c>bulk.esr</c>.</summary>
    public string Key { get; }

    /// <summary>Whether it is a number with a unit or a word.</summary>
    public ValueKind Kind { get; private init; }

    /// <summary>Symbol of the unit, one of <see cref="Quantities.Unit"/>; empty for a ratio and for a choice.</summary>
    public string Unit => unit?.Symbol ?? "";

    /// <summary>Smallest legal value as the unit holds it (a temperature in kelvin); meaningless for a choice.</summary>
    public double Minimum { get; private init; } = double.NegativeInfinity;

    /// <summary>Largest legal value as the unit holds it; meaningless for a choice.</summary>
    public double Maximum { get; private init; } = double.PositiveInfinity;

    /// <summary>Value when none is given: a <see cref="double"/>, the word of a choice, or null for a quantity that follows from others.</summary>
    public object? Default { get; private init; }

    /// <summary>The words of a choice; empty for a quantity.</summary>
    public IReadOnlyList<string> Choices { get; private init; } = [];

    /// <summary>What it is.</summary>
    public string Description { get; }

    /// <summary>True for a value of the bench, which has no meaning on a board.</summary>
    public bool OnBenchOnly { get; private init; }

    /// <summary>Name of the property in C#.</summary>
    public string PropertyName => property.Name;

    /// <summary>Reads the value: a <see cref="double"/>, null where an optional quantity is not set, or the word of a choice.</summary>
    /// <param name="block">A block of the type that this definition belongs to.</param>
    public object? Get(Block block)
    {
        var value = property.GetValue(Owner(block));
        return Kind == ValueKind.Choice ? Word(value!.ToString()!) : value;
    }

    /// <summary>Writes the value.</summary>
    /// <param name="block">A block of the type that this definition belongs to.</param>
    /// <param name="value">A <see cref="double"/> as <see cref="Unit"/> holds it, a word of <see cref="Choices"/>, or the property's own enum member.</param>
    /// <exception cref="BlockException">The value is of the wrong kind, out of range or no word of the choice.</exception>
    public void Set(Block block, object value)
    {
        if (Problem(value) is { } problem)
        {
            throw new BlockException(problem);
        }

        property.SetValue(Owner(block), value is string word ? words[word] : value);
    }

    /// <summary>What is wrong with a value, in one sentence; null when nothing is.</summary>
    /// <param name="value">A <see cref="double"/> as <see cref="Unit"/> holds it, a word, or an enum member.</param>
    public string? Problem(object? value) => (Kind, value) switch
    {
        (ValueKind.Quantity, double number) => number >= Minimum && number <= Maximum
            ? null
            : $"{Key}: {Show(number)}; it must lie between {Show(Minimum)} and {Show(Maximum)} ({Description})",
        (ValueKind.Quantity, _) => $"{Key} takes a {unit!.Kind} such as {unit.Example}.",
        (ValueKind.Choice, string word) when words.ContainsKey(word) => null,
        (ValueKind.Choice, Enum member) when words.ContainsValue(member) => null,
        _ => $"{Key}: {value}; it must be one of {string.Join(", ", Choices)}.",
    };

    /// <summary>The same value of a block that stands on a board.</summary>
    /// <param name="place">Name of the block's place, which stands before the key.</param>
    /// <param name="placed">The block in its place: its value is what is usual there.</param>
    /// <param name="find">Finds the block in a board's design.</param>
    internal ValueDefinition OnPlacement(string place, Block placed, Func<Block, Block> find)
    {
        var copy = new ValueDefinition(property, $"{place}.{Key}", Description, Get(placed), unit)
        {
            Kind = Kind,
            Minimum = Minimum,
            Maximum = Maximum,
            Choices = Choices,
            owner = find,
        };
        foreach (var (word, member) in words)
        {
            copy.words[word] = member;
        }

        return copy;
    }

    private Block Owner(Block block) => owner is null ? block : owner(block);

    internal static IReadOnlyList<ValueDefinition> Reflect(Block fresh)
    {
        var found = new List<ValueDefinition>();

        // Base types first, then in the order of declaration: the order that people read them in.
        foreach (var p in fresh.GetType().GetProperties().OrderBy(p => p.MetadataToken))
        {
            if (p.GetCustomAttribute<QuantityAttribute>() is { } q)
            {
                if (p.PropertyType != typeof(double) && p.PropertyType != typeof(double?))
                {
                    throw new InvalidOperationException($"{p.DeclaringType!.Name}.{p.Name} is marked as a quantity but is no double.");
                }

                var unit = Quantities.Unit.Find(q.Unit)
                    ?? throw new InvalidOperationException($"{p.DeclaringType!.Name}.{p.Name} has the unit '{q.Unit}', which nobody knows.");
                found.Add(new ValueDefinition(p, q.Key, q.Description, p.GetValue(fresh), unit)
                {
                    Kind = ValueKind.Quantity,
                    Minimum = q.Minimum,
                    Maximum = q.Maximum,
                    OnBenchOnly = q.OnBenchOnly,
                });
            }
            else if (p.GetCustomAttribute<ChoiceAttribute>() is { } c)
            {
                var names = Enum.GetNames(p.PropertyType);
                var definition = new ValueDefinition(p, c.Key, c.Description, Word(p.GetValue(fresh)!.ToString()!))
                {
                    Kind = ValueKind.Choice,
                    Choices = [.. names.Select(Word)],
                    OnBenchOnly = c.OnBenchOnly,
                };
                foreach (var name in names)
                {
                    definition.words[Word(name)] = Enum.Parse(p.PropertyType, name);
                }

                found.Add(definition);
            }
        }

        return found;
    }

    private string Show(double value) => Quantity.FormatShort(value, unit!);

    /// <summary>Kebab case of an identifier: ToSupply gives to-supply, Mains230V50Hz gives mains-230v-50hz.</summary>
    private static string Word(string name)
    {
        var word = new StringBuilder();
        for (var i = 0; i < name.Length; i++)
        {
            var starts = i > 0 && ((char.IsUpper(name[i]) && !char.IsDigit(name[i - 1])) || (char.IsDigit(name[i]) && char.IsLower(name[i - 1])));
            if (starts)
            {
                word.Append('-');
            }

            word.Append(char.ToLowerInvariant(name[i]));
        }

        return word.ToString();
    }
}
