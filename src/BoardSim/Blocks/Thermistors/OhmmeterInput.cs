using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Thermistors;

/// <summary>
/// An ohmmeter as it is on the inside: a test voltage behind a range resistor, and the unknown resistance worked out from the
/// divider that they form. Test voltages stay low, but high enough to heat a small sensor a little.
/// </summary>
internal static class OhmmeterInput
{
    public const double TestVolts = 3;
    public const double RangeOhms = 100e3;

    /// <summary>Connects the meter to two nodes.</summary>
    public static void Connect(Circuit circuit, string red, string black)
    {
        circuit.Add(new VoltageSource("V_ohmmeter", "ohmmeter", black, TestVolts));
        circuit.Add(new Resistor("R_ohmmeter", "ohmmeter", red, RangeOhms));
    }

    /// <summary>What the meter shows for those nodes.</summary>
    public static Readout Readout(string red, string black, double trueOhms) => new()
    {
        Name = "ohmmeter",
        Node = red,
        ReferenceNode = black,
        Unit = "ohm",
        Description = "Ohmmeter on the two contacts of the pulled plug.",
        Convert = volts => volts >= TestVolts ? double.PositiveInfinity : RangeOhms * volts / (TestVolts - volts),
        TrueValue = trueOhms,
    };
}
