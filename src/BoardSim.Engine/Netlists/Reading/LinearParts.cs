using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Netlists.Reading;

/// <summary>Reads R, C, L, K, V and I.</summary>
internal static class LinearParts
{
    public static Resistor Resistor(PartContext part)
    {
        const string Form = "Rname node node [ohms] [model [L=metres] [W=metres]]";
        var (a, b) = (part.Node("the first node"), part.Node("the second node"));
        var at = part.Card.AtEnd ? part.Head : part.Card.Current;
        double? ohms = part.Card.TryNumber(out var given) ? given : null;
        if (ohms is not null && EndsIn(at, 'm'))
        {
            part.Remark(at, $"{at.Text} is milliohm; a megohm is written 1MEG.");
        }

        if (part.Card.AtEnd)
        {
            return new Resistor(part.Name, a, b, ohms ?? part.Card.Number("the resistance in ohms"));
        }

        if (part.Card.Current.Is("TC") || part.Card.Current.Is("TC1") || part.Card.Current.Is("TC2"))
        {
            throw Card.Fault(part.Card.Current, "Berkeley states temperature coefficients in a model: .model name R(TC1=... TC2=...), and its name behind the resistance.");
        }

        var name = part.Card.Current;
        RequireModel(part, name, ohms is not null, "the resistance in ohms", Form);
        var model = part.Model<ResistorModel>("R");
        double? length = null;
        var width = model.DefaultWidth;
        part.Keywords(Form, ("L", v => length = v), ("W", v => width = v));
        ohms ??= length is { } l && model.SheetResistance > 0 && l > model.Narrowing && width > model.Narrowing
            ? model.SheetResistance * (l - model.Narrowing) / (width - model.Narrowing)
            : throw Card.Fault(name, "Without a resistance the model needs RSH, and the part an L and W above the model's NARROW.");
        return new Resistor(part.Name, a, b, ohms.Value)
        {
            Tc1 = model.Tc1,
            Tc2 = model.Tc2,
            NominalTemperature = model.NominalTemperature,
        };
    }

    public static Capacitor Capacitor(PartContext part)
    {
        const string Form = "Cname node node [farads] [model [L=metres] [W=metres]] [IC=volts]";
        var (a, b) = (part.Node("the positive node"), part.Node("the negative node"));
        RefusePolynomial(part.Card);
        var at = part.Card.AtEnd ? part.Head : part.Card.Current;
        double? farads = part.Card.TryNumber(out var given) ? given : null;
        if (farads is not null && EndsIn(at, 'f'))
        {
            part.Remark(at, $"{at.Text} is femtofarad: f scales by 1e-15; a farad is written 1.");
        }

        double? length = null, width = null, initial = null;
        ((string, Action<double>) l, (string, Action<double>) w, (string, Action<double>) ic) =
            (("L", v => length = v), ("W", v => width = v), ("IC", v => initial = v));
        if (part.Card.AtEnd || part.Card.Current.Is("IC"))
        {
            farads ??= part.Card.Number("the capacitance in farads");
            part.Keywords(Form, ic);
        }
        else
        {
            var name = part.Card.Current;
            RequireModel(part, name, farads is not null, "the capacitance in farads", Form, "IC");
            var model = part.Model<CapacitorModel>("C");
            part.Keywords(Form, l, w, ic);
            farads ??= model.Capacitance(length, width)
                ?? throw Card.Fault(name, "Without a capacitance the model needs CJ or CJSW, and the part an L and W above the model's NARROW.");
        }

        return new Capacitor(part.Name, a, b, farads.Value) { InitialVoltage = initial };
    }

    public static Inductor Inductor(PartContext part)
    {
        const string Form = "Lname node node henries [IC=amperes]";
        var (a, b) = (part.Node("the dotted node"), part.Node("the other node"));
        RefusePolynomial(part.Card);
        var henries = part.Card.Number("the inductance in henries");
        double? initial = null;
        part.Keywords(Form, ("IC", v => initial = v));
        return new Inductor(part.Name, a, b, henries) { InitialCurrent = initial };
    }

    /// <summary>Reads K; the inductors are checked when all parts are there.</summary>
    public static Coupling Coupling(PartContext part, Action<Token, string, Func<Device?, string?>> later)
    {
        const string Form = "Kname Lname Lname coefficient";
        var first = part.Other("the first inductor's name", out var firstAt);
        var second = part.Other("the second inductor's name", out var secondAt);
        var coefficient = part.Card.Number("the coupling coefficient");
        part.Card.End(Form);
        later(firstAt, first, IsInductor);
        later(secondAt, second, IsInductor);
        if (first.Equals(second, StringComparison.OrdinalIgnoreCase))
        {
            throw Card.Fault(secondAt, $"{part.Head.Text} couples {first} with itself.");
        }

        return new Coupling(part.Name, first, second, coefficient);

        static string? IsInductor(Device? other) => other is Inductor ? null : "a coupling links two inductors";
    }

    public static VoltageSource VoltageSource(PartContext part)
    {
        var (a, b) = (part.Node("the positive node"), part.Node("the negative node"));
        var value = part.Source();
        return new VoltageSource(part.Name, a, b, value.Waveform) { DcValue = value.Dc, SmallSignal = value.SmallSignal };
    }

    public static CurrentSource CurrentSource(PartContext part)
    {
        var (a, b) = (part.Node("the node that the current leaves"), part.Node("the node that it enters"));
        var value = part.Source();
        return new CurrentSource(part.Name, a, b, value.Waveform) { DcValue = value.Dc, SmallSignal = value.SmallSignal };
    }

    public static void RefusePolynomial(Card card)
    {
        if (!card.AtEnd && card.Current.Is("POLY"))
        {
            throw Card.Fault(card.Current, "POLY is of SPICE2; SPICE3 has no such form, and this program neither.");
        }
    }

    /// <summary>Explains a word that should be a model's name as what it more likely was meant to be.</summary>
    private static void RequireModel(PartContext part, Token word, bool hasValue, string value, string form, params string[] keywords)
    {
        if (!part.IsModel(word.Text))
        {
            throw hasValue
                ? PartContext.Misplaced(word, form, keywords)
                : Card.Fault(word, $"'{word.Text}' is neither a number nor the name of a model. Here stands {value}.");
        }
    }

    private static bool EndsIn(Token number, char scale) =>
        number.Text.Length > 1 && char.ToLowerInvariant(number.Text[^1]) == scale && !char.IsAsciiLetter(number.Text[^2]);
}

/// <summary>Parameters of a model of type R. Letters as in Berkeley SPICE.</summary>
internal sealed record ResistorModel(double Tc1, double Tc2, double SheetResistance, double DefaultWidth, double Narrowing, double NominalTemperature);

/// <summary>Parameters of a model of type C. Letters as in Berkeley SPICE.</summary>
internal sealed record CapacitorModel(double Area, double Sidewall, double DefaultWidth, double Narrowing)
{
    /// <summary>CJ (L - NARROW)(W - NARROW) + 2 CJSW (L + W - 2 NARROW), or null when it cannot be computed.</summary>
    public double? Capacitance(double? length, double? width)
    {
        var (l, w) = ((length ?? 0) - Narrowing, (width ?? DefaultWidth) - Narrowing);
        return l > 0 && w > 0 && (Area > 0 || Sidewall > 0) ? Area * l * w + 2 * Sidewall * (l + w) : null;
    }
}
