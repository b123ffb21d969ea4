using System.Numerics;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>Small-signal answers against the phasors of circuit theory (e.g. Desoer and Kuh, Basic Circuit Theory, 1969, chapter 7).</summary>
public sealed class AcAnalysisTests
{
    // 1 k and 159.155 nF have their corner at 1 kHz: 1 / sqrt(2) and -45 degrees there, -20 dB per decade beyond.
    [Fact]
    public void Low_pass_falls_by_three_decibels_at_its_corner()
    {
        var farads = 1 / (2 * Math.PI * 1e3 * 1e3);
        var result = Ac(
            Circuit(Source(), new Resistor("r", "in", "out", 1e3), new Capacitor("c", "out", "0", farads)),
            [1, 1e3, 1e5, 1e6],
            Probe.Voltage("out"));
        Close(1, result[0], 1e-5, 1e-3);
        Close(Complex.FromPolarCoordinates(Math.Sqrt(0.5), -Math.PI / 4), result[1], 1e-12);
        Assert.Equal(20, 20 * Math.Log10(result[2].Magnitude / result[3].Magnitude), 1e-3);
    }

    // At resonance the capacitor of a series circuit has Q times the source's voltage, 90 degrees behind; the current falls to
    // 1 / sqrt(2) at f0 (sqrt(1 + 1 / 4 Q^2) +- 1 / 2 Q).
    [Theory]
    [InlineData(1)]
    [InlineData(20)]
    [InlineData(500)]
    public void Series_resonance_magnifies_by_Q(double q)
    {
        const double f0 = 10e3;
        const double henries = 1e-3;
        var w0 = 2 * Math.PI * f0;
        var ohms = w0 * henries / q;
        var circuit = Circuit(Source(), new Resistor("r", "in", "a", ohms), new Inductor("l", "a", "b", henries), new Capacitor("c", "b", "0", 1 / (w0 * w0 * henries)));
        var root = Math.Sqrt(1 + 1 / (4 * q * q));
        double[] frequencies = [f0, f0 * (root - 0.5 / q), f0 * (root + 0.5 / q)];
        Close(new Complex(0, -q), Ac(circuit, frequencies, Probe.Voltage("b"))[0], 1e-9 * q);
        var current = Ac(circuit, frequencies, Probe.Current("l"));
        Close(1 / ohms, current[0], 1e-9 / ohms);
        Assert.Equal(Math.Sqrt(0.5) / ohms, current[1].Magnitude, 1e-9 / ohms);
        Assert.Equal(Math.Sqrt(0.5) / ohms, current[2].Magnitude, 1e-9 / ohms);
        Assert.Equal(90, (current[1].Phase - current[2].Phase) * 180 / Math.PI, 1e-6);
    }

    // dI/dV = (I + Is) / Vt, with Vt = k T / q = 25.851999786 mV at 300 K (CODATA 2018, exact since 2019).
    [Theory]
    [InlineData(1e-6)]
    [InlineData(1e-3)]
    [InlineData(0.1)]
    public void Diode_has_the_conductance_of_its_current_over_the_thermal_voltage(double amperes)
    {
        var circuit = Circuit(
            new CurrentSource("i", "0", "a", amperes) { SmallSignal = 1 },
            new Diode("d", "a", "0", new DiodeModel { SaturationCurrent = 1e-14, NominalTemperature = 300 }));
        circuit.Temperature = 300;

        // The engine's own 1e-12 S across each junction is a millionth of the smallest conductance here.
        Near(25.851999786e-3 / amperes, Ac(circuit, [1.0], Probe.Voltage("a"))[0].Real, 1e-6);
    }

