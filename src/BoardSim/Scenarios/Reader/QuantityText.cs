using BoardSim.Quantities;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios.Reader;

/// <summary>Reads texts of the file as quantities, and says what range is legal.</summary>
internal static class QuantityText
{
    private const int LongestValue = 60;

    /// <summary>The value in SI units; null when the text is no such value, which is then noted.</summary>
    public static double? Read(TextNode node, Unit unit, Findings findings)
    {
        if (node.Text.Length > LongestValue)
        {
            findings.Add(node, $"\"{Findings.Quote(node.Text)}\" is too long for a value; write a {unit.Kind} such as {unit.Example}");
            return null;
        }

        if (Quantity.TryParse(node.Text, unit, out var value, out var problem))
        {
            return value;
        }

        findings.Add(node, problem.TrimEnd('.'));
        return null;
    }

    /// <summary>A range in words.</summary>
    public static string Range(Unit unit, double minimum, double maximum, bool above = false)
    {
        var low = double.IsFinite(minimum) ? Quantity.FormatShort(minimum, unit) : null;
        var high = double.IsFinite(maximum) ? Quantity.FormatShort(maximum, unit) : null;
        return (low, high) switch
        {
            ({ } from, { } to) => above ? $"more than {from}, up to {to}" : $"{from} to {to}",
            ({ } from, null) => above ? $"more than {from}" : $"{from} or more",
            (null, { } to) => $"up to {to}",
            _ => "any finite value",
        };
    }
}
