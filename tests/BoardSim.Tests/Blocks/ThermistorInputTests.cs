using BoardSim.Blocks.Thermistors;
using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Tests.Blocks;

/// <summary>The thermistor input against published tables, converter definitions and the trade's experience.</summary>
public class ThermistorInputTests
{
    // Published resistance table of a 10 kohm, B25/85 = 3435 K sensor (type 103AT), degC and ohms.
    private static readonly (double Kelvin, double Ohms)[] Table =
    [
        .. new (double Celsius, double Ohms)[]
        {
            (-20, 67770), (-10, 42470), (-5, 33900), (0, 27280), (5, 22050), (10, 17960), (15, 14690), (20, 12090), (25, 10000), (30, 8313),
            (35, 6940), (40, 5827), (45, 4911), (50, 4160), (55, 3536), (60, 3020), (70, 2228), (80, 1668), (90, 1266), (100, 973.1),
        }.Select(p => (p.Celsius + 273.15, p.Ohms)),
    ];

    // The same table, 10 kohm pull-up to 5 V, 10 bits ratiometric: ohms over ohms plus pull-up times 1024, to the nearest code.
    [Theory]
    [InlineData(0, 749)]
    [InlineData(25, 512)]
    [InlineData(50, 300)]
    [InlineData(100, 90)]
    public void Divider_gives_the_codes_of_the_sensors_table(double celsius, int code)
    {
        var board = Ideal(celsius).Build();
        var volts = Solve(board).Voltage("adc");
        Assert.InRange(new Converter(10, 5).Code(volts), code - 1, code + 1);
    }

    // A public design note lets a charger's 75 uA into the same sensor: 0.300 V means about 50 degC, 2.1 V about 0 degC. The table's own
    // resistances give 0.312 V and 2.046 V.
    [Theory]
    [InlineData(50, 0.312)]
    [InlineData(0, 2.046)]
    public void Constant_current_through_the_sensor_gives_the_chargers_trip_voltages(double celsius, double volts)
    {
        var circuit = new Circuit();
        circuit.Add(new CurrentSource("I1", "0", "a", 75e-6));
        circuit.Add(new IsothermalThermistor("RT1", "a", "0", new TableCurve(Table)) { Temperature = celsius + 273.15 });
        Near.Relative(volts, OperatingPoint.Solve(new CircuitSystem(circuit)).Voltage("a"), 0.001);
    }

    // The same table: what an ohmmeter shows at the pulled plug, whatever the rest of the board does.
    [Theory]
    [InlineData(SensorPosition.ToGround, -10, 42470)]
    [InlineData(SensorPosition.ToSupply, 25, 10000)]
    [InlineData(SensorPosition.ToSupply, 60, 3020)]
    public void Ohmmeter_at_the_pulled_plug_shows_the_sensors_table(SensorPosition position, double celsius, double ohms)
    {
        var block = Ideal(celsius);
        block.Position = position;
        block.Connector = ConnectorState.Unplugged;
        Near.Relative(ohms, Read(block.Build(), "ohmmeter"), 0.001);
    }

    // IEC 60539-1: dissipation factor is the power over the temperature rise it makes. 5 V over 10 kohm and 10 kohm puts 0.625 mW into the
    // sensor; at 2 mW/K that is 0.31 K, of which the board knows nothing.
    [Fact]
    public void Measuring_current_warms_the_sensor_by_power_over_dissipation()
    {
        var cold = Read(With(b => b.Dissipation = 1).Build(), "indicated-temperature");
        var warm = Read(With(b => b.Dissipation = 2e-3).Build(), "indicated-temperature");
        Near.Absolute(0.3125, warm - cold, 0.03);

        static ThermistorInput With(Action<ThermistorInput> change)
        {
            var block = new ThermistorInput { ConverterBits = 20, TableEntries = 300 };
            change(block);
            return block;
        }
    }

