using BoardSim.Engine.Analyses;
using BoardSim.Engine.Analyses.PeriodicStates;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses.PeriodicStates;

/// <summary>Circuits that do not repeat with the period of their sources: the search says so and lets them run.</summary>
public sealed class FallbackTests
{
    // Peak current control at constant frequency is unstable above half duty: a deviation is multiplied by -D/(1 - D) per period
    // (Erickson and Maksimovic, Fundamentals of Power Electronics, chapter on current-programmed control, from memory). 10 V to 7 V:
    // D = 0.7, factor -2.33. The state that repeats exists and is found, but no circuit stays in it.
    [Fact]
    public void Subharmonic_oscillation_of_peak_current_control_is_not_taken_for_a_steady_state()
    {
        var found = PeriodicSteadyState.Run(
            new CircuitSystem(PeakCurrentBuck.Make(7)),
            new PeriodicOptions { Accuracy = 1e-4, UseInitialConditions = true, MostSettlingPeriods = 96, Periods = 8 },
            [Probe.Current("l")]);
        Assert.Equal(PeriodicOutcome.NotPeriodic, found.Evidence.Outcome);
        Assert.Contains("not stable", found.Evidence.Reason, StringComparison.Ordinal);
        Assert.Equal(96, found.Evidence.SettlingPeriods);
        Assert.Equal(RunStatus.Completed, found.Waveforms.Status);

        // What is recorded is the circuit's own way: the current at the clock's ticks differs from one to the next.
        var ticks = Enumerable.Range(1, 6).Select(k => found.Waveforms.At(k * PeakCurrentBuck.Clock)).ToList();
        Assert.True(ticks.Max() - ticks.Min() > 0.05, string.Join(" ", ticks));
        Near(8 * PeakCurrentBuck.Clock, found.Waveforms.Times[^1], 1e-9);
    }

    // The same converter below half duty settles, with a factor of -0.43 at 3 V, and is found.
    [Fact]
    public void Peak_current_control_below_half_duty_is_found()
    {
        var found = PeriodicSteadyState.Run(
            new CircuitSystem(PeakCurrentBuck.Make(3)), new PeriodicOptions { Accuracy = 1e-4, UseInitialConditions = true, Lead = 12 }, [Probe.Current("l")]);
        Assert.Null(found.Evidence.Reason);
        Assert.Equal(PeriodicOutcome.Found, found.Evidence.Outcome);
        Assert.Equal(2, found.Waveforms.Values(0).Max(), 5e-3);

        // Ripple V (1 - D) T / L of a buck converter in continuous conduction: 3 * 0.7 * 10 us / 50 uH = 0.42 A.
        Assert.Equal(0.42, found.Waveforms.Values(0).Max() - found.Waveforms.Values(0).Min(), 5e-3);
    }

    // A relaxation oscillator that no source locks: 10 V through 10 kohm into 100 nF between 3 and 7 V, beside a sine of another frequency.
    [Fact]
    public void Free_oscillator_beside_a_source_is_told()
    {
        var circuit = Circuit(
            new VoltageSource("v", "plus", "0", 10),
            new Resistor("r", "plus", "a", 10e3),
            new Capacitor("c", "a", "0", 100e-9),
            new VoltageSwitch("s", "a", "0", "a", "0", new SwitchModel { OnResistance = 100, OffResistance = 1e9, Threshold = 5, Hysteresis = 2 }),
            new VoltageSource("w", "b", "0", new SineWaveform { Amplitude = 1, Frequency = 1234 }),
            new Resistor("rw", "b", "0", 1e3));
        var found = PeriodicSteadyState.Run(
            new CircuitSystem(circuit),
            new PeriodicOptions { UseInitialConditions = true, MostSearchPeriods = 25, MostSettlingPeriods = 64 },
            [Probe.Voltage("a")]);
        Assert.Equal(PeriodicOutcome.NotPeriodic, found.Evidence.Outcome);
        Assert.Equal(25, found.Evidence.SearchPeriods);
        Assert.Equal(64, found.Evidence.SettlingPeriods);
        Assert.Contains("after 25 periods of search", found.Evidence.Reason, StringComparison.Ordinal);
    }

    // A search that is allowed too few periods falls back on settling, says why, and gets where the search would have got: the sine
    // through a diode into C and R, settled or searched.
    [Fact]
    public void Settling_takes_over_and_agrees()
    {
        static CircuitSystem Make() => new(Circuit(
            new VoltageSource("v", "in", "0", new SineWaveform { Amplitude = 10, Frequency = 1e3 }),
            new Diode("d", "in", "out", new DiodeModel()),
            new Resistor("rs", "out", "far", 50),
            new Resistor("r", "far", "0", 1e3),
            new Capacitor("c", "far", "0", 20e-6)));
        var options = new PeriodicOptions { Accuracy = 1e-4, UseInitialConditions = true, Lead = 1 };
        var searched = PeriodicSteadyState.Run(Make(), options, [Probe.Voltage("far")]);
        var settled = PeriodicSteadyState.Run(Make(), options with { MostSearchPeriods = 2 }, [Probe.Voltage("far")]);
        Assert.Equal(PeriodicOutcome.Found, searched.Evidence.Outcome);
        Assert.Equal(PeriodicOutcome.Settled, settled.Evidence.Outcome);
        Assert.Contains("after 2 periods of search", settled.Evidence.Reason, StringComparison.Ordinal);
        Assert.InRange(settled.Evidence.SettlingPeriods, 64, 400);
        Near(searched.Waveforms.Values(0).Max(), settled.Waveforms.Values(0).Max(), 1e-3);
        Near(searched.Waveforms.Values(0).Min(), settled.Waveforms.Values(0).Min(), 1e-3);
        Near(1e-3, settled.Waveforms.Times[^1], 1e-9);
    }

    [Fact]
    public void Cancelled_search_says_so()
    {
        using var cancel = new CancellationTokenSource();
        cancel.Cancel();
        var found = PeriodicSteadyState.Run(
            new CircuitSystem(PeakCurrentBuck.Make(3)), new PeriodicOptions { UseInitialConditions = true, Cancellation = cancel.Token }, [Probe.Current("l")]);
        Assert.Equal(PeriodicOutcome.Interrupted, found.Evidence.Outcome);
        Assert.Equal(RunStatus.Cancelled, found.Waveforms.Status);
        Assert.Empty(found.Waveforms.Times);
    }
}
