using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Measurement;

namespace BoardSim.Tests.Measurement;

/// <summary>Ohms and diode test in circuit, on a board without power.</summary>
public class TestCurrentTests
{
    private static readonly Multimeter Ohms = new() { Function = MultimeterFunction.Ohms };
    private static readonly Multimeter Diode = new() { Function = MultimeterFunction.DiodeTest };

    // Ohm's law: 10 kohm beside 15 kohm are 6 kohm.
    [Fact]
    public void Parts_in_parallel_show()
    {
        var circuit = new Circuit();
        circuit.Add(new Resistor("R1", "a", "0", 10e3));
        circuit.Add(new Resistor("R2", "a", "0", 15e3));
        Assert.Equal("6.000 kohm", Ohms.MeasureAtRest(circuit, "a", "0").Display);
        Assert.Null(circuit.Find("R_meter"));
    }

    // Shockley's law, n Vt ln(I/Is + 1): 1 mA through 1e-14 A at 27 degC (Vt = 25.865 mV): 0.6551 V. The meter drives (3 V - 0.655 V)/2.4 kohm = 0.977 mA: 0.6545 V.
    [Fact]
    public void A_junction_shows_its_forward_voltage_one_way_only()
    {
        var circuit = new Circuit();
        circuit.Add(new Diode("D1", "a", "b", new DiodeModel()));
        circuit.Add(new Resistor("R_bond", "b", "0", 1));
        var forward = Diode.MeasureAtRest(circuit, "a", "b");
        Assert.Equal(0.6545, forward.Value!.Value, 1e-3);
        Assert.Equal("V", forward.Unit.Symbol);
        var reverse = Diode.MeasureAtRest(circuit, "b", "a");
        Assert.Null(reverse.Value);
        Assert.Equal("OL", reverse.Display);
    }

    // A resistor of 1 kohm beside the junction takes the current: 3 V x 1/(2.4 + 1) is 0.88 V without the junction, which then takes what is left above 0.65 V.
    // One of 100 ohm leaves 0.12 V, and the junction shows nowhere (common practice, no source: a low reading both ways is a part in parallel).
    [Theory]
    [InlineData(1e3, 0.62, 0.66)]
    [InlineData(100, 0.1195, 0.1205)]
    public void A_resistor_in_parallel_hides_the_junction(double ohms, double from, double to)
    {
        var circuit = new Circuit();
        circuit.Add(new Diode("D1", "a", "0", new DiodeModel()));
        circuit.Add(new Resistor("R1", "a", "0", ohms));
        Assert.InRange(Diode.MeasureAtRest(circuit, "a", "0").Value!.Value, from, to);
    }

    [Theory]
    [InlineData(5.0)]
    [InlineData(-0.3)]
    public void A_voltage_of_the_circuits_own_is_refused(double volts)
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "source", "0", volts));
        circuit.Add(new Resistor("R1", "source", "a", 1e3));
        foreach (var meter in new[] { Ohms, Diode })
        {
            var reading = meter.MeasureAtRest(circuit, "a", "0");
            Assert.Null(reading.Value);
            Assert.Equal("----", reading.Display);
            Assert.Contains("discharge", reading.Note, StringComparison.Ordinal);
        }
    }

    // A capacitor charges through the meter's 10 kohm and the 10 kohm beside it with C (5 kohm): after one time constant from the start the voltage is 1 - 1/e of
    // 0.25 V, which the meter takes for 0.158/(0.5 - 0.158) x 10 kohm = 4.62 kohm, still rising; after fifteen it shows the 10 kohm.
    [Theory]
    [InlineData(1, 4.62e3, true)]
    [InlineData(15, 10e3, false)]
    public void A_capacitor_in_parallel_has_to_be_charged_first(double constants, double ohms, bool rising)
    {
        const double tau = 5e3 * 10e-6;
        var circuit = new Circuit();
        circuit.Add(new Resistor("R1", "a", "0", 10e3));
        circuit.Add(new Capacitor("C1", "a", "0", 10e-6));
        Ohms.Attach(circuit, "a", "0", "meter", at: 0.01);
        var run = Transient.Run(new CircuitSystem(circuit), new TransientOptions { Stop = 0.01 + constants * tau, UseInitialConditions = true, Accuracy = 1e-5 }, [Probe.Voltage("a")]);
        var reading = Ohms.ReadTest(new Waveform("a", BoardSim.Quantities.Unit.Volt, run.Times, run.Values(0)), 0.01);
        Take.Near(ohms, reading.Value!.Value, 2e-3);
        Assert.Equal(rising, reading.Note.Length > 0);
    }

    // A capacitor of 100 uF at 150 V: the meter draws nothing from it (its input protection is open) and refuses.
    [Fact]
    public void A_charged_capacitor_is_refused_and_left_as_it_is()
    {
        var circuit = new Circuit();
        circuit.Add(new Capacitor("C1", "a", "0", 100e-6) { InitialVoltage = 150 });
        circuit.Add(new Resistor("R1", "a", "0", 10e6));
        Ohms.Attach(circuit, "a", "0", "meter", at: 0.1);
        var run = Transient.Run(new CircuitSystem(circuit), new TransientOptions { Stop = 1, UseInitialConditions = true }, [Probe.Voltage("a")]);
        var wave = new Waveform("a", BoardSim.Quantities.Unit.Volt, run.Times, run.Values(0));
        Take.Near(150 * Math.Exp(-1 / 1000.0), wave.Values[^1], 1e-4);
        var reading = Ohms.ReadTest(wave, 0.1);
        Assert.Null(reading.Value);
        Assert.Contains("150", reading.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void Other_functions_drive_no_current()
    {
        Assert.Throws<InvalidOperationException>(() => new Multimeter().ReadTest(0, 1));
        Assert.Throws<ArgumentException>(() => Ohms.ReadTest(Sampled.Points((0, 0), (1, 0)), 2));
    }
}
