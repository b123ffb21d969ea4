using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Thermistors;

/// <summary>
/// Temperature sensor input: NTC thermistor at the end of a cable, divider, protection resistor and filter, converter pin, and
/// the program's lookup table.
/// <code>
///  to ground:                                        to supply:
///   supply --+                                        supply --+
///            [R_divider]                                       +--R_contact--[RT1]--+   (R_leak across the plug)
///            |                                                 +--------------------+
///            +--divider--R_protect--+--adc                     |
///            |                      |                          +--divider--R_protect--+--adc
///        R_contact                === C_filter                 |                      |
///            |   plug: R_leak       |                         [R_divider]           === C_filter
///          [RT1]                    |                          |                      |
///   ground --+----------------------+                 ground --+----------------------+
/// </code>
/// </summary>
public sealed partial class ThermistorInput : Block
{
    private const double Nominal = 298.15;

    /// <inheritdoc/>
    public override string Id => "thermistor-input";

    /// <inheritdoc/>
    public override string Title => "Thermistor input with divider, converter and lookup table";

    /// <inheritdoc/>
    public override string Summary =>
        "Turns a temperature into a voltage and the voltage into the number that the program acts on. Shows what open, shorted, "
        + "drifted and damp sensors make the board believe, and what an ohmmeter says at the pulled plug.";

    /// <inheritdoc/>
    public override string Topology => """
         to ground:                                        to supply:
          supply --+                                        supply --+
                   [R_divider]                                       +--R_contact--[RT1]--+   (R_leak across the plug)
                   |                                                 +--------------------+
                   +--divider--R_protect--+--adc                     |
                   |                      |                          +--divider--R_protect--+--adc
               R_contact                === C_filter                 |                      |
                   |   plug: R_leak       |                         [R_divider]           === C_filter
                 [RT1]                    |                          |                      |
          ground --+----------------------+                 ground --+----------------------+
        """;

    /// <inheritdoc/>
    public override bool LineSide => false;

    /// <summary>Voltage of the divider's supply, in volts.</summary>
    [Quantity("supply.voltage", "V", 1, 24, "Nominal voltage of the divider's supply, which the program goes by.")]
    public double SupplyVoltage { get; set; } = 5;

    /// <summary>Where the thermistor sits.</summary>
    [Choice("sensor.position", "Thermistor between pin and ground, or between supply and pin.")]
    public SensorPosition Position { get; set; } = SensorPosition.ToGround;

    /// <summary>Temperature at the sensor, in kelvin.</summary>
    [Quantity("sensor.temperature", "degC", 218.15, 423.15, "True temperature of what the sensor sits in.")]
    public double Temperature { get; set; } = Nominal;

    /// <summary>What decides on the sensor's temperature.</summary>
    [Choice("sensor.place", "Whether the sensor has the temperature that is set, or that of the air at the block's port.")]
    public SensorPlace Place { get; set; } = SensorPlace.SetTemperature;

    /// <summary>Time constant of the sensor in seconds.</summary>
    [Quantity("sensor.time-constant", "s", 0.1, 1000, "Time in which the sensor follows 63 % of a step of the air; of use with sensor.place: air.")]
    public double TimeConstant { get; set; } = 15;

    /// <summary>Law that the thermistor follows.</summary>
    [Choice("sensor.curve", "Law that the thermistor follows: R25 and B, Steinhart and Hart's three constants, or a table.")]
    public SensorCurve Curve { get; set; } = SensorCurve.Beta;

    /// <summary>Resistance at 25 degC in ohms, for the beta law.</summary>
    [Quantity("sensor.r25", "ohm", 100, 1e6, "Resistance of the thermistor at 25 degC (beta law); 10 kohm is the commonest.")]
    public double R25 { get; set; } = 10e3;

    /// <summary>B in kelvin, for the beta law.</summary>
    [Quantity("sensor.beta", "K", 1000, 6000, "B of the thermistor (beta law); 3400 to 4000 K for sensors.")]
    public double Beta { get; set; } = 3950;

    /// <summary>A of Steinhart and Hart's law, in 1/K.</summary>
    [Quantity("sensor.a", "1/K", -1e-2, 1e-2, "A of Steinhart and Hart's law, resistance in ohms.")]
    public double A { get; set; } = 1.13e-3;

    /// <summary>B of Steinhart and Hart's law, in 1/K.</summary>
    [Quantity("sensor.b", "1/K", 1e-6, 1e-2, "B of Steinhart and Hart's law.")]
    public double B { get; set; } = 2.34e-4;

