using BoardSim.Blocks.Thermistors;
using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Sensors;

/// <summary>
/// Four temperature sensor inputs on one common supply, with one converter and one reference.
/// <code>
///  supply --[R_common]--+-- sensor-supply ---+----------- ... (channels 2, 3 and 4 the same)
///                       |                    |
///                   C_common            [R_divider1]
///                       |                    |
///                       |                divider1 --[R_protect1]--+-- adc1 ----+
///                       |                    |                    |            |
///                       |               [R_contact1]          C_filter1       U1: converter, lookup table
///                       |      R_leak1       |                    |            |  reference: supply, sensor-supply or fixed
///                       |                  [RT1]                  |            |
///  ground --------------+--------------------+--------------------+------------+
///  sensor.position: to-supply changes places of RT1 (with contact and leak) and R_divider1
/// </code>
/// </summary>
public sealed partial class SensorInputs : Block
{
    internal const int Channels = 4;
    private const double Nominal = 298.15;

    /// <inheritdoc/>
    public override string Id => "sensor-inputs";

    /// <inheritdoc/>
    public override string Title => "Four temperature inputs on one common supply";

    /// <inheritdoc/>
    public override string Summary =>
        "Turns four temperatures into the numbers that the program acts on. Shows how a fault of one sensor looks in its own channel and in the others, what a reference that is off does to all of them, and which "
        + "of these faults a ratiometric converter does not see.";

    /// <inheritdoc/>
    public override string Topology => """
         supply --[R_common]--+-- sensor-supply ---+----------- ... (channels 2, 3 and 4 the same)
                              |                    |
                          C_common            [R_divider1]
                              |                    |
                              |                divider1 --[R_protect1]--+-- adc1 ----+
                              |                    |                    |            |
                              |               [R_contact1]          C_filter1       U1: converter, lookup table
                              |      R_leak1       |                    |            |  reference: supply, sensor-supply or fixed
                              |                  [RT1]                  |            |
         ground --------------+--------------------+--------------------+------------+
         sensor.position: to-supply changes places of RT1 (with contact and leak) and R_divider1
        """;

    /// <inheritdoc/>
    public override bool LineSide => false;

    /// <summary>Supply in volts.</summary>
    [Quantity("supply.voltage", "V", 1, 24, "Supply of processor and sensors; the program goes by its nominal value.")]
    public double SupplyVoltage { get; set; } = 5;

    /// <summary>Resistance between supply and sensors, in ohms.</summary>
    [Quantity("common.resistance", "ohm", 1e-3, 100e3, "Resistor, or ferrite and track, between the supply and all dividers; the program takes it for nothing.")]
    public double CommonResistance { get; set; } = 10;

    /// <summary>Capacitance at the sensors' common supply, in farads.</summary>
    [Quantity("common.capacitance", "F", 1e-12, 1e-2, "Capacitor at the sensors' common supply.")]
    public double CommonCapacitance { get; set; } = 1e-6;

    /// <summary>Where the thermistors sit.</summary>
    [Choice("sensor.position", "Thermistors between pins and ground, or between common supply and pins.")]
    public SensorPosition Position { get; set; } = SensorPosition.ToGround;

    /// <summary>What decides on the sensors' temperatures.</summary>
    [Choice("sensor.place", "Whether the sensors have the temperatures that are set, or those of the air at the block's ports.")]
    public SensorPlace Place { get; set; } = SensorPlace.SetTemperature;

    /// <summary>Temperature of the first sensor, in kelvin.</summary>
    [Quantity("sensor1.temperature", "degC", 218.15, 423.15, "True temperature of what the first sensor sits in: the chamber's air.")]
    public double Temperature1 { get; set; } = 311.15;

    /// <summary>Temperature of the second sensor, in kelvin.</summary>
    [Quantity("sensor2.temperature", "degC", 218.15, 423.15, "True temperature of what the second sensor sits in: the goods.")]
    public double Temperature2 { get; set; } = 303.15;

