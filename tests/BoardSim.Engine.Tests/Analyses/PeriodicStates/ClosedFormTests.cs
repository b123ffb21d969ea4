using BoardSim.Engine.Analyses;
using BoardSim.Engine.Analyses.PeriodicStates;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses.PeriodicStates;

/// <summary>Linear circuits whose periodic state has a closed form, with time constants far longer than the period.</summary>
public sealed class ClosedFormTests
{
    // A square wave through R into C swings between V2 = V (1 - exp(-t1/RC)) / (1 - exp(-T/RC)) and V1 = V2 exp(-t2/RC) in the steady
    // state (Millman and Taub, Pulse, Digital and Switching Waveforms, 1965, chapter 2, from memory). With RC of a thousand periods,
    // settling to a thousandth takes seven thousand.
    [Theory]
    [InlineData(0.5)]
    [InlineData(10)]
    [InlineData(1000)]
    public void Square_wave_into_a_resistor_and_a_capacitor(double periods)
    {
        const double period = 1e-4, duty = 0.3, volts = 10, farads = 1e-6, accuracy = 1e-5;
        var tau = periods * period;
        var circuit = Circuit(
            new VoltageSource("v", "in", "0", new PulseWaveform { High = volts, Rise = 1e-11, Fall = 1e-11, Width = duty * period - 1e-11, Period = period }),
            new Resistor("r", "in", "out", tau / farads),
            new Capacitor("c", "out", "0", farads));
        var found = PeriodicSteadyState.Run(
            new CircuitSystem(circuit), new PeriodicOptions { Accuracy = accuracy, UseInitialConditions = true }, [Probe.Voltage("out")]);

        var top = volts * (1 - Math.Exp(-duty / periods)) / (1 - Math.Exp(-1 / periods));
        var valley = top * Math.Exp(-(1 - duty) / periods);
        Assert.Equal(PeriodicOutcome.Found, found.Evidence.Outcome);
        Near(top, found.Waveforms.Values(0).Max(), 3 * accuracy);
        Near(valley, found.Waveforms.Values(0).Min(), 3 * accuracy);
        Near(period, found.Waveforms.Times[^1], 1e-9);
        Assert.InRange(found.Evidence.LeadPeriods + found.Evidence.SearchPeriods, 4, 12);
        if (periods >= 10)
        {
            Assert.NotNull(found.Evidence.SlowestTimeConstant);
            Near(tau, found.Evidence.SlowestTimeConstant.Value, 0.01);
        }
    }

    // Sine into a series resonance far from damped: the phasor solution. L = 1 mH, C = 1 uF (5.03 kHz), Q = 1000 at 316 mohm / 10, driven at
    // 5 kHz; the state takes Q / pi periods per e-fold to settle by itself.
    [Fact]
    public void Sine_into_a_sharp_resonance()
    {
        const double hertz = 5e3, henries = 1e-3, farads = 1e-6, ohms = 0.0316;
        var circuit = Circuit(
            new VoltageSource("v", "a", "0", new SineWaveform { Amplitude = 1, Frequency = hertz }),
            new Inductor("l", "a", "b", henries),
            new Resistor("r", "b", "c", ohms),
            new Capacitor("c1", "c", "0", farads));
        var found = PeriodicSteadyState.Run(
            new CircuitSystem(circuit), new PeriodicOptions { Accuracy = 1e-6, UseInitialConditions = true }, [Probe.Voltage("c")]);

        var omega = 2 * Math.PI * hertz;
        var gain = 1 / new System.Numerics.Complex(1 - omega * omega * henries * farads, omega * ohms * farads).Magnitude;
        Assert.Equal(PeriodicOutcome.Found, found.Evidence.Outcome);
        Near(gain, found.Waveforms.Values(0).Max(), 2e-3);
        Near(gain, -found.Waveforms.Values(0).Min(), 2e-3);
        Assert.InRange(found.Evidence.SearchPeriods, 3, 12);
    }

    // What starts where it repeats goes on repeating: the record's periods are alike, and its energy balance closes.
    [Fact]
    public void Recorded_periods_are_alike()
    {
        const double period = 1e-3;
        var circuit = Circuit(
            new VoltageSource("v", "in", "0", new SineWaveform { Amplitude = 10, Frequency = 1 / period }),
            new Diode("d", "in", "out", new DiodeModel()),
            new Resistor("r", "out", "0", 1e3),
            new Capacitor("c", "out", "0", 100e-6));
        var found = PeriodicSteadyState.Run(
            new CircuitSystem(circuit), new PeriodicOptions { Accuracy = 1e-5, UseInitialConditions = true, Periods = 3 }, [Probe.Voltage("out")]);
        Assert.Equal(PeriodicOutcome.Found, found.Evidence.Outcome);
        Near(3 * period, found.Waveforms.Times[^1], 1e-9);
        for (var k = 0; k < 20; k++)
        {
            var at = k * period / 20;
            Near(found.Waveforms.At(at), found.Waveforms.At(at + 2 * period), 2e-5);
        }

        Assert.InRange(found.Waveforms.Evidence.PowerBalance, 0, 1e-4);
    }
}
