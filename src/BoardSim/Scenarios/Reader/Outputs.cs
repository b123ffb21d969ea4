using BoardSim.Quantities;
using BoardSim.Scenarios.Text;

namespace BoardSim.Scenarios.Reader;

/// <summary>The numbers that a scenario gives by name: readings and metrics, with their units.</summary>
internal sealed class Outputs
{
    private readonly Dictionary<string, Unit?> units = new(StringComparer.Ordinal);
    private readonly HashSet<string> observations = new(StringComparer.Ordinal);

    public IEnumerable<string> Names => units.Keys;

    /// <summary>Takes up an observation; it gives a number when it is a reading.</summary>
    /// <param name="observation">The observation.</param>
    /// <param name="unit">Its unit; null when it could not be told.</param>
    /// <param name="isReading">True when it gives a number.</param>
    public void Add(ObservationSpec observation, Unit? unit, bool isReading)
    {
        observations.Add(observation.Name);
        if (isReading)
        {
            units[observation.Name] = unit;
        }
    }

    /// <summary>Takes up a metric, even a wrong one: its name is known all the same.</summary>
    public void AddMetric(TextNode name, Unit? unit, Findings findings)
    {
        if (observations.Contains(name.Text))
        {
            findings.Add(name, $"\"{name.Text}\" is the name of an observation already; expectations could not tell the two apart");
        }

        units[name.Text] = unit;
    }

    public bool Has(string name) => units.ContainsKey(name);

    /// <summary>Unit of a number; null when it is not known.</summary>
    public Unit? UnitOf(string name) => units.GetValueOrDefault(name);

    /// <summary>The name, checked: a wrong one is noted.</summary>
    public bool Check(TextNode node, Findings findings)
    {
        if (Has(node.Text))
        {
            return true;
        }

        if (observations.Contains(node.Text))
        {
            findings.Add(node, $"\"{node.Text}\" is a waveform and not a number; take a metric of it, or observe it with a meter");
        }
        else
        {
            findings.AddUnknown(node, "metric or reading of this scenario", Names);
        }

        return false;
    }
}
