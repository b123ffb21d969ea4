using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Netlists.Reading;

/// <summary>The settings of <c>.options</c> that shape the circuit: temperatures and MOSFET default sizes.</summary>
internal sealed class Options
{
    /// <summary>Zero degrees Celsius in kelvin.</summary>
    public const double Celsius = 273.15;

    private static readonly string[] Known = ["TEMP", "TNOM", "DEFL", "DEFW", "DEFAD", "DEFAS"];

    private static readonly string[] Settings =
    [
        "ABSTOL", "ACCT", "BADMOS3", "CHGTOL", "GMIN", "ITL1", "ITL2", "ITL3", "ITL4", "ITL5", "KEEPOPINFO", "LIMPTS", "LIST",
        "METHOD", "MAXORD", "NODE", "NOMOD", "NOPAGE", "NUMDGT", "OPTS", "PIVREL", "PIVTOL", "RELTOL", "TRTOL", "TRYTOCOMPACT", "VNTOL",
    ];

    private readonly Dictionary<string, double> values = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Temperature of the circuit in kelvin.</summary>
    public double Temperature => values.GetValueOrDefault("TEMP", 27) + Celsius;

    /// <summary>Temperature in kelvin at which models without a TNOM hold.</summary>
    public double NominalTemperature => values.GetValueOrDefault("TNOM", 27) + Celsius;

    /// <summary>MOSFET length in metres where the part gives none.</summary>
    public double Length => values.GetValueOrDefault("DEFL", 100e-6);

    /// <summary>MOSFET width in metres where the part gives none.</summary>
    public double Width => values.GetValueOrDefault("DEFW", 100e-6);

    /// <summary>MOSFET drain area in square metres where the part gives none.</summary>
    public double DrainArea => values.GetValueOrDefault("DEFAD", 0);

    /// <summary>MOSFET source area in square metres where the part gives none.</summary>
    public double SourceArea => values.GetValueOrDefault("DEFAS", 0);

    /// <summary>Reads one <c>.options</c> card.</summary>
    public void Read(Card card, Findings findings)
    {
        while (!card.AtEnd)
        {
            var name = card.Next("an option");
            if (Known.Contains(name.Text, StringComparer.OrdinalIgnoreCase))
            {
                var at = card.Next($"the value of {name.Text}");
                var value = Card.Number(at, $"the value of {name.Text}");
                if (!IsLegal(name.Text.ToUpperInvariant(), value))
                {
                    findings.Add(at.Finding($"{name.Text} {at.Text}: a temperature is above -273.15 degC, a length or width positive, an area zero or more."));
                }
                else if (!values.TryAdd(name.Text, value))
                {
                    findings.Add(name.Finding($"{name.Text} is given twice."));
                }

                continue;
            }

            findings.Add(name.Finding(Settings.Contains(name.Text, StringComparer.OrdinalIgnoreCase)
                ? $"The option {name.Text} sets a solver that this one is not; delete it and state the accuracy of the run instead."
                : $"There is no option {name.Text}{Nearest.Hint(name.Text, Known)}; known are {string.Join(", ", Known)}."));
            if (!card.AtEnd && (card.Current.Before.Contains('=') || SpiceNumber.LooksLikeOne(card.Current.Text)))
            {
                card.Next("its value");
            }
        }
    }

    /// <summary>Gives the circuit its temperature.</summary>
    public void Apply(Circuit circuit) => circuit.Temperature = Temperature;

    private static bool IsLegal(string name, double value) => name switch
    {
        "TEMP" or "TNOM" => value > -Celsius,
        "DEFL" or "DEFW" => value > 0,
        _ => value >= 0,
    };
}