    // Common practice, no source: an NTC to the supply makes the divider's output rise with temperature, to ground fall.
    [Theory]
    [InlineData(SensorPosition.ToSupply, true)]
    [InlineData(SensorPosition.ToGround, false)]
    public void Divider_rises_or_falls_with_temperature_by_where_the_sensor_sits(SensorPosition position, bool rises)
    {
        var volts = Range().Select(t => Solve(new ThermistorInput { Position = position, Temperature = t }.Build()).Voltage("divider")).ToArray();
        Assert.Equal(rises ? volts.Order() : volts.OrderDescending(), volts);
        Assert.True(Math.Abs(volts[^1] - volts[0]) > 2.5);
    }

    // Common practice, no source: a 10 bit converter with a table of some tens of entries tells a proofer's temperatures to a kelvin.
    [Theory]
    [InlineData(SensorCurve.Beta)]
    [InlineData(SensorCurve.SteinhartHart)]
    [InlineData(SensorCurve.Table)]
    public void Healthy_input_indicates_the_true_temperature_to_a_kelvin(SensorCurve curve) =>
        Assert.All(Range(), t => Near.Absolute(t, Read(new ThermistorInput { Curve = curve, Temperature = t }.Build(), "indicated-temperature"), 1));

    // Common practice, no source: with the sensor at ground an open sensor reads as the coldest the table knows and a shorted one as
    // the hottest; programs clamp at the ends of their tables (here -40 and 105 degC).
    [Fact]
    public void Open_and_shorted_sensor_read_as_the_ends_of_the_table()
    {
        var block = new ThermistorInput();
        Near.Absolute(233.15, Read(block.Fault("sensor-open").Apply(block.Build()), "indicated-temperature"), 1e-9);
        Near.Absolute(378.15, Read(block.Fault("sensor-shorted").Apply(block.Build()), "indicated-temperature"), 1e-9);
    }

    // Two equal resistances in parallel are half of one: a film of the sensor's own 10 kohm at 25 degC makes 5 kohm, which the table above
    // has between 40 and 45 degC (44.5 degC).
    [Fact]
    public void Damp_connector_of_the_sensors_own_resistance_reads_twenty_kelvin_warm()
    {
        var block = Ideal(25);
        block.TableEntries = 146;
        var indicated = Read(block.Fault("connector-damp").Apply(block.Build(), 10e3), "indicated-temperature");
        Near.Absolute(273.15 + 44.5, indicated, 0.3);
    }

    // A ratiometric converter does not see its supply; with a fixed reference 5 % less supply is 5 % less voltage, which an NTC at ground
    // turns into some kelvins too warm (definition of ratiometric measurement, common practice, no source).
    [Fact]
    public void Sagging_supply_matters_with_a_fixed_reference_only()
    {
        var ratiometric = Read(new ThermistorInput { SupplyVoltage = 4.75 }.Build(), "indicated-temperature");
        var fixedReference = Read(new ThermistorInput { SupplyVoltage = 4.75, ReferenceKind = ConverterReference.Fixed }.Build(), "indicated-temperature");
        Near.Absolute(298.15, ratiometric, 0.6);
        Assert.InRange(fixedReference - 298.15, 1.5, 4);
    }

    private static IEnumerable<double> Range() => Enumerable.Range(0, 17).Select(k => 253.15 + 5.0 * k);

    /// <summary>The block without self-heating and leakage, with the published table.</summary>
    private static ThermistorInput Ideal(double celsius) => new()
    {
        Curve = SensorCurve.Table,
        SensorTable = Table,
        Temperature = celsius + 273.15,
        Dissipation = 1,
        ContactResistance = 1e-3,
        ConverterInputResistance = 1e12,
        ConnectorLeakage = 1e12,
    };

    private static Solution Solve(Board board) => OperatingPoint.Solve(new CircuitSystem(board.Circuit));

    private static double Read(Board board, string readout)
    {
        var solution = Solve(board);
        var r = board.Readout(readout);
        return r.Convert(solution.Voltage(r.Node, r.ReferenceNode));
    }
}
