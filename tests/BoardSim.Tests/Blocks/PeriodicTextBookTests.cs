using BoardSim.Engine.Analyses;
using BoardSim.Engine.Analyses.PeriodicStates;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Blocks;

/// <summary>Text books' steady states, searched from cold capacitors instead of settled into.</summary>
public class PeriodicTextBookTests
{
    // D. W. Hart, Power Electronics, McGraw-Hill 2011, example 3-9: half-wave, 120 V rms 60 Hz, 500 ohm, 100 uF; ripple 43.13 V, diode peak 4.51 A,
    // mean 148.11 V (numbers from memory, its angles worked out afresh).
    [Fact]
    public void Half_wave_rectifier()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "line", "0", new SineWaveform { Amplitude = 120 * Math.Sqrt(2), Frequency = 60 }));
        circuit.Add(new Resistor("R_source", "line", "anode", 1e-3));
        circuit.Add(new Diode("D1", "anode", "out", IdealParts.Diode));
        circuit.Add(new Capacitor("C1", "out", "0", 100e-6));
        circuit.Add(new Resistor("R1", "out", "0", 500));
        var (volts, amperes) = Search(circuit, Probe.Voltage("out"), Probe.Current("D1"));
        Near.Relative(43.13, volts.PeakToPeak(), 0.005);
        Near.Relative(148.11, volts.Mean(), 0.005);
        Near.Relative(4.51, amperes.Maximum().Value, 0.005);
    }

    // Hart, example 7-1: 24 V to 5 V, N1/N2 = 3, 500 uH, 5 ohm, 200 uF, 40 kHz: a magnetising current of 540 mA between 310 and 770 mA and a ripple of
    // 0.96 % in continuous conduction; at 40 and 100 ohm Vo = Vs D sqrt(R / (2 L f)) in discontinuous conduction (equations 7-18 to
    // 7-20): 9.240 V and 14.610 V.
    [Fact]
    public void Flyback_in_continuous_conduction()
    {
        var (volts, amperes) = Search(Flyback(5), Probe.Voltage("out"), Probe.Current("L1"));
        Near.Relative(5, volts.Mean(), 0.01);
        Near.Relative(0.0096, volts.PeakToPeak() / 5, 0.03);
        Near.Relative(0.770, amperes.Maximum().Value, 0.01);
        Near.Relative(0.310, amperes.Minimum().Value, 0.015);
    }

    [Theory]
    [InlineData(40, 9.240)]
    [InlineData(100, 14.610)]
    public void Flyback_in_discontinuous_conduction(double load, double expected)
    {
        var (volts, amperes) = Search(Flyback(load), Probe.Voltage("out"), Probe.Current("L1"));

        // Where the free swing of the drain is met by the next turn-on shifts the stored energy by a per cent.
        Near.Relative(expected, volts.Mean(), 0.02);
        Assert.InRange(amperes.Minimum().Value, -0.01, 0.01);
    }

    private static (Waveform Volts, Waveform Amperes) Search(Circuit circuit, Probe volts, Probe amperes)
    {
        var found = PeriodicSteadyState.Run(
            new CircuitSystem(circuit), new PeriodicOptions { Accuracy = 1e-4, UseInitialConditions = true, Lead = 8 }, [volts, amperes]);
        Assert.Null(found.Evidence.Reason);
        Assert.Equal(PeriodicOutcome.Found, found.Evidence.Outcome);
        Assert.InRange(found.Evidence.LeadPeriods + found.Evidence.SearchPeriods, 9, 50);
        var result = found.Waveforms;
        return (new("", Unit.Volt, result.Times, result.Values(0)), new("", Unit.Ampere, result.Times, result.Values(1)));
    }

    private static Circuit Flyback(double load)
    {
        const double duty = 0.384615, period = 25e-6, ratio = 3;
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "supply", "0", 24));
        circuit.Add(new Inductor("L1", "supply", "drain", 500e-6));
        circuit.Add(new VoltageControlledVoltageSource("E1", "sec", "0", "drain", "supply", 1 / ratio));
        circuit.Add(new CurrentControlledCurrentSource("F1", "supply", "drain", "E1", 1 / ratio));
        circuit.Add(new VoltageSwitch("S1", "drain", "0", "gate", "0", IdealParts.Switch));
        circuit.Add(new VoltageSource("V_gate", "gate", "0", new PulseWaveform { High = 1, Rise = 1e-9, Fall = 1e-9, Width = duty * period - 1e-9, Period = period }));
        circuit.Add(new Diode("D_out", "sec", "out", IdealParts.Diode));
        circuit.Add(new Capacitor("C1", "out", "0", 200e-6) { SeriesResistance = 1e-4 });
        circuit.Add(new Resistor("R1", "out", "0", load));

        // What swings freely once the secondary is empty; it costs a milliwatt.
        circuit.Add(new Capacitor("C_drain", "drain", "0", 20e-12));
        return circuit;
    }
}
