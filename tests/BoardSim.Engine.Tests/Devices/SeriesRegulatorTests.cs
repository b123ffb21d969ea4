using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>The series regulator against data sheet figures of 1 A three-terminal regulators and closed forms.</summary>
public sealed class SeriesRegulatorTests
{
    // LM340/LM7805 data sheet SNOSBT0L, section 6.5: ripple rejection 80 dB typical at 120 Hz, so 1 V on the input leaves 0.1 mV.
    [Theory]
    [InlineData(120, 1e-4)]

    // A loop with one pole loses a decade of rejection per decade beyond it (Horowitz and Hill, chapter on regulators): at ten times the pole sqrt(1 + 100) times 0.1 mV.
    [InlineData(50e3, 1.005e-3)]
    public void Line_rejection_is_that_of_the_data_sheet_up_to_the_pole(double hertz, double expected)
    {
        var circuit = Circuit(new VoltageSource("v", "in", "0", 10) { SmallSignal = 1 }, new SeriesRegulator("u", "in", "out", "0", 5), new Resistor("r", "out", "0", 1000));
        Near(expected, AcAnalysis.Run(new CircuitSystem(circuit), [hertz], [Probe.Voltage("out")]).Values(0)[0].Magnitude, 0.02);
    }

    // Same sheet: drop-out voltage 2 V at 1 A, output resistance 8 mohm. Above 7 V the output regulates, below it follows the input.
    [Theory]
    [InlineData(10, 4.992, 0.002)]
    [InlineData(7.2, 4.992, 0.01)]
    [InlineData(6.5, 4.5, 0.03)]
    [InlineData(6.0, 4.0, 0.03)]
    public void Output_follows_the_input_below_drop_out(double input, double expected, double within)
    {
        var part = new SeriesRegulator("u", "in", "out", "0", 5) { DropOutVoltage = 1.3, DropOutResistance = 0.7, TemperatureCoefficient = 0, CaseToAir = 1, JunctionToCase = 1 };
        var circuit = Circuit(new VoltageSource("v", "in", "0", input), part, new CurrentSource("i", "out", "0", 1 - 1e-3 * input / input));
        Assert.Equal(expected, Solve(circuit).Voltage("out"), within);
    }

    // Same sheet: load regulation 10 mV typical, 25 mV at most, from 5 mA to 1.5 A; 8 mohm times 1.495 A are 12 mV.
    [Fact]
    public void Load_regulation_lies_within_the_data_sheet()
    {
        var load = new CurrentSource("i", "out", "0");
        var part = new SeriesRegulator("u", "in", "out", "0", 5) { TemperatureCoefficient = 0, CaseToAir = 1, JunctionToCase = 1 };
        var volts = Sweep(Circuit(new VoltageSource("v", "in", "0", 10), part, load), [5e-3, 1.5], a => load.Waveform = new DcWaveform(a), Probe.Voltage("out"));
        Assert.InRange(volts[0] - volts[1], 10e-3, 14e-3);
    }

    // MC7805AC data sheet: 2.2 A at most, folded back to a short-circuit current of 0.2 A with 35 V at the input.
    [Fact]
    public void Short_circuit_current_folds_back_with_the_voltage_across()
    {
        var part = new SeriesRegulator("u", "in", "0", "0", 5) { FoldbackSlope = (2.2 - 0.2) / (35 - 10), FoldbackFrom = 10, CaseToAir = 0.1, JunctionToCase = 0.1 };
        Assert.Equal(0.2, Solve(new VoltageSource("v", "in", "0", 35), part).Current("u"), 0.02);
        Assert.Equal(2.2, Solve(new VoltageSource("v", "in", "0", 8), part.Clone()).Current("u"), 0.05);
    }

    // JESD51-2 arithmetic, Tj = Ta + P theta_JA: a tab package that stands free has 65 K/W (same sheet, section 6.4 gives 54 to 65). 10 V in, 0.3 A: 1.5 W in the
    // pass transistor and 50 mW of quiescent current make 25 + 100.75 degC; the case lies 5 K/W times 1.55 W lower.
    [Fact]
    public void Junction_is_as_hot_as_loss_times_thermal_resistance()
    {
        var part = new SeriesRegulator("u", "in", "out", "0", 5) { JunctionToCase = 5, CaseToAir = 60, QuiescentCurrent = 5e-3, TemperatureCoefficient = 0, Ambient = 298.15 };
        var solution = Solve(new VoltageSource("v", "in", "0", 10), part, new CurrentSource("i", "out", "0", 0.299));
        Assert.Equal(298.15 + 100.75, solution.Unknown("u#temperature"), 0.5);
        Assert.Equal(7.75, solution.Unknown("u#temperature") - solution.Unknown("u#case-temperature"), 0.05);
    }

