using System.Numerics;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Measurement;

namespace BoardSim.Tests.Measurement;

/// <summary>The ESR meter against the impedances of circuits that can be worked out by hand.</summary>
public class EsrMeterTests
{
    private static readonly EsrMeter Meter = new() { Counts = 1_000_000 };

    // Z = R + 1/(jwC) (KEMET, capacitor guide: Z = sqrt(ESR^2 + (XL - XC)^2)): 0.3 ohm with 1 uF at 100 kHz, XC = 1.5915 ohm: in phase 0.3 ohm, magnitude 1.6196 ohm.
    [Fact]
    public void A_small_capacitor_is_bad_to_a_meter_that_shows_the_magnitude()
    {
        var circuit = One(1e-6, 0.3);
        Take.Near(0.3, Meter.Measure(circuit, "a", "0").Value!.Value, 1e-5);
        Take.Near(1.6196, (Meter with { Detection = EsrDetection.Magnitude }).Measure(circuit, "a", "0").Value!.Value, 1e-4);
    }

    // Two alike branches of 30 mohm and one of 1 ohm, capacitances too large to count: parallel resistors, 1/(1/0.03 + 1/1) = 29.13 mohm.
    [Fact]
    public void A_good_capacitor_in_parallel_hides_a_bad_one()
    {
        var circuit = One(1, 0.03);
        circuit.Add(new Capacitor("C2", "a", "0", 1) { SeriesResistance = 1 });
        Take.Near(0.029126, Meter.Measure(circuit, "a", "0").Value!.Value, 1e-4);
    }

    // Beside a ceramic capacitor of 1 uF without loss (1.59 ohm at 100 kHz) an electrolytic that has gone to 5 ohm: the admittances add, 1/5 + j/1.5915:
    // Z = 1/(0.2 + j 0.6283) has a real part of 0.2/(0.04 + 0.39478) = 0.4600 ohm. The bad one reads like a good one.
    [Fact]
    public void A_ceramic_capacitor_in_parallel_makes_a_bad_one_look_good()
    {
        var circuit = One(1, 5);
        circuit.Add(new Capacitor("C2", "a", "0", 1e-6));
        Take.Near(0.4600, Meter.Measure(circuit, "a", "0").Value!.Value, 1e-3);
    }

    // A choke beside the capacitor, 10 uH: wL = 6.283 ohm is far above 0.1 ohm, and takes R X^2/(R^2 + X^2) = 0.09997 ohm.
    [Fact]
    public void An_inductance_in_parallel_hardly_shows_at_100_kilohertz()
    {
        var circuit = One(1, 0.1);
        circuit.Add(new Inductor("L1", "a", "0", 10e-6));
        Take.Near(0.1 * 6.28319 * 6.28319 / (0.01 + 6.28319 * 6.28319), Meter.Measure(circuit, "a", "0").Value!.Value, 1e-4);
    }

    // At rest a junction of 1e-14 A is n Vt/Is = 2.6 Tohm: it shows nowhere (common practice, no source: ESR meters stay below the junctions).
    [Fact]
    public void A_junction_in_parallel_is_not_seen()
    {
        var circuit = One(1, 50);
        circuit.Add(new Diode("D1", "a", "0", new DiodeModel()));
        Take.Near(50, Meter.Measure(circuit, "a", "0").Value!.Value, 1e-4);
    }

    [Fact]
    public void A_charged_capacitor_is_refused()
    {
        var circuit = One(100e-6, 0.1);
        circuit.Add(new VoltageSource("V1", "b", "0", 12));
        circuit.Add(new Resistor("R1", "b", "a", 1e3));
        var reading = Meter.Measure(circuit, "a", "0");
        Assert.Null(reading.Value);
        Assert.Contains("12.0 V", reading.Note, StringComparison.Ordinal);
        Assert.Null(Meter.Measure(circuit, "0", "a").Value);
    }

    // Signals that a block brings for its own analyses are not the meter's: the reading stays the circuit's own resistance.
    [Fact]
    public void Other_small_signals_are_silent()
    {
        var circuit = One(1, 0.2);
        circuit.Add(new VoltageSource("V1", "b", "0", 0) { SmallSignal = 1 });
        circuit.Add(new Resistor("R1", "b", "a", 0.2));
        Take.Near(0.1, Meter.Measure(circuit, "a", "0").Value!.Value, 1e-4);
    }

    [Theory]
    [InlineData(0.0291, "29 mohm")]
    [InlineData(4.2, "4.20 ohm")]
    [InlineData(250, "OL")]
    public void The_display_has_its_counts(double ohms, string display) =>
        Assert.Equal(display, new EsrMeter().Read(0, new Complex(ohms, -0.1)).Display);

    [Fact]
    public void A_time_limit_and_a_cancellation_end_it()
    {
        var ended = Assert.Throws<SolverException>(() => Meter.Impedance(One(1e-3, 0.1), "a", "0", new RunLimits { WallClock = TimeSpan.Zero }));
        Assert.Contains("time limit", ended.Message, StringComparison.Ordinal);
        using var source = new CancellationTokenSource();
        source.Cancel();
        Assert.ThrowsAny<OperationCanceledException>(() => Meter.Impedance(One(1e-3, 0.1), "a", "0", new RunLimits { Cancellation = source.Token }));
    }

    private static Circuit One(double farads, double ohms)
    {
        var circuit = new Circuit();
        circuit.Add(new Capacitor("C1", "a", "0", farads) { SeriesResistance = ohms });
        circuit.Add(new Resistor("R_leak", "a", "0", 1e9));
        return circuit;
    }
}
