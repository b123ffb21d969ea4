using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Netlists.Reading;

/// <summary>Reads E, F, G, H, S and W.</summary>
internal static class ControlledParts
{
    public static Device VoltageControlled(PartContext part, bool isVoltage)
    {
        var form = isVoltage ? "Ename node node control+ control- gain" : "Gname node node control+ control- siemens";
        var (a, b) = (part.Node("the positive node"), part.Node("the negative node"));
        LinearParts.RefusePolynomial(part.Card);
        var (p, n) = (part.Node("the positive control node"), part.Node("the negative control node"));
        var gain = part.Card.Number(isVoltage ? "the voltage gain" : "the transconductance in siemens");
        part.Card.End(form);
        return isVoltage
            ? new VoltageControlledVoltageSource(part.Name, a, b, p, n, gain)
            : new VoltageControlledCurrentSource(part.Name, a, b, p, n, gain);
    }

    public static Device CurrentControlled(PartContext part, bool isVoltage, Action<Token, string, Func<Device?, string?>> later)
    {
        var form = isVoltage ? "Hname node node Vname ohms" : "Fname node node Vname gain";
        var (a, b) = (part.Node("the positive node"), part.Node("the negative node"));
        LinearParts.RefusePolynomial(part.Card);
        var control = Control(part, later);
        var gain = part.Card.Number(isVoltage ? "the transresistance in ohms" : "the current gain");
        part.Card.End(form);
        return isVoltage
            ? new CurrentControlledVoltageSource(part.Name, a, b, control, gain)
            : new CurrentControlledCurrentSource(part.Name, a, b, control, gain);
    }

    public static VoltageSwitch VoltageSwitch(PartContext part)
    {
        var (a, b) = (part.Node("the first node"), part.Node("the second node"));
        var (p, n) = (part.Node("the positive control node"), part.Node("the negative control node"));
        var model = part.Model<SwitchModel>("SW");
        return new VoltageSwitch(part.Name, a, b, p, n, model) { InitiallyOn = IsOn(part, "Sname node node control+ control- model [ON|OFF]") };
    }

    public static CurrentSwitch CurrentSwitch(PartContext part, Action<Token, string, Func<Device?, string?>> later)
    {
        var (a, b) = (part.Node("the first node"), part.Node("the second node"));
        var control = Control(part, later);
        var model = part.Model<SwitchModel>("CSW");
        return new CurrentSwitch(part.Name, a, b, control, model) { InitiallyOn = IsOn(part, "Wname node node Vname model [ON|OFF]") };
    }

    private static bool IsOn(PartContext part, string form)
    {
        var on = part.Card.TryWord("ON");
        if (!on)
        {
            part.Card.TryWord("OFF");
        }

        part.Card.End(form);
        return on;
    }

    private static string Control(PartContext part, Action<Token, string, Func<Device?, string?>> later)
    {
        var control = part.Other("the name of the voltage source whose current controls", out var at);
        later(at, control, other => other is VoltageSource ? null : "the controlling current is that of a voltage source (put one of 0 V in series)");
        return control;
    }
}
