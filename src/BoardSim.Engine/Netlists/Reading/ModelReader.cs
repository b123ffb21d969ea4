using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Netlists.Reading;

/// <summary>Reads <c>.model</c> cards.</summary>
internal static partial class ModelReader
{
    private static readonly string[] Types = ["R", "C", "D", "NPN", "PNP", "NMOS", "PMOS", "SW", "CSW"];
    private static readonly string[] Unsupported = ["NJF", "PJF", "NMF", "PMF", "URC", "LTRA"];

    private static readonly ParameterTable ResistorTable = new ParameterTable("R").Used("TC1", "TC2", "RSH", "DEFW", "NARROW", "TNOM");
    private static readonly ParameterTable CapacitorTable = new ParameterTable("C").Used("CJ", "CJSW", "DEFW", "NARROW");
    private static readonly ParameterTable VoltageSwitchTable = new ParameterTable("SW").Used("RON", "ROFF", "VT", "VH");
    private static readonly ParameterTable CurrentSwitchTable = new ParameterTable("CSW").Used("RON", "ROFF", "IT", "IH");

    private static readonly ParameterTable DiodeTable = new ParameterTable("D")
        .Used("IS", "RS", "N", "TT", "CJO", "VJ", "M", "EG", "XTI", "FC", "BV", "IBV", "TNOM")
        .Alias("CJ0", "CJO")
        .WithoutEffect("KF", "AF");

    /// <summary>Reads all model cards into their definitions.</summary>
    public static void Read(IEnumerable<(Definition Scope, Card Card)> cards, Options options, Findings findings)
    {
        foreach (var (scope, card) in cards)
        {
            try
            {
                Read(scope, card.Rewind(), options, findings);
            }
            catch (CardException fault)
            {
                fault.Report(findings);
            }
        }
    }

    private static void Read(Definition scope, Card card, Options options, Findings findings)
    {
        var name = card.Next("the model's name");
        var type = card.Next($"the model's type ({string.Join(", ", Types)})");
        if (!Types.Contains(type.Text, StringComparer.OrdinalIgnoreCase))
        {
            // The parts that name this model are not to be blamed for its type.
            scope.Models.TryAdd(name.Text, new ModelCard(name, type.Text, null));
            throw Card.Fault(type, Unsupported.Contains(type.Text, StringComparer.OrdinalIgnoreCase)
                ? $"Models of type {type.Text} are not supported; known are {string.Join(", ", Types)}."
                : $"There is no model type {type.Text}{Nearest.Hint(type.Text, Types)}; known are {string.Join(", ", Types)}.");
        }

        var letters = type.Text.ToUpperInvariant();

        // A model with errors is entered all the same, with its type's defaults, so that its parts are checked as well.
        var values = Table(letters).Read(card, findings) ?? new ParameterValues();
        if (values.Has("RBM") && values["RBM", 0] != values["RB", 0])
        {
            findings.Add(name.Finding("RBM differs from RB: this transistor's base resistance does not fall with the current; leave RBM out, or state RB as it is at the currents of interest."));
        }

        if (!scope.Models.TryAdd(name.Text, new ModelCard(name, letters, Parameters(letters, values, options))))
        {
            throw Card.Fault(name, $"There is a model {name.Text} already, in line {scope.Models[name.Text].Name.Line}.");
        }
    }

    private static ParameterTable Table(string type) => type switch
    {
        "R" => ResistorTable,
        "C" => CapacitorTable,
        "D" => DiodeTable,
        "SW" => VoltageSwitchTable,
        "CSW" => CurrentSwitchTable,
        "NPN" or "PNP" => BipolarTable,
        _ => MosfetTable,
    };

    private static object Parameters(string type, ParameterValues v, Options options)
    {
        var tnom = v.Has("TNOM") ? v["TNOM", 0] + Options.Celsius : options.NominalTemperature;
        return type switch
        {
            "R" => new ResistorModel(v["TC1", 0], v["TC2", 0], v["RSH", 0], v["DEFW", 1e-6], v["NARROW", 0], tnom),
            "C" => new CapacitorModel(v["CJ", 0], v["CJSW", 0], v["DEFW", 1e-6], v["NARROW", 0]),
            "D" => Diode(v, tnom),
            "SW" => Switch(v, "VT", "VH"),
            "CSW" => Switch(v, "IT", "IH"),
            "NPN" or "PNP" => Bipolar(v, type == "PNP", tnom),
            _ => Mosfet(v, type == "PMOS", tnom),
        };
    }

    private static SwitchModel Switch(ParameterValues v, string threshold, string hysteresis)
    {
        var d = new SwitchModel();
        return new SwitchModel
        {
            OnResistance = v["RON", d.OnResistance],
            OffResistance = v["ROFF", d.OffResistance],
            Threshold = v[threshold, d.Threshold],
            Hysteresis = v[hysteresis, d.Hysteresis],
        };
    }

    private static DiodeModel Diode(ParameterValues v, double tnom)
    {
        var d = new DiodeModel();
        return new DiodeModel
        {
            SaturationCurrent = v["IS", d.SaturationCurrent],
            EmissionCoefficient = v["N", d.EmissionCoefficient],
            SeriesResistance = v["RS", d.SeriesResistance],
            JunctionCapacitance = v["CJO", d.JunctionCapacitance],
            JunctionPotential = v["VJ", d.JunctionPotential],
            Grading = v["M", d.Grading],
            ForwardCoefficient = v["FC", d.ForwardCoefficient],
            TransitTime = v["TT", d.TransitTime],
            BreakdownVoltage = v.InfiniteAtZero("BV"),
            BreakdownCurrent = v["IBV", d.BreakdownCurrent],
            EnergyGap = v["EG", d.EnergyGap],
            SaturationExponent = v["XTI", d.SaturationExponent],
            NominalTemperature = tnom,
        };
    }
}