    /// <summary>C of Steinhart and Hart's law, in 1/K.</summary>
    [Quantity("sensor.c", "1/K", 0, 1e-5, "C of Steinhart and Hart's law.")]
    public double C { get; set; } = 8.8e-8;

    /// <summary>Resistance-temperature table: kelvin (rising) and ohms (falling).</summary>
    public IReadOnlyList<(double Kelvin, double Ohms)> SensorTable { get; set; } = DefaultTable;

    /// <summary>Heat in watts that the sensor gives off per kelvin above its surroundings.</summary>
    [Quantity("sensor.dissipation", "W/K", 1e-4, 1, "Heat that the sensor gives off per kelvin above its surroundings; 1 to 3 mW/K in still air, ten times that in water. The measuring current warms it.")]
    public double Dissipation { get; set; } = 2e-3;

    /// <summary>Resistance of the divider's fixed half, in ohms.</summary>
    [Quantity("divider.resistance", "ohm", 100, 1e6, "Fixed resistor of the divider; close to the sensor's value in the middle of the range.")]
    public double DividerResistance { get; set; } = 10e3;

    /// <summary>Resistance between divider and pin, in ohms.</summary>
    [Quantity("protection.resistance", "ohm", 1, 1e6, "Series resistor that protects the pin.")]
    public double ProtectionResistance { get; set; } = 1e3;

    /// <summary>Capacitance at the pin, in farads.</summary>
    [Quantity("filter.capacitance", "F", 1e-12, 1e-3, "Filter capacitor at the pin.")]
    public double FilterCapacitance { get; set; } = 100e-9;

    /// <summary>Resistance of the plug's contacts and the cable, in ohms.</summary>
    [Quantity("contact.resistance", "ohm", 1e-3, 1e6, "Resistance of the plug's contacts and the cable together.")]
    public double ContactResistance { get; set; } = 0.1;

    /// <summary>Leakage resistance across the plug, in ohms.</summary>
    [Quantity("connector.leakage", "ohm", 100, 1e12, "Leakage between the plug's contacts; gigohms when dry and clean.")]
    public double ConnectorLeakage { get; set; } = 10e9;

    /// <summary>Whether the plug is in the board.</summary>
    [Choice("connector.state", "Plug in the board, or pulled with an ohmmeter on its contacts.")]
    public ConnectorState Connector { get; set; } = ConnectorState.Plugged;

    /// <summary>Number of bits of the converter, a whole number.</summary>
    [Quantity("adc.bits", "", 4, 24, "Bits of the converter, a whole number.")]
    public double ConverterBits { get; set; } = 10;

    /// <summary>What the converter measures against.</summary>
    [Choice("adc.reference", "Converter's reference: the divider's supply (ratiometric) or a fixed voltage.")]
    public ConverterReference ReferenceKind { get; set; } = ConverterReference.Supply;

    /// <summary>Fixed reference of the converter, in volts.</summary>
    [Quantity("adc.reference-voltage", "V", 0.5, 24, "Fixed reference voltage of the converter; of use with adc.reference: fixed.")]
    public double ReferenceVoltage { get; set; } = 5;

    /// <summary>Input resistance of the converter's pin, in ohms.</summary>
    [Quantity("adc.input-resistance", "ohm", 1e4, 1e12, "Input resistance of the converter's pin, leakage of its protection included.")]
    public double ConverterInputResistance { get; set; } = 100e6;

    /// <summary>Number of entries of the program's table, a whole number.</summary>
    [Quantity("firmware.entries", "", 2, 1000, "Entries of the program's lookup table from -40 to +105 degC, a whole number; straight lines between them.")]
    public double TableEntries { get; set; } = 30;

    /// <summary>Supply voltage that the program assumes, in volts.</summary>
    [Quantity("firmware.supply-voltage", "V", 1, 24, "Supply voltage that the program assumes; of use with adc.reference: fixed.")]
    public double AssumedSupply { get; set; } = 5;

    /// <summary>A table to start from: a 10 kohm sensor of our own between -40 and +105 degC.</summary>
    public static IReadOnlyList<(double Kelvin, double Ohms)> DefaultTable { get; } =
    [
        (233.15, 336e3), (243.15, 177e3), (253.15, 97.0e3), (263.15, 55.3e3), (273.15, 32.7e3), (283.15, 19.9e3), (293.15, 12.5e3),
        (298.15, 10.0e3), (303.15, 8060), (313.15, 5330), (323.15, 3600), (333.15, 2490), (343.15, 1750), (353.15, 1256),
        (363.15, 916), (373.15, 678), (378.15, 587),
    ];