    /// <summary>Temperature of the third sensor, in kelvin.</summary>
    [Quantity("sensor3.temperature", "degC", 218.15, 423.15, "True temperature of what the third sensor sits in: the steam's water.")]
    public double Temperature3 { get; set; } = 353.15;

    /// <summary>Temperature of the fourth sensor, in kelvin.</summary>
    [Quantity("sensor4.temperature", "degC", 218.15, 423.15, "True temperature of what the fourth sensor sits in: the room.")]
    public double Temperature4 { get; set; } = 293.15;

    /// <summary>Time constant of the sensors in seconds.</summary>
    [Quantity("sensor.time-constant", "s", 0.1, 1000, "Time in which a sensor follows 63 % of a step of the air; of use with sensor.place: air.")]
    public double TimeConstant { get; set; } = 15;

    /// <summary>Resistance at 25 degC in ohms.</summary>
    [Quantity("sensor.r25", "ohm", 100, 1e6, "Resistance of the thermistors at 25 degC.")]
    public double R25 { get; set; } = 10e3;

    /// <summary>B in kelvin.</summary>
    [Quantity("sensor.beta", "K", 1000, 6000, "B of the thermistors.")]
    public double Beta { get; set; } = 3950;

    /// <summary>Heat in watts that a sensor gives off per kelvin above its surroundings.</summary>
    [Quantity("sensor.dissipation", "W/K", 1e-4, 1, "Heat that a sensor gives off per kelvin above its surroundings; 1 to 3 mW/K in still air.")]
    public double Dissipation { get; set; } = 2e-3;

    /// <summary>Resistance of each divider's fixed half, in ohms.</summary>
    [Quantity("divider.resistance", "ohm", 100, 1e6, "Fixed resistor of each divider.")]
    public double DividerResistance { get; set; } = 10e3;

    /// <summary>Resistance between divider and pin, in ohms.</summary>
    [Quantity("protection.resistance", "ohm", 1, 1e6, "Series resistor that protects each pin.")]
    public double ProtectionResistance { get; set; } = 1e3;

    /// <summary>Capacitance at each pin, in farads.</summary>
    [Quantity("filter.capacitance", "F", 1e-12, 1e-3, "Filter capacitor at each pin.")]
    public double FilterCapacitance { get; set; } = 100e-9;

    /// <summary>Resistance of each plug's contacts and cable, in ohms.</summary>
    [Quantity("contact.resistance", "ohm", 1e-3, 1e6, "Resistance of each plug's contacts and cable together.")]
    public double ContactResistance { get; set; } = 0.1;

    /// <summary>Leakage resistance across each plug, in ohms.</summary>
    [Quantity("connector.leakage", "ohm", 100, 1e12, "Leakage between each plug's contacts; gigohms when dry and clean.")]
    public double ConnectorLeakage { get; set; } = 10e9;

    /// <summary>Number of bits of the converter, a whole number.</summary>
    [Quantity("adc.bits", "", 4, 24, "Bits of the converter, a whole number.")]
    public double ConverterBits { get; set; } = 10;

    /// <summary>What the converter measures against.</summary>
    [Choice("adc.reference", "Converter's reference: the supply, the sensors' common supply (ratiometric), or a fixed voltage.")]
    public SensorReference ReferenceKind { get; set; } = SensorReference.Supply;

    /// <summary>Fixed reference of the converter, in volts.</summary>
    [Quantity("adc.reference-voltage", "V", 0.5, 24, "Fixed reference voltage of the converter; of use with adc.reference: fixed.")]
    public double ReferenceVoltage { get; set; } = 5;

    /// <summary>Error of the reference.</summary>
    [Quantity("adc.reference-error", "%", -0.5, 0.5, "By how much the reference inside the converter is above its due value, gain error included.")]
    public double ReferenceError { get; set; }

    /// <summary>Input resistance of each pin, in ohms.</summary>
    [Quantity("adc.input-resistance", "ohm", 1e4, 1e12, "Input resistance of each pin of the converter.")]
    public double ConverterInputResistance { get; set; } = 100e6;

