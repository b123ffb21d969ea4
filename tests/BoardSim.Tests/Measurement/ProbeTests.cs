using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Measurement;

/// <summary>Inside of the passive probe, the differential probe, and the earthed clip.</summary>
public class ProbeTests
{
    // A divider of R1 || C1 over R2 || C2 divides alike at all frequencies when R1 C1 = R2 C2 ("The secret world of oscilloscope probes", Ford 2009; any textbook
    // on oscilloscopes): 9 Mohm over 1 Mohm with 108 pF takes 12 pF.
    [Theory]
    [InlineData(1)]
    [InlineData(1e3)]
    [InlineData(1e6)]
    public void A_compensated_divider_divides_by_ten_at_all_frequencies(double hertz)
    {
        var divider = new PassiveDivider();
        Assert.Equal(12e-12, divider.RightTipCapacitance, 1e-18);
        Assert.Equal(10, divider.Attenuation, 1e-12);
        Assert.Equal(0.1, Gain(divider, hertz), 1e-6);
    }

    // Far above the divider's corner only the capacitors divide: C1/(C1 + C2).
    [Theory]
    [InlineData(16e-12, 16.0 / 124)]
    [InlineData(8e-12, 8.0 / 116)]
    public void Far_above_the_corner_the_capacitors_divide(double tip, double gain) =>
        Take.Near(gain, Gain(new PassiveDivider { TipCapacitance = tip }, 10e6), 1e-4);

