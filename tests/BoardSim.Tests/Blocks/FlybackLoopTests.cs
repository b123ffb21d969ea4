using System.Numerics;
using BoardSim.Blocks.Converters;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices.Converters;
using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Tests.Blocks;

/// <summary>The loop of the flyback supply: its compensation, its gain, its answer to line ripple, and what becomes of it without slope compensation.</summary>
public class FlybackLoopTests
{
    // Reference, R and C from cathode to input, LED fed from the rail: i_led / v_rail = (1 + (R + 1/sC) / R_upper) / (R_led + r), an integrator with its zero at
    // 1 / (2 pi (R_upper + R) C) (Basso, Designing Control Loops for Linear and Switching Power Supplies, chapter on shunt regulators; from memory).
    // The formula has a reference of endless gain; that of half a siemens into a kilohm flattens the integrator below some 50 Hz.
    [Theory]
    [InlineData(100)]
    [InlineData(200)]
    [InlineData(1000)]
    public void Compensation_is_an_integrator_with_a_zero(double frequency)
    {
        var block = new FlybackSupply { LoopSignal = 1 };
        var run = AcAnalysis.Run(new CircuitSystem(block.Build().Circuit), [frequency, 5000], [Probe.Current("R_led"), Probe.Voltage("tap")]);
        Complex Expected(double f) => 1 + (4.7e3 + 1 / (new Complex(0, 2 * Math.PI * f) * 22e-9)) / 38.3e3;
        var found = run.Values(0)[0] / run.Values(1)[0] / (run.Values(0)[1] / run.Values(1)[1]);
        var expected = Expected(frequency) / Expected(5000);
        Assert.Equal(1, (found / expected).Magnitude, 0.03);
        Assert.Equal(0, (found / expected).Phase, 0.05);
    }

    // Loop gain by injection at a point where a source of low impedance drives one of high impedance: T = -v_before / v_behind (Middlebrook, Measurement of
    // loop gain in feedback systems, 1975). Rules of thumb for a supply: a phase margin above 45 degrees, crossover well below a tenth of
    // the switching frequency (common practice, no source).
    [Fact]
    public void Loop_crosses_over_once_with_a_margin()
    {
        double[] frequencies = [.. Enumerable.Range(0, 121).Select(k => 10 * Math.Pow(10, k / 40.0))];
        var run = AcAnalysis.Run(new CircuitSystem(new FlybackSupply { LoopSignal = 1 }.Build().Circuit), frequencies, [Probe.Voltage("rail"), Probe.Voltage("tap")]);
        var gain = run.Values(0).Zip(run.Values(1), (before, behind) => -before / behind).ToArray();
        var over = Enumerable.Range(1, gain.Length - 1).Where(k => gain[k - 1].Magnitude > 1 && gain[k].Magnitude <= 1).ToList();
        var at = Assert.Single(over);
        Assert.InRange(frequencies[at], 300, 6500);
        Assert.InRange(180 + gain[at].Phase * 180 / Math.PI, 45, 120);
        Assert.True(gain[0].Magnitude > 100);
    }

    // Output impedance of a closed loop is that of the open one over 1 + T (Erickson and Maksimovic, Fundamentals of Power Electronics, 2nd
    // edition, equation 9.7). With an integrator in the loop it vanishes towards direct current.
    [Fact]
    public void Output_impedance_falls_with_the_loop_gain()
    {
        var run = AcAnalysis.Run(new CircuitSystem(new FlybackSupply { LoadSignal = 1 }.Build().Circuit), [1, 10], [Probe.Voltage("rail")]);
        var loop = AcAnalysis.Run(new CircuitSystem(new FlybackSupply { LoopSignal = 1 }.Build().Circuit), [1, 10], [Probe.Voltage("rail"), Probe.Voltage("tap")]);
        Complex Open(int k) => run.Values(0)[k] * (1 - loop.Values(0)[k] / loop.Values(1)[k]);

        // Open, the power stage at 1 Hz and 10 Hz is a current source into load and capacitors: about 10 ohm in parallel with 1580 uF and the stage's own resistance.
        Assert.Equal(1, Open(0).Magnitude / Open(1).Magnitude, 0.3);
        Assert.InRange(Open(0).Magnitude, 3, 12);
        Assert.True(run.Values(0)[0].Magnitude < 0.02);
    }

    // Peak-current control without slope compensation is unstable in continuous conduction above half duty: a disturbance grows by D/(1-D) each
    // cycle (Erickson and Maksimovic, 2nd edition, section 12.1).
    [Theory]
    [InlineData(0, true)]
    [InlineData(20e3, false)]
    public void Above_half_duty_only_slope_compensation_keeps_cycles_alike(double slope, bool alternates)
    {
        var block = new FlybackSupply
        {
            Detail = ConverterDetail.Switching,
            InputVoltage = 60,
            PrimaryInductance = 3e-3,
            StartResistance = 5e3,
            VccCapacitance = 4.7e-6,
            SoftStart = 2e-3,
            Slope = slope,
        };
        var system = new CircuitSystem(block.Build().Circuit);
        var controller = system.Circuit.Get<CurrentModeController>("U_control");
        using var run = new TransientRun(system, new TransientOptions { Stop = 25e-3, UseInitialConditions = true });
        var (on, since, times) = (false, 0.0, new List<double>());
        while (run.Advance())
        {
            if (controller.IsGateOn != on)
            {
                on = controller.IsGateOn;
                if (on)
                {
                    since = run.Time;
                }
                else if (run.Time > 24e-3)
                {
                    times.Add(run.Time - since);
                }
            }
        }

        Assert.True(times.Average() * 65e3 > 0.5);
        Assert.Equal(alternates, times.Max() / times.Min() > 1.2);
    }

    // The two details against each other, at the frequency at which a rectified line ripples.
    [Fact]
    public void Details_agree_on_line_ripple()
    {
        var ripple = new List<(double Rail, double Feedback)>();
        foreach (var detail in new[] { ConverterDetail.Averaged, ConverterDetail.Switching })
        {
            var block = new FlybackSupply { Detail = detail, StartResistance = 15e3, VccCapacitance = 4.7e-6, InputRipple = 60, RippleFrequency = 120 };
            var run = Transient.Run(
                new CircuitSystem(block.Build().Circuit),
                new TransientOptions { Stop = 50e-3, Start = 25e-3, UseInitialConditions = true, Resolution = 1e-6 },
                [Probe.Voltage("rail"), Probe.Voltage("feedback", "return")]);
            ripple.Add((AtTwiceTheLine(run, 0), AtTwiceTheLine(run, 1)));
        }

        Assert.Equal(1, ripple[0].Feedback / ripple[1].Feedback, 0.05);
        Assert.Equal(1, ripple[0].Rail / ripple[1].Rail, 0.05);
    }

    /// <summary>Amplitude at 120 Hz over the last two cycles.</summary>
    private static double AtTwiceTheLine(TransientResult run, int probe)
    {
        const int samples = 20_000;
        var wave = new Waveform("wave", Unit.Volt, run.Times, run.Values(probe));
        var sum = Complex.Zero;
        for (var k = 0; k < samples; k++)
        {
            var t = 50e-3 - 2 / 120.0 * (k + 0.5) / samples;
            sum += wave.At(t) * Complex.Exp(new Complex(0, -2 * Math.PI * 120 * t)) * 2 / samples;
        }

        return sum.Magnitude;
    }
}