    // One thermal time constant, tau = 20 K/W * 0.05 J/K = 1 s: a load of 0.999 A, 1 mA of sensing and 8 V across make 8 W and 160 K of final rise.
    // From 145 to 165 degC at 25 degC of air: on for ln((185 - 145) / (185 - 165)) = 0.6931 s, off for ln(140 / 120) = 0.1542 s.
    [Fact]
    public void Thermal_shutdown_cycles_by_the_exponentials_of_its_time_constant()
    {
        var part = new SeriesRegulator("u", "in", "out", "0", 5)
        {
            JunctionToCase = 20,
            CaseToAir = 1e-6,
            JunctionCapacity = 0.05,
            QuiescentCurrent = 0,
            TemperatureCoefficient = 0,
            Ambient = 298.15,
            ShutdownTemperature = 438.15,
            ShutdownHysteresis = 20,
        };
        var circuit = Circuit(new VoltageSource("v", "in", "0", 13), part, new Resistor("r", "out", "0", 5 / 0.999));
        var run = Run(circuit, new TransientOptions { Stop = 6, UseInitialConditions = true, Accuracy = 1e-5 }, Probe.State("u", "shut-down"));
        var changes = run.Events.Where(e => e.Part == "u").Select(e => e.Time).ToList();
        Assert.True(changes.Count > 6);

        // The output resistance takes 8 mV of the 5 V.
        Near(0.1542, changes[3] - changes[2], 0.002);
        Near(0.6931, changes[4] - changes[3], 0.01);
    }

    // A load step of 0.5 A onto the follower by itself, 0.8 ohm: 0.4 V, until the loop has caught up after tau / (1 + A0), a third of a microsecond here (the model's own
    // statement; a capacitor of 1000 uF and 20 mohm holds it to less than 20 mohm * 0.5 A).
    [Theory]
    [InlineData(1e-12, 0.3, 0.41)]
    [InlineData(1e-3, 0.0, 0.0101)]
    public void Load_step_dips_by_the_followers_resistance_without_a_capacitor(double farads, double least, double most)
    {
        var part = new SeriesRegulator("u", "in", "out", "0", 5) { FollowerResistance = 0.8, OutputResistance = 8e-3, TemperatureCoefficient = 0 };
        var step = new CurrentSource("i", "out", "0", new PulseWaveform { Low = 0.1, High = 0.6, Delay = 1e-3, Rise = 1e-9, Fall = 1e-9 });
        var circuit = Circuit(new VoltageSource("v", "in", "0", 10), part, step, new Capacitor("c", "out", "0", farads) { SeriesResistance = 0.02 });
        var run = Run(circuit, new TransientOptions { Stop = 2e-3, Accuracy = 1e-4 }, Probe.Voltage("out"));
        Assert.InRange(run.At(0.9e-3) - run.Values(0).Min(), least, most);
    }

    // A parallel tank rings on where the conductance across it is negative in all (any textbook of oscillators). 8.4 uH of wire and 1 nF with 10 ohm in series, w = 10.9/us, have w^2 C^2 R = 1.2 mS. A limit that folds back by 20 mA/V is
    // -20 mS where it follows at once and -20/(1 + w^2 T^2) = -0.04 mS with a time constant of 2 us: the ringing dies with 2 C/G, some 2 us.
    [Theory]
    [InlineData(1e-9, 1, 1000)]
    [InlineData(2e-6, 0, 0.01)]
    public void Folded_back_limit_rings_with_a_wire_only_where_it_follows_at_once(double seconds, double least, double most)
    {
        var part = new SeriesRegulator("u", "in", "0", "0", 5) { FoldbackSlope = 0.02, FoldbackFrom = 5, FoldbackTime = seconds, PassCapacitance = 1e-15, JunctionToCase = 0.1, CaseToAir = 0.1 };
        var source = new VoltageSource("v", "source", "0", new PulseWaveform { Low = 25, High = 26, Delay = 1e-6, Rise = 1e-9, Fall = 1e-9 });
        var circuit = Circuit(source, new Resistor("r", "source", "wire", 0.27), new Inductor("l", "wire", "in", 8.4e-6), new Capacitor("c", "in", "0", 1e-9) { SeriesResistance = 10 }, part);
        var run = Run(circuit, new TransientOptions { Stop = 20e-6, Accuracy = 1e-4 }, Probe.Voltage("in"));
        var late = run.Times.Index().Where(t => t.Item > 16e-6).Select(t => run.Values(0)[t.Index]).ToList();
        Assert.InRange(late.Max() - late.Min(), least, most);
    }
}