    /// <summary>The thermistor's law with the present values.</summary>
    public IResistanceCurve SensorLaw() => Curve switch
    {
        SensorCurve.Beta => new BetaCurve(R25, Beta),
        SensorCurve.SteinhartHart => new SteinhartHartCurve(A, B, C),
        _ => new TableCurve(SensorTable),
    };

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports =>
    [
        new() { Name = "supply", Node = "supply", Description = "Supply of the divider." },
        new() { Name = "ground", Node = "0", Description = "Ground of divider and converter." },
        new() { Name = "pin", Node = "adc", Description = "Pin of the converter.", IsOptional = true },
        .. Place == SensorPlace.Air ? [new Port { Name = "air", Node = "air", Description = "Air that the sensor sits in, as a node of a thermal circuit." }] : Array.Empty<Port>(),
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_supply"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = ["V_supply", "V_air"];

    /// <inheritdoc/>
    protected override IEnumerable<string> Conflicts()
    {
        if (ConverterBits != Math.Floor(ConverterBits))
        {
            yield return $"adc.bits is {ConverterBits}; it must be a whole number.";
        }

        if (TableEntries != Math.Floor(TableEntries))
        {
            yield return $"firmware.entries is {TableEntries}; it must be a whole number.";
        }

        foreach (var problem in SensorLaw().Problems())
        {
            yield return $"sensor.curve: {problem}";
        }

        if (Curve == SensorCurve.SteinhartHart && !(R25OfLaw() is > 1 and < 1e9))
        {
            yield return "sensor.a, sensor.b and sensor.c give no sensible resistance at 25 degC; a 10 kohm sensor has about 1.1e-3, 2.3e-4 and 9e-8 1/K.";
        }
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        var ground = Position == SensorPosition.ToGround;

        // The plug's two pins on the board, and the same two on the cable's side.
        var (pin, otherPin) = ground ? ("divider", "0") : ("supply", "divider");
        var plugged = Connector == ConnectorState.Plugged;
        var (plug, otherPlug) = plugged ? (pin, otherPin) : ("plug", "0");

        circuit.Add(new VoltageSource("V_supply", "supply", "0", SupplyVoltage));
        if (Place == SensorPlace.Air)
        {
            circuit.Add(new VoltageSource("V_air", "air", "0", Temperature - 273.15));
        }

        circuit.Add(new Resistor("R_divider", ground ? "supply" : "divider", ground ? "divider" : "0", DividerResistance));
        circuit.Add(new Resistor("R_protect", "divider", "adc", ProtectionResistance));
        circuit.Add(new Capacitor("C_filter", "adc", "0", FilterCapacitance));
        circuit.Add(new Resistor("R_adc", "adc", "0", ConverterInputResistance));
        circuit.Add(new Resistor("R_contact", plug, "sensor", ContactResistance));
        circuit.Add(Sensor("sensor", otherPlug));
        circuit.Add(new Resistor("R_leak", plug, otherPlug, ConnectorLeakage));
        var readouts = new List<Readout> { Indicated(Designed.SensorLaw()) };
        if (!plugged)
        {
            OhmmeterInput.Connect(circuit, plug, otherPlug);
            readouts.Add(OhmmeterInput.Readout(plug, otherPlug, Designed.SensorLaw().Resistance(Temperature)));
        }

        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = Points(pin, otherPin, plugged),
            Currents = Clamps(),
            Readouts = readouts,
            States = [new() { Name = "sensor-temperature", Part = "RT1", State = "temperature", Unit = "degC", Description = "True temperature of the sensor." }],
        };
    }

    /// <summary>The sensor as a part: at the true temperature, or that of its air, but for what the measuring current heats it.</summary>
    private Thermistor Sensor(string one, string other)
    {
        var sensor = Place == SensorPlace.Air ? new Thermistor("RT1", one, other, SensorLaw(), "air") : new Thermistor("RT1", one, other, SensorLaw());
        (sensor.Ambient, sensor.Dissipation) = (Temperature, Dissipation);
        if (Place == SensorPlace.Air)
        {
            sensor.HeatCapacity = Dissipation * TimeConstant;
        }

        return sensor;
    }

    private double R25OfLaw() => SensorLaw().Resistance(Nominal);
}
