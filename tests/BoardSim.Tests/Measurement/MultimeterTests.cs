using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Measurement;

public class MultimeterTests
{
    // A bandwidth far above the test waves, and so many counts that the display does not round the compared digits away.
    private static readonly Multimeter Fine = new() { Bandwidth = 1e9, Counts = 6_000_000 };

    // TES-2620 manual, table of waveforms (AC-coupled meter, waves of unit rms): printed 0.435/0.421/0.900, 0.771/0.779/0.636,
    // 1.000/1.110/0, 1.000/0.960/0; digits beyond from the exact integrals of the same waves. Sine: form factor 1.110721.
    [Theory]
    [InlineData("sine", 1.0, 1.0, 0.0)]
    [InlineData("full-wave", 0.43524, 0.42103, 0.90032)]
    [InlineData("half-wave", 0.77118, 0.77938, 0.63662)]
    [InlineData("square", 1.0, 1.11072, 0.0)]
    [InlineData("triangle", 1.0, 0.96191, 0.0)]
    public void Meters_read_waves_of_unit_rms(string shape, double trueRms, double averageResponding, double direct)
    {
        var wave = UnitRms(shape);
        Assert.Equal(1, wave.Rms(), 1e-5);
        Assert.Equal(trueRms, Read(wave, MultimeterFunction.AcVoltsTrueRms), 2e-5);
        Assert.Equal(averageResponding, Read(wave, MultimeterFunction.AcVoltsAverage), 2e-5);
        Assert.Equal(direct, Read(wave, MultimeterFunction.DcVolts), 2e-5);
        Assert.Equal(1, Read(wave, MultimeterFunction.AcDcVoltsTrueRms), 2e-5);
    }

    // Radio Shack 220-0181A, technical sheet 07173: 2 V pp square wave: true rms 1.000 V, average-responding 1.111 V.
    [Fact]
    public void Square_wave_reads_eleven_percent_high_on_an_average_responding_meter()
    {
        var wave = Sampled.Pulses(-1, 1, 0.5, 1e-3, 4);
        Assert.Equal("1.000 V", (new Multimeter() with { Function = MultimeterFunction.AcVoltsTrueRms, Bandwidth = 1e8 }).Read(wave).Display);
        var average = (new Multimeter() with { Function = MultimeterFunction.AcVoltsAverage, Bandwidth = 1e8 }).Read(wave);
        Assert.Equal("1.111 V", average.Display);
        Assert.Contains("RMS value is 1.00 V", average.Note, StringComparison.Ordinal);
    }

    // Agilent Truevolt guide, p. 93: errors of a meter of 300 kHz bandwidth at 1 kHz: square wave -0.07 %, pulses of unit rms and
    // crest factor 3, 5, 10 -0.18, -0.44, -1.71 %; crest factor 10 at 10 kHz -26 %. One pole is a softer edge than that meter's:
    // it loses more of the far harmonics than a sharp cut at 300 kHz would, 1/(4 pi f w) against 1/(2 pi^2 f w) of the reading for
    // pulses of width w, so its errors are up to pi/2 times the printed ones.
    [Theory]
    [InlineData(1e3, 1, -0.0007)]
    [InlineData(1e3, 3, -0.0018)]
    [InlineData(1e3, 5, -0.0044)]
    [InlineData(1e3, 10, -0.0171)]
    [InlineData(10e3, 10, -0.26)]
    public void Bandwidth_costs_pulses_part_of_their_rms(double frequency, double crest, double printed)
    {
        var wave = crest == 1 ? Sampled.Pulses(-1, 1, 0.5, 1 / frequency, 4) : Sampled.Pulses(0, crest, 1 / (crest * crest), 1 / frequency, 4);
        var meter = Fine with { Bandwidth = 300e3, Function = MultimeterFunction.AcDcVoltsTrueRms, CrestFactorLimit = 10 };
        Assert.InRange(meter.Read(wave).Value!.Value - 1, printed * 1.6, printed * 0.98);
    }

    // Keysight, crest factor note, tip 3: additional error 0.05 % up to crest factor 2, 0.15 % to 3, 0.30 % to 4, 0.40 % to 5.
    [Theory]
    [InlineData(1.9, 0.0005)]
    [InlineData(2.9, 0.0015)]
    [InlineData(3.9, 0.0030)]
    [InlineData(4.9, 0.0040)]
    public void Crest_factor_widens_the_uncertainty(double crest, double additional)
    {
        var wave = Sampled.Pulses(0, crest, 1 / (crest * crest), 1e-3, 4);
        var meter = Fine with { Function = MultimeterFunction.AcDcVoltsTrueRms, CrestFactorLimit = 10, AcAccuracy = new Accuracy(0, 0) };
        Take.Near(additional, meter.Read(wave).Uncertainty, 1e-3);
    }