    // Step of 1 V: v(t) = 0.1 + (C1/(C1 + C2) - 0.1) exp(-t/T) with T = (R1 || R2)(C1 + C2), solved by hand from the node's equation: over-compensated it starts
    // at 1.290 of the end value, under-compensated at 0.690, and after T the distance has fallen to 1/e.
    [Theory]
    [InlineData(16e-12)]
    [InlineData(8e-12)]
    public void A_step_shows_the_compensation(double tip)
    {
        var divider = new PassiveDivider { TipCapacitance = tip };
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "tip", "0", new PulseWaveform { High = 1, Delay = 10e-6, Rise = 1e-9, Fall = 1e-9, Width = 1 }));
        var tap = new Oscilloscope { Probe = ScopeProbe.TenToOneOf(divider) }.Attach(circuit, "tip", "0", "scope");
        var run = Transient.Run(new CircuitSystem(circuit), new TransientOptions { Stop = 1e-3, Accuracy = 1e-5 }, [Probe.Voltage(tap.Node, tap.ReferenceNode)]);
        var wave = new Waveform("scope", Unit.Volt, run.Times, run.Values(0)).Scaled(tap.Factor);
        var tau = 0.9e6 * (tip + 108e-12);
        var first = 10 * tip / (tip + 108e-12);
        Take.Near(first, wave.At(10.1e-6), 2e-3);
        Take.Near(1 + (first - 1) / Math.E, wave.At(10e-6 + tau), 1e-3);
    }

    // The tip's capacitance in series with the cable's is what the circuit feels: 12 pF and 108 pF in series are 10.8 pF, against 100 pF of a 1x probe.
    [Fact]
    public void A_10x_probe_loads_a_tenth_of_what_a_1x_probe_does()
    {
        Assert.Equal(10.8e-12, ScopeProbe.TenToOneOf(new PassiveDivider()).Capacitance, 1e-16);

        // 100 kohm with 100 pF: corner of 1/(2 pi 9.09e4 x 1e-10) = 17.5 kHz, with the probe's megohm in parallel.
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "source", "0", 0) { SmallSignal = 1 });
        circuit.Add(new Resistor("R1", "source", "tip", 100e3));
        new Oscilloscope { Probe = ScopeProbe.OneToOne }.Attach(circuit, "tip", "0", "scope");
        var gain = AcAnalysis.Run(new CircuitSystem(circuit), [17.507e3], [Probe.Voltage("tip")]).Values(0)[0].Magnitude;
        Take.Near(1 / 1.1 / Math.Sqrt(2), gain, 1e-3);
    }

    // Bandwidths behind one another: 1/B^2 = 1/B1^2 + 1/B2^2, as rise times add in squares (rule of thumb of every oscilloscope primer).
    [Fact]
    public void A_1x_probe_is_slow()
    {
        var step = Sampled.Points((0, 0), (50e-9, 0), (50e-9, 1), (500e-9, 1));
        var shown = new Oscilloscope { Bandwidth = 8e6, Probe = ScopeProbe.OneToOne }.Pass(step);
        Take.Near(0.35 / (8e6 / Math.Sqrt(2)), Take.Value("rise-time", shown), 5e-3);
    }

    // Loading error -Rs/(Rs + Ri) (Voltcraft VC-7055BT, p. 33): 1 Mohm source on 1 Mohm reads half, on 10 Mohm 90.9 %.
    [Theory]
    [InlineData(true, 0.5)]
    [InlineData(false, 10.0 / 11)]
    public void A_high_source_resistance_shows_the_probe(bool direct, double share)
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "source", "0", 1));
        circuit.Add(new Resistor("R1", "source", "tip", 1e6));
        new Oscilloscope { Probe = direct ? ScopeProbe.OneToOne : ScopeProbe.TenToOneOf(new PassiveDivider()) }.Attach(circuit, "tip", "0", "scope");
        Take.Near(share, OperatingPoint.Solve(new CircuitSystem(circuit)).Voltage("tip"), 1e-6);
    }

    // Common-mode rejection ratio: differential gain over common-mode gain, as 20 log of it (Tektronix P6330 manual, p. 20; Rohde & Schwarz RT-ZD manual 3.1: gains of 0.01
    // and 0.0001 are 40 dB). Both leads at one voltage: 1 V in common leaves 0.01 V at 40 dB.
    [Theory]
    [InlineData(40, 10, 0.01)]
    [InlineData(80, 10, 1e-4)]
    [InlineData(80, 3e3, 1.41421e-4)] // the corner: 3 dB less rejection
    [InlineData(80, 300e3, 1e-2)] // two decades beyond: 40 dB less
    public void What_both_leads_have_in_common_is_left_over_by_the_rejection(double decibels, double hertz, double left)
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "both", "0", 0) { SmallSignal = 1 });
        circuit.Add(new Resistor("R1", "both", "a", 1));
        circuit.Add(new Resistor("R2", "both", "b", 1));
        var tap = new DifferentialProbe { Rejection = decibels }.Attach(circuit, "a", "b", "0", "probe");
        var output = AcAnalysis.Run(new CircuitSystem(circuit), [hertz], [Probe.Voltage(tap.Node, tap.ReferenceNode)]).Values(0)[0].Magnitude;
        Take.Near(left, output, 3e-3);
    }

    // 8 Mohm between the leads: two halves to earth. A difference behind 4 Mohm in each lead is halved.
    [Fact]
    public void The_difference_passes_and_the_probe_loads()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "p", "0", 1));
        circuit.Add(new VoltageSource("V2", "m", "0", -1));
        circuit.Add(new Resistor("R1", "p", "a", 4e6));
        circuit.Add(new Resistor("R2", "m", "b", 4e6));
        var tap = new DifferentialProbe().Attach(circuit, "a", "b", "0", "probe");
        var solution = OperatingPoint.Solve(new CircuitSystem(circuit));
        Take.Near(1, solution.Voltage(tap.Node, tap.ReferenceNode), 1e-6);
        Take.Near(1, solution.Voltage("a", "b"), 1e-6);
    }

    [Fact]
    public void A_differential_probe_cuts_off_at_its_range()
    {
        var wave = Sampled.Cycles(x => 1000 * Math.Sin(2 * Math.PI * x), 60);
        Assert.Equal(700, new DifferentialProbe().Pass(wave).Maximum().Value, 1e-6);
    }

    // The clip ties its node to earth through its own 0.2 ohm: 12 V behind 1 ohm drive 12/1.2 A.
    [Fact]
    public void An_earthed_clip_is_part_of_the_circuit()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "source", "0", 12));
        circuit.Add(new Resistor("R1", "source", "node", 1));
        new EarthedClip().Attach(circuit, "node", "0", "scope");
        Take.Near(10, OperatingPoint.Solve(new CircuitSystem(circuit)).Current("R1"), 1e-9);
    }

    [Fact]
    public void A_clip_that_is_put_on_later_changes_nothing_before()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "source", "0", 12));
        circuit.Add(new Resistor("R1", "source", "node", 1));
        new EarthedClip().Attach(circuit, "node", "0", "scope", at: 1e-3);
        var run = Transient.Run(new CircuitSystem(circuit), new TransientOptions { Stop = 2e-3 }, [Probe.Voltage("node")]);
        var wave = new Waveform("node", Unit.Volt, run.Times, run.Values(0));
        Take.Near(12, wave.At(0.9e-3), 1e-6);
        Take.Near(2, wave.At(1.1e-3), 1e-3);
    }

    private static double Gain(PassiveDivider divider, double hertz)
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "tip", "0", 0) { SmallSignal = 1 });
        var tap = new Oscilloscope { Probe = ScopeProbe.TenToOneOf(divider) }.Attach(circuit, "tip", "0", "scope");
        return AcAnalysis.Run(new CircuitSystem(circuit), [hertz], [Probe.Voltage(tap.Node, tap.ReferenceNode)]).Values(0)[0].Magnitude;
    }
}
