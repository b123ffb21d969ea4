using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Netlists;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses.Envelopes;

/// <summary>
/// A flyback converter from cold: continuous conduction at first, discontinuous later, with ringing at 0.5, 4 and 27 MHz. The expected
/// values are those of SUNDIALS IDA, a general-purpose solver, at a relative tolerance of 1e-6 (with their uncertainty), for the same equations.
/// </summary>
public sealed class ConverterLeapTests
{
    private const double Period = 15.3846e-6;

    private const string Flyback = """
        * flyback
        VB hv 0 DC 165
        LLK hv x 15u
        LP x d 900u
        LS 0 s 14.0625u
        K1 LP LS 0.9999
        VG g 0 PULSE(0 5 0 50n 50n 4.0u 15.3846u)
        S1 d 0 g 0 swm
        COSS d 0 100p
        D1 d cl dclamp
        RCL cl hv 47k
        CCL cl hv 4.7n
        D2 s o dout
        RSEC s 0 100k
        RESR o co 0.05
        CO co 0 1000u
        RL o 0 24
        .model swm SW(RON=1.5 ROFF=1e6 VT=2.5 VH=0.5)
        .model dclamp D(IS=1e-9 N=1.8 RS=0.1 CJO=20p)
        .model dout D(IS=1e-6 N=1.05 RS=0.02 CJO=300p)
        .tran 100n 5m
        .end
        """;

    [Theory]
    [InlineData(1e-3)]
    [InlineData(1e-2)]
    [InlineData(3e-2)]
    public void Flyback_from_cold_keeps_its_mean_ripple_and_voltages(double accuracy)
    {
        var circuit = NetlistReader.Read(Flyback).Circuit;
        var options = new TransientOptions { Stop = 5e-3, Resolution = 100e-9, Accuracy = accuracy, Leaps = true };
        var result = Transient.Run(new CircuitSystem(circuit), options, [Probe.Voltage("o"), Probe.Voltage("d"), Probe.Voltage("cl", "hv")]);
        var from = 5e-3 - 20 * Period;
        Assert.InRange(Mean(result, 0, from, 5e-3), 12.3898 * (1 - 3 * accuracy) - 0.002, 12.3898 * (1 + 3 * accuracy) + 0.002);
        Assert.InRange(Mean(result, 2, from, 5e-3), 166.78 * (1 - 3 * accuracy) - 0.15, 166.78 * (1 + 3 * accuracy) + 0.15);
        Assert.InRange(Window(result, 1, from, 5e-3).Max(), 339.38 * (1 - 3 * accuracy) - 0.3, 339.38 * (1 + 3 * accuracy) + 0.3);

        // The output's largest value, not the swing alone, is the scale of its error.
        var output = Window(result, 0, from, from + 10 * Period).ToList();
        Assert.InRange(output.Max() - output.Min(), 0.453 - 3 * accuracy * 12.4 - 0.0015, 0.453 + 3 * accuracy * 12.4 + 0.0015);
        Assert.InRange(result.Evidence.PeriodsComputed, 40, 160);
        Assert.InRange(result.Evidence.PeriodsInterpolated, 200, 300);
        Assert.Equal(650, result.Events.Count);
        Assert.Equal(result.Events.OrderBy(e => e.Time), result.Events);
    }

    private static IEnumerable<double> Window(TransientResult result, int probe, double from, double to) =>
        result.Times.Zip(result.Values(probe)).Where(s => s.First >= from && s.First <= to).Select(s => s.Second);

    private static double Mean(TransientResult result, int probe, double from, double to)
    {
        var (t, y) = (result.Times, result.Values(probe));
        var sum = 0.0;
        for (var k = 1; k < t.Length; k++)
        {
            sum += t[k - 1] >= from && t[k] <= to ? (y[k] + y[k - 1]) / 2 * (t[k] - t[k - 1]) : 0;
        }

        return sum / (to - from);
    }
}
