using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>
/// The accuracy that is asked is the accuracy that is got: linear circuits against their closed forms (any circuit theory
/// text, e.g. Chua, Desoer and Kuh, Linear and Nonlinear Circuits, 1987, chapters 6 and 7), over the whole run and between
/// the solver's own points. Allowed are three times the accuracy for the error, relative to the peak, and ten times for the
/// energy that is out of balance.
/// </summary>
public sealed class AccuracyTests
{
    private static readonly Dictionary<string, Case> Cases = new()
    {
        ["RC charged from zero"] = new(
            5e-3,
            true,
            () => Circuit(new VoltageSource("v", "in", "0", 10), new Resistor("r", "in", "a", 1e3), new Capacitor("c", "a", "0", 1e-6) { InitialVoltage = 0 }),
            [(Probe.Voltage("a"), t => 10 * (1 - Math.Exp(-t / 1e-3))), (Probe.Current("v"), t => -10e-3 * Math.Exp(-t / 1e-3))]),
        ["RC behind a ramp"] = new(
            6e-3,
            false,
            () => Circuit(
                new VoltageSource("v", "in", "0", new PulseWaveform { High = 10, Delay = 1e-3, Rise = 1e-3, Fall = 1e-3 }),
                new Resistor("r", "in", "a", 1e3),
                new Capacitor("c", "a", "0", 1e-6)),
            [(Probe.Voltage("a"), t => Ramp(t - 1e-3) - Ramp(t - 2e-3))]),
        ["RC behind a sine"] = new(
            20e-3,
            true,
            () => Circuit(
                new VoltageSource("v", "in", "0", new SineWaveform { Amplitude = 10, Frequency = 200 }),
                new Resistor("r", "in", "a", 1e3),
                new Capacitor("c", "a", "0", 1e-6) { InitialVoltage = 0 }),
            [(Probe.Voltage("a"), SineBehindRc)]),
        ["RL with a start current"] = new(
            20e-3,
            true,
            () => Circuit(new Resistor("r", "a", "0", 50), new Inductor("l", "a", "0", 0.2) { InitialCurrent = 0.1 }),
            [(Probe.Current("l"), t => 0.1 * Math.Exp(-t / 4e-3)), (Probe.Voltage("a"), t => -5 * Math.Exp(-t / 4e-3))]),
        ["RLC, Q = 5"] = Resonance(5, 8),
        ["RLC, Q = 0.3"] = Resonance(0.3, 4),
    };

    public static TheoryData<string, double> Grid()
    {
        var grid = new TheoryData<string, double>();
        foreach (var name in Cases.Keys)
        {
            foreach (var accuracy in new[] { 1e-2, 1e-3, 1e-4, 1e-5, 1e-6 })
            {
                grid.Add(name, accuracy);
            }
        }

        return grid;
    }

    [Theory]
    [MemberData(nameof(Grid))]
    public void Error_stays_within_what_was_asked(string name, double accuracy)
    {
        var it = Cases[name];
        var options = new TransientOptions { Stop = it.Stop, Accuracy = accuracy, UseInitialConditions = it.FromInitial };
        var result = Run(it.Make(), options, [.. it.Signals.Select(s => s.Probe)]);
        for (var p = 0; p < it.Signals.Length; p++)
        {
            var exact = Array.ConvertAll(result.Times, t => it.Signals[p].Exact(t));
            var error = exact.Zip(result.Values(p), (e, v) => Math.Abs(v - e)).ToArray();
            var worst = error.Max() / exact.Max(Math.Abs);
            Assert.True(
                worst <= 3 * accuracy,
                $"{result.Probes[p].Label}: error {worst / accuracy:g3} x accuracy at t = {result.Times[Array.IndexOf(error, error.Max())]:g6}; {result.Evidence}");
        }

        Assert.True(result.Evidence.PowerBalance <= 10 * accuracy, $"power balance {result.Evidence.PowerBalance / accuracy:g3} x accuracy; {result.Evidence}");
        Assert.Equal(RunStatus.Completed, result.Status);
        Assert.Equal(it.Stop, result.Times[^1]);
    }

