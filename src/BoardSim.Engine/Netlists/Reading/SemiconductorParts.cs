using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Netlists.Reading;

/// <summary>Reads D, Q and M.</summary>
internal static class SemiconductorParts
{
    public static Diode Diode(PartContext part)
    {
        const string Form = "Dname anode cathode model [area] [OFF]";
        var (a, k) = (part.Node("the anode"), part.Node("the cathode"));
        var model = part.Model<DiodeModel>("D");
        var area = part.Card.TryNumber(out var given) ? given : 1;
        part.TakeOff();
        part.RefuseInitial();
        part.Keywords(Form);
        return new Diode(part.Name, a, k, model) { Area = area };
    }

    public static BipolarTransistor Bipolar(PartContext part)
    {
        const string Form = "Qname collector base emitter [substrate] model [area] [OFF]";
        var (c, b, e) = (part.Node("the collector"), part.Node("the base"), part.Node("the emitter"));

        // The substrate may stand before the model; nothing is connected to it, since no model here has a capacitance to it.
        if (part.Card.Ahead(0) is { } next && !part.IsModel(next.Text) && part.Card.Ahead(1) is { } after && part.IsModel(after.Text))
        {
            part.Node("the substrate");
        }

        var model = part.Model<BipolarModel>("NPN", "PNP");
        var area = part.Card.TryNumber(out var given) ? given : 1;
        part.TakeOff();
        part.RefuseInitial();
        part.Keywords(Form);
        return new BipolarTransistor(part.Name, c, b, e, model) { Area = area };
    }

    public static Mosfet Mosfet(PartContext part)
    {
        const string Form = "Mname drain gate source bulk model [L=] [W=] [AD=] [AS=] [PD=] [PS=] [NRD=] [NRS=] [OFF]";
        var (d, g) = (part.Node("the drain"), part.Node("the gate"));
        var (s, b) = (part.Node("the source"), part.Node("the bulk"));
        var model = part.Model<MosfetModel>("NMOS", "PMOS");
        var mosfet = new Mosfet(part.Name, d, g, s, b, model)
        {
            Length = part.Options.Length,
            Width = part.Options.Width,
            DrainArea = part.Options.DrainArea,
            SourceArea = part.Options.SourceArea,
        };
        while (!part.Card.AtEnd)
        {
            part.TakeOff();
            part.RefuseInitial();
            Size(part, mosfet, Form);
        }

        return mosfet;
    }

    private static void Size(PartContext part, Mosfet mosfet, string form)
    {
        if (part.Card.AtEnd)
        {
            return;
        }

        part.Keyword(
            form,
            ("L", v => mosfet.Length = v),
            ("W", v => mosfet.Width = v),
            ("AD", v => mosfet.DrainArea = v),
            ("AS", v => mosfet.SourceArea = v),
            ("PD", v => mosfet.DrainPerimeter = v),
            ("PS", v => mosfet.SourcePerimeter = v),
            ("NRD", v => mosfet.DrainSquares = v),
            ("NRS", v => mosfet.SourceSquares = v));
    }
}