    // Voltcraft VC-7055BT, p. 33: loading error -100 % Rs/(Rs + Ri): 1 Mohm on 10 Mohm reads 9.09 % low. Voltcraft VC-740, p. 45: in the
    // low-impedance mode, 300 kohm, a stray voltage behind 1 Mohm falls from 90.9 % to 23.1 %.
    [Theory]
    [InlineData(false, 90.909)]
    [InlineData(true, 23.077)]
    public void The_meter_loads_what_it_measures(bool lowImpedance, double reads)
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "source", "0", 100));
        circuit.Add(new Resistor("R1", "source", "point", 1e6));
        var meter = new Multimeter { LowImpedance = lowImpedance, LowInputResistance = 300e3 };
        meter.Attach(circuit, "point", "0", "meter");
        var volts = OperatingPoint.Solve(new CircuitSystem(circuit)).Voltage("point");
        Take.Near(reads, volts, 1e-4);
        var reading = meter.Read(Sampled.Points((0, volts)));
        Assert.Equal(lowImpedance ? "23.08 V" : "90.9 V", reading.Display);
        Assert.Equal(lowImpedance ? "DC volts, low impedance" : "DC volts", reading.Function);
    }

    // Stray coupling of 100 pF from a 230 V 50 Hz line, which a 10 Mohm meter shows as tens of volts and a 3 kohm one as next to nothing
    // (common practice, no source). Divider of admittances, w C = 31.416 nS on either side: 230 V * 31.416/|100 + j 62.832| and 230 V * 31.416 nS * 3 kohm.
    [Theory]
    [InlineData(false, 61.18)]
    [InlineData(true, 0.0217)]
    public void A_stray_voltage_collapses_in_the_low_impedance_mode(bool lowImpedance, double volts)
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "line", "0", 0) { SmallSignal = 230 });
        circuit.Add(new Capacitor("C1", "line", "wire", 100e-12));
        new Multimeter { LowImpedance = lowImpedance }.Attach(circuit, "wire", "0", "meter");
        var phasor = AcAnalysis.Run(new CircuitSystem(circuit), [50], [Probe.Voltage("wire")]).Values(0)[0];
        Take.Near(volts, phasor.Magnitude, 5e-3);
    }

    [Theory]
    [InlineData(7.534, "7.53 V", 7.53)]
    [InlineData(161.23, "161.2 V", 161.2)]
    [InlineData(-0.01234, "-12.3 mV", -0.0123)]
    [InlineData(0.59996, "600.0 mV", 0.6)]
    [InlineData(5.9996, "6.000 V", 6.0)]
    [InlineData(6.0006, "6.00 V", 6.0)]
    [InlineData(-0.00001, "0.0 mV", 0.0)]
    [InlineData(800, "800 V", 800.0)]
    public void Display_has_the_counts_of_its_range(double volts, string display, double value)
    {
        // 6000 counts: 6.000 V is the last value of its range (common practice, no source).
        var reading = new Multimeter().Read(Sampled.Points((0, volts), (1, volts)));
        Assert.Equal(display, reading.Display);
        Assert.Equal(value, reading.Value);
        Assert.False(reading.IsOverload);
    }

    [Fact]
    public void Overload_shows_no_number()
    {
        var reading = new Multimeter().Read(Sampled.Points((0, 1200), (1, 1200)));
        Assert.Equal("OL", reading.Display);
        Assert.True(reading.IsOverload);
        Assert.Null(reading.Value);
        Assert.Contains("top range of 1 kV", reading.Note, StringComparison.Ordinal);
    }

    // Data sheets' way to write accuracy: plus or minus (share of reading + counts); 0.5 % + 2 counts at 12.00 V (0.01 V each): 0.08 V.
    [Fact]
    public void Accuracy_becomes_an_uncertainty()
    {
        var reading = new Multimeter().Read(Sampled.Points((0, 12.0), (1, 12.0)));
        Assert.Equal(0.08, reading.Uncertainty, 1e-12);
        Assert.Equal(12, reading.Value);
    }

    [Fact]
    public void Amperes_and_wrong_quantities()
    {
        var current = Sampled.Curve(_ => 0.0437, 0, 1, 1, Unit.Ampere);
        Assert.Equal("43.70 mA", (new Multimeter() with { Function = MultimeterFunction.DcAmperes }).Read(current).Display);
        var ripple = Sampled.Cycles(x => 1 + Math.Sin(2 * Math.PI * x), 50, 1, 2000, Unit.Ampere);
        Assert.Equal(Math.Sqrt(0.5), (Fine with { Function = MultimeterFunction.AcAmperesTrueRms }).Read(ripple).Value!.Value, 1e-5);
        Assert.Throws<ArgumentException>(() => new Multimeter().Read(current));
        Assert.Throws<InvalidOperationException>(() => (new Multimeter() with { Function = MultimeterFunction.Ohms }).Read(current));
    }

    // Ohm's law on the meter's own source; a thermistor of 10 kohm at its connector, open and shorted.
    [Theory]
    [InlineData(10e3, "10.00 kohm")]
    [InlineData(470, "470.0 ohm")]
    [InlineData(1e-3, "0.0 ohm")]
    [InlineData(1e9, "OL")]
    public void Ohms_at_an_unplugged_connector(double ohms, string display)
    {
        var meter = new Multimeter { Function = MultimeterFunction.Ohms };
        var circuit = new Circuit();
        circuit.Add(new Resistor("RT", "a", "0", ohms));
        meter.Attach(circuit, "a", "0", "meter");
        var volts = OperatingPoint.Solve(new CircuitSystem(circuit)).Voltage("a");
        Assert.Equal(display, meter.ReadOhms(volts).Display);
    }

    // Common practice, no source: an ohmmeter tests below the conduction voltage of a junction, so one in parallel does not show.
    [Fact]
    public void Ohms_leave_a_junction_in_parallel_off()
    {
        var meter = new Multimeter { Function = MultimeterFunction.Ohms };
        var circuit = new Circuit();
        circuit.Add(new Resistor("R1", "a", "0", 10e3));
        circuit.Add(new Diode("D1", "a", "0", new DiodeModel()));
        meter.Attach(circuit, "a", "0", "meter");
        Assert.Equal("10.00 kohm", meter.ReadOhms(OperatingPoint.Solve(new CircuitSystem(circuit)).Voltage("a")).Display);
    }

    [Fact]
    public void Ohms_on_a_live_circuit_warn()
    {
        var live = new Multimeter().ReadOhms(5.0);
        Assert.Equal("OL", live.Display);
        Assert.Contains("voltage of its own", live.Note, StringComparison.Ordinal);
        Assert.Equal("ohms", live.Function);
        Assert.Contains("voltage of its own", new Multimeter().ReadOhms(-0.2).Note, StringComparison.Ordinal);
        Assert.DoesNotContain("voltage of its own", new Multimeter().ReadOhms(0.5).Note, StringComparison.Ordinal);
    }

    [Fact]
    public void A_reading_names_its_point_and_reference()
    {
        var point = new TestPoint
        {
            Name = "bulk",
            Node = "bulk",
            ReferenceNode = "return",
            Reference = Reference.PrimaryReturn,
            Description = "Bulk capacitor.",
            LineSide = true,
        };
        var reading = new Multimeter().Read(Sampled.Points((0, 161.2), (1, 161.2))).At(point);
        Assert.Equal("bulk against primary return: 161.2 V (multimeter, DC volts)", reading.ToString());
    }

    private static double Read(Waveform wave, MultimeterFunction function) => (Fine with { Function = function }).Read(wave).Value!.Value;

    private static Waveform UnitRms(string shape) => shape switch
    {
        "sine" => Sampled.Cycles(x => Math.Sqrt(2) * Math.Sin(2 * Math.PI * x), 50),
        "full-wave" => Sampled.Cycles(x => Math.Sqrt(2) * Math.Abs(Math.Sin(2 * Math.PI * x)), 50),
        "half-wave" => Sampled.Cycles(x => 2 * Math.Max(0, Math.Sin(2 * Math.PI * x)), 50),
        "triangle" => Sampled.Cycles(x => Math.Sqrt(3) * Sampled.Triangle(x), 50),
        _ => Sampled.Pulses(-1, 1, 0.5, 0.02, 1),
    };
}