    // Emitter degeneration: the stage's gain is -Rc / (Re + Vt / Ic) for a high current gain (Gray, Hurst, Lewis and Meyer,
    // Analysis and Design of Analog Integrated Circuits, 4th ed., section 3.3.8; from memory).
    [Fact]
    public void Degenerated_stage_has_the_text_books_gain()
    {
        var circuit = Circuit(
            new VoltageSource("vcc", "vcc", "0", 12),
            new VoltageSource("vin", "b", "0", 1.7) { SmallSignal = 1 },
            new Resistor("rc", "vcc", "c", 4.7e3),
            new Resistor("re", "e", "0", 1e3),
            new BipolarTransistor("q", "c", "b", "e", new BipolarModel { ForwardBeta = 1e6 }));
        var ic = (12 - Solve(circuit).Voltage("c")) / 4.7e3;
        var gain = Ac(circuit, [1e3], Probe.Voltage("c"))[0];

        // 27 degC: 25.8649 mV.
        Near(-4.7e3 / (1e3 + 25.8649e-3 / ic), gain.Real, 1e-4);
        Assert.Equal(0, gain.Imaginary, 1e-9);
    }

    // Superposition: two sources at once give the sum of what each gives alone.
    [Fact]
    public void Sources_superpose()
    {
        Complex[] Answer(Complex first, Complex second) => Ac(
            Circuit(
                new VoltageSource("v1", "a", "0") { SmallSignal = first },
                new CurrentSource("i1", "0", "b") { SmallSignal = second },
                new Resistor("r1", "a", "b", 50),
                new Capacitor("c1", "b", "0", 1e-6),
                new Inductor("l1", "b", "d", 1e-3),
                new Resistor("r2", "d", "0", 10)),
            [100, 5e3, 1e6],
            Probe.Voltage("d"));
        var both = Answer(new Complex(1, 2), new Complex(0.1, -0.3));
        var sum = Answer(new Complex(1, 2), 0).Zip(Answer(0, new Complex(0.1, -0.3)), (p, q) => p + q).ToArray();
        for (var k = 0; k < both.Length; k++)
        {
            Close(both[k], sum[k], 1e-12 * both[k].Magnitude);
        }
    }

    // A junction's small-signal conductance is I / (N Vt) (Sze, Physics of Semiconductor Devices, 2nd edition, section 2.4): its current is that times its small voltage, and
    // not the current that the voltage itself would drive.
    [Fact]
    public void Current_of_a_junction_is_that_of_its_conductance()
    {
        var circuit = Circuit(
            new VoltageSource("v", "in", "0", 5) { SmallSignal = 1 },
            new Resistor("r", "in", "a", 1e3),
            new Diode("d", "a", "0", new DiodeModel { SaturationCurrent = 1e-14 }));
        var system = new CircuitSystem(circuit);
        var amperes = OperatingPoint.Solve(new CircuitSystem(circuit.Clone())).Current("d");
        var run = AcAnalysis.Run(system, [1e3], [Probe.Current("d"), Probe.Voltage("a")]);
        var conductance = amperes / 25.852e-3;
        Assert.Equal(1, (run.Values(0)[0] / run.Values(1)[0]).Magnitude / conductance, 1e-3);
        Assert.Equal(1, run.Values(0)[0].Magnitude / (1 / (1e3 + 1 / conductance)), 1e-3);
    }

    [Fact]
    public void States_that_parts_keep_themselves_are_refused()
    {
        var circuit = Circuit(Source(), new Resistor("r", "in", "a", 1), new Fuse("f", "a", "0", 0.1, 10, 1));
        var refused = Assert.Throws<ArgumentException>(() => Ac(circuit, [1.0], Probe.State("f", "open")));
        Assert.Contains("no small signal", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Frequencies_out_of_range_are_refused()
    {
        var circuit = Circuit(Source(), new Resistor("r", "in", "0", 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Ac(circuit, [0.0], Probe.Voltage("in")));
        Assert.Throws<ArgumentOutOfRangeException>(() => Ac(circuit, [double.NaN], Probe.Voltage("in")));
    }

    private static VoltageSource Source() => new("v", "in", "0") { SmallSignal = 1 };

    private static Complex[] Ac(Circuit circuit, double[] frequencies, Probe probe) =>
        AcAnalysis.Run(new CircuitSystem(circuit), frequencies, [probe]).Values(0);

    private static void Close(Complex expected, Complex actual, double tolerance, double? phase = null)
    {
        Assert.Equal(expected.Magnitude, actual.Magnitude, tolerance);
        if (phase is { } allowed)
        {
            Assert.Equal(expected.Phase, actual.Phase, 2 * allowed);
            return;
        }

        Assert.Equal(0, (actual - expected).Magnitude, tolerance);
    }
}
