using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Converters;
using BoardSim.Engine.Numerics;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>
/// A bridge of diodes without junction capacitance. While it blocks, the part of the circuit on its far side hangs on some
/// picosiemens: volts there are decided by what rounding leaves of amperes, and a solver must not ask for more.
/// </summary>
public sealed class FloatingBridgeTests
{
    // Common practice, no source: the bulk capacitor charges to the crest less two diode drops, 325 V less about 2 V and the source resistance's share.
    [Theory]
    [InlineData(1e-3)]
    [InlineData(1e-4)]
    [InlineData(1e-5)]
    public void Line_that_floats_against_the_direct_current_side(double accuracy)
    {
        var model = new DiodeModel { SaturationCurrent = 1e-9, EmissionCoefficient = 1.8 };
        var circuit = Circuit(
            new VoltageSource("line", "l", "neutral", new SineWaveform { Amplitude = 325, Frequency = 50 }),
            new Resistor("rl", "l", "x", 2),
            new Diode("d1", "x", "o", model),
            new Diode("d2", "neutral", "o", model),
            new Diode("d3", "0", "x", model),
            new Diode("d4", "0", "neutral", model),
            new Capacitor("c", "o", "0", 220e-6) { SeriesResistance = 0.3 },
            new Resistor("load", "o", "0", 1600));
        var result = Run(circuit, new TransientOptions { Stop = 0.2, Accuracy = accuracy }, Probe.Voltage("o"), Probe.Current("rl"));
        Assert.Equal(RunStatus.Completed, result.Status);
        Assert.InRange(result.Values(0).Max(), 318, 323);
        Assert.InRange(result.Evidence.PowerBalance, 0, 1e-4);
    }

    public static TheoryData<string, double> Thresholds
    {
        get
        {
            var cases = new TheoryData<string, double>();
            foreach (var method in StageMethod.All.Select(m => m.Name).Append("default"))
            {
                foreach (var accuracy in new[] { 1e-2, 1e-3, 1e-4, 1e-5, 1e-6 })
                {
                    cases.Add(method, accuracy);
                }
            }

            return cases;
        }
    }

    // Four diodes that are a threshold and a slope, nothing with a capacitance but the bulk capacitor, and the line ties to the ground through diodes that block most of the time.
    // While two of them conduct, v' = (A sin wt - 2 Vt - v)/(R C) less the load; the crest is missed by what the load and the charging take through R (2.3 ohm with ESR and slopes):
    // Schade, Analysis of Rectifier Operation, Proc. IRE 31 (1943), fig. 3 (from memory): at wRC = 0.16 and R/RL = 0.0014 the mean is above 0.94 of the crest, the peak above 0.97. The bound above is Kirchhoff's.
    [Theory]
    [MemberData(nameof(Thresholds))]
    public void Four_thresholds_without_any_capacitance(string method, double accuracy)
    {
        const double crest = 325, threshold = 0.8;
        var circuit = Circuit(
            new VoltageSource("line", "l", "neutral", new SineWaveform { Amplitude = crest, Frequency = 50 }),
            new Resistor("rl", "l", "x", 2),
            new Rectifier("d1", "x", "o", threshold, 0.05),
            new Rectifier("d2", "neutral", "o", threshold, 0.05),
            new Rectifier("d3", "0", "x", threshold, 0.05),
            new Rectifier("d4", "0", "neutral", threshold, 0.05),
            new Capacitor("c", "o", "0", 220e-6) { SeriesResistance = 0.3 },
            new Resistor("load", "o", "0", 1600));
        var options = new TransientOptions { Stop = 0.1, Accuracy = accuracy, Method = StageMethod.All.SingleOrDefault(m => m.Name == method) };
        var result = Run(circuit, options, Probe.Voltage("o"), Probe.Current("load"));
        Assert.Equal(RunStatus.Completed, result.Status);
        Assert.InRange(result.Values(0).Max(), 0.97 * (crest - 2 * threshold), (crest - 2 * threshold) * (1 + accuracy));
        Assert.InRange(result.Evidence.PowerBalance, 0, 10 * accuracy);
    }
}