    /// <summary>Number of entries of the program's table, a whole number.</summary>
    [Quantity("firmware.entries", "", 2, 1000, "Entries of the program's lookup table from -40 to +105 degC, a whole number; straight lines between them.")]
    public double TableEntries { get; set; } = 30;

    /// <inheritdoc/>
    public override IReadOnlyList<Port> Ports =>
    [
        new() { Name = "supply", Node = "supply", Description = "Supply of processor and sensors." },
        new() { Name = "ground", Node = Circuit.Ground, Description = "Ground of dividers and converter." },
        .. Numbers.Select(n => new Port { Name = $"pin{n}", Node = $"adc{n}", Description = $"Pin of channel {n}.", IsOptional = true }),
        .. Place == SensorPlace.Air
            ? Numbers.Select(n => new Port { Name = $"air{n}", Node = $"air{n}", Description = $"What sensor {n} sits in, as a node of a thermal circuit." })
            : [],
    ];

    /// <inheritdoc/>
    public override IReadOnlyList<string> SupplyParts { get; } = ["V_supply"];

    /// <inheritdoc/>
    public override IReadOnlyList<string> BenchParts { get; } = ["V_supply", .. Numbers.Select(n => $"V_air{n}")];

    private static IEnumerable<int> Numbers => Enumerable.Range(1, Channels);

    private double[] Temperatures => [Temperature1, Temperature2, Temperature3, Temperature4];

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
    }

    /// <inheritdoc/>
    protected override Board Wire()
    {
        var circuit = new Circuit { Title = Title };
        circuit.Add(new VoltageSource("V_supply", "supply", Circuit.Ground, SupplyVoltage));
        circuit.Add(new Resistor("R_common", "supply", "sensor-supply", CommonResistance));
        circuit.Add(new Capacitor("C_common", "sensor-supply", Circuit.Ground, CommonCapacitance));
        foreach (var n in Numbers)
        {
            AddChannel(circuit, n);
        }

        circuit.Add(new AnalogInputs("U1", ReferenceKind == SensorReference.SensorSupply ? "sensor-supply" : "supply", Circuit.Ground, [.. Numbers.Select(n => $"adc{n}")])
        {
            FixedReference = ReferenceKind == SensorReference.Fixed ? ReferenceVoltage : null,
            ReferenceError = ReferenceError,
            InputResistance = ConverterInputResistance,
            Readings = Readings(),
        });
        return new Board
        {
            Title = Title,
            Circuit = circuit,
            TestPoints = Points(),
            Currents = Clamps(),
            States = WhatTheProgramKnows(),
        };
    }

    private void AddChannel(Circuit circuit, int n)
    {
        var ground = Position == SensorPosition.ToGround;
        var (pin, otherPin) = ground ? ($"divider{n}", Circuit.Ground) : ("sensor-supply", $"divider{n}");
        if (Place == SensorPlace.Air)
        {
            circuit.Add(new VoltageSource($"V_air{n}", $"air{n}", Circuit.Ground, Temperatures[n - 1] - 273.15));
        }

        circuit.Add(new Resistor($"R_divider{n}", ground ? "sensor-supply" : $"divider{n}", ground ? $"divider{n}" : Circuit.Ground, DividerResistance));
        circuit.Add(new Resistor($"R_protect{n}", $"divider{n}", $"adc{n}", ProtectionResistance));
        circuit.Add(new Capacitor($"C_filter{n}", $"adc{n}", Circuit.Ground, FilterCapacitance));
        circuit.Add(new Resistor($"R_contact{n}", pin, $"sensor{n}", ContactResistance));
        circuit.Add(new Resistor($"R_leak{n}", pin, otherPin, ConnectorLeakage));
        var law = new BetaCurve(R25, Beta);
        var sensor = Place == SensorPlace.Air ? new Thermistor($"RT{n}", $"sensor{n}", otherPin, law, $"air{n}") : new Thermistor($"RT{n}", $"sensor{n}", otherPin, law);
        (sensor.Ambient, sensor.Dissipation) = (Temperatures[n - 1], Dissipation);
        sensor.HeatCapacity = Dissipation * TimeConstant;
        circuit.Add(sensor);
    }
}
