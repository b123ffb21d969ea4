using BoardSim.Engine.Analyses;
using BoardSim.Engine.Analyses.PeriodicStates;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses.PeriodicStates;

/// <summary>What a period makes of a small deviation, against closed forms.</summary>
public sealed class SensitivityTests
{
    // exp(-T / RC), whatever the source does.
    [Fact]
    public void Deviation_of_a_capacitor_decays_with_its_time_constant()
    {
        const double period = 1e-4, ohms = 1e3, farads = 1e-6;
        var circuit = Circuit(
            new VoltageSource("v", "in", "0", new SineWaveform { Amplitude = 10, Frequency = 1 / period }),
            new Resistor("r", "in", "out", ohms),
            new Capacitor("c", "out", "0", farads));
        Assert.Equal(Math.Exp(-period / (ohms * farads)), MultiplierOf(circuit, period, 3), 1e-5);
    }

    // A deviation of the current at the clock's tick comes back turned over and multiplied by D / (1 - D): the comparator's event moves with it
    // (Erickson and Maksimovic, Fundamentals of Power Electronics, chapter on current-programmed control, from memory). D = Vout / Vin.
    [Theory]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void Deviation_under_peak_current_control(double output)
    {
        var duty = output / 10;
        Assert.Equal(duty / (1 - duty), MultiplierOf(PeakCurrentBuck.Make(output), PeakCurrentBuck.Clock, 12), 0.02);
    }

    // Two capacitors in series keep the charge of the node between them for ever: 3 V there at first is 3 V plus half the source in the state
    // that repeats. Without that the equations of the search would be singular.
    [Fact]
    public void Charge_that_nothing_changes_is_kept()
    {
        const double period = 1e-3;
        var circuit = Circuit(
            new VoltageSource("v", "in", "0", new SineWaveform { Amplitude = 10, Frequency = 1 / period }),
            new Resistor("r", "in", "top", 100),
            new Capacitor("c1", "top", "mid", 1e-6) { InitialVoltage = -3 },
            new Capacitor("c2", "mid", "0", 1e-6) { InitialVoltage = 3 });
        var found = PeriodicSteadyState.Run(
            new CircuitSystem(circuit), new PeriodicOptions { Accuracy = 1e-4, UseInitialConditions = true }, [Probe.Voltage("mid")]);
        Assert.Equal(PeriodicOutcome.Found, found.Evidence.Outcome);

        // Half of 10 V, less what 100 ohm and 0.5 uF take at 1 kHz: 1 / sqrt(1 + (2 pi 1e3 * 100 * 0.5e-6)^2).
        var swing = 5 / Math.Sqrt(1 + Math.Pow(2 * Math.PI * 1e3 * 100 * 0.5e-6, 2));
        Near(3 + swing, found.Waveforms.Values(0).Max(), 1e-3);
        Near(3 - swing, found.Waveforms.Values(0).Min(), 3e-3);
    }

    private static double MultiplierOf(Circuit circuit, double period, int lead)
    {
        var system = new CircuitSystem(circuit);
        using var map = new PeriodMap(system, new PeriodicOptions { Accuracy = 1e-5, UseInitialConditions = true }, [], period, lead);
        var start = map.Lead()!;
        var track = new PeriodTrack(period);
        var end = map.Advance(start, track)!;
        var sensitivity = new PeriodSensitivity(system);
        Assert.True(sensitivity.Follow(start, map.Origin, track));
        var scale = new BoundaryScale(system);
        scale.Take(end, map.Peak);
        var unit = new double[system.Size + 1];
        Array.Fill(unit, 1);
        return new LinearPeriod(sensitivity, scale).Multiplier(unit, out _);
    }
}