    // A resonance remembers its errors for Q / pi periods, so they pile up where Q is high, whatever a step is held to; but
    // they fall in proportion to what is asked, and the swing neither grows nor fades by itself.
    [Fact]
    public void Error_of_a_high_resonance_falls_in_proportion()
    {
        var it = Resonance(50, 10);
        var errors = Array.ConvertAll(new[] { 1e-3, 1e-5 }, accuracy =>
        {
            var result = Run(it.Make(), new TransientOptions { Stop = it.Stop, Accuracy = accuracy, UseInitialConditions = true }, it.Signals[0].Probe);
            return result.Times.Zip(result.Values(0), (t, v) => Math.Abs(v - it.Signals[0].Exact(t))).Max() / 20;
        });
        Assert.InRange(errors[0], 0, 20e-3);
        Assert.InRange(errors[0] / errors[1], 30, 300);
    }

    // Straight lines between the samples keep the accuracy too: halfway between any two of them the closed form is as near.
    [Theory]
    [InlineData("RLC, Q = 5", 1e-2)]
    [InlineData("RLC, Q = 5", 1e-4)]
    [InlineData("RC behind a sine", 1e-3)]

    // At tight accuracies steps of order nine are long, and need hundreds of lines.
    [InlineData("RLC, Q = 5", 1e-6)]
    [InlineData("RC charged from zero", 1e-7)]
    [InlineData("RL with a start current", 1e-7)]
    public void Lines_between_samples_stay_within_what_was_asked(string name, double accuracy)
    {
        var it = Cases[name];
        var result = Run(it.Make(), new TransientOptions { Stop = it.Stop, Accuracy = accuracy, UseInitialConditions = it.FromInitial }, it.Signals[0].Probe);
        var (t, v) = (result.Times, result.Values(0));
        var peak = v.Max(Math.Abs);
        for (var k = 1; k < t.Length; k++)
        {
            Assert.InRange(Math.Abs((v[k] + v[k - 1]) / 2 - it.Signals[0].Exact((t[k] + t[k - 1]) / 2)) / peak, 0, 4 * accuracy);
        }
    }

    private static double Ramp(double t) => t <= 0 ? 0 : 1e4 * (t - 1e-3 * (1 - Math.Exp(-t / 1e-3)));

    private static double SineBehindRc(double t)
    {
        var wt = 2 * Math.PI * 200 * 1e-3;
        return 10 / (1 + wt * wt) * (Math.Sin(2 * Math.PI * 200 * t) - wt * Math.Cos(2 * Math.PI * 200 * t) + wt * Math.Exp(-t / 1e-3));
    }

    /// <summary>Series circuit of 1 kHz switched onto 10 V, over a number of periods.</summary>
    private static Case Resonance(double q, double periods)
    {
        var w0 = 2 * Math.PI * 1e3;
        const double henries = 10e-3;
        var ohms = w0 * henries / q;
        var farads = 1 / (w0 * w0 * henries);
        var a = w0 / (2 * q);
        var d2 = w0 * w0 - a * a;
        var d = Math.Sqrt(Math.Abs(d2));

        // sin(d t) / d and cos(d t), or the hyperbolic functions when overdamped.
        double Sine(double t) => d2 > 0 ? Math.Sin(d * t) / d : Math.Sinh(d * t) / d;
        double Cosine(double t) => d2 > 0 ? Math.Cos(d * t) : Math.Cosh(d * t);
        return new(
            periods * 1e-3,
            true,
            () => Circuit(
                new VoltageSource("v", "in", "0", 10),
                new Resistor("r", "in", "a", ohms),
                new Inductor("l", "a", "b", henries) { InitialCurrent = 0 },
                new Capacitor("c", "b", "0", farads) { InitialVoltage = 0 }),
            [
                (Probe.Voltage("b"), t => 10 * (1 - Math.Exp(-a * t) * (Cosine(t) + a * Sine(t)))),
                (Probe.Current("l"), t => 10 / henries * Math.Exp(-a * t) * Sine(t)),
            ]);
    }

    private sealed record Case(double Stop, bool FromInitial, Func<Circuit> Make, (Probe Probe, Func<double, double> Exact)[] Signals);
}
