using System.Globalization;
using BoardSim.Engine.Netlists;

namespace BoardSim.Engine.Tests.Netlists;

/// <summary>Circuits with published or closed-form solutions, from netlist text to numbers.</summary>
public class PublishedCircuitTests
{
    // The test set's transistor has Ie = 1e-6 A (exp(Vbe / 0.026 V) - 1), Ic = 0.99 Ie. In the netlist: IS = 0.99e-6, BF = 99, and NF makes
    // NF k T / q = 0.026 V at 27 degC; k/q = 8.617333262e-5 V/K (CODATA 2018). Huge BR and NR leave the collector junction out.
    private static readonly string TransistorModel = string.Create(
        CultureInfo.InvariantCulture, $".model qt NPN(IS=0.99e-6 BF=99 NF={0.026 / (8.617333262e-5 * 300.15):R} BR=1e9 NR=1e9)");

    // Test Set for IVP Solvers, problem "transistor amplifier" (Lioen and de Swart, 1998; circuit of Rentrop, Roche and Steinebach,
    // 1989), reference solution at t = 0.2 s.
    [Theory]
    [InlineData(1e-3, 2e-3)]
    [InlineData(1e-5, 2e-5)]
    public void Two_stage_amplifier_of_the_ivp_test_set(double accuracy, double tolerance)
    {
        double[] published =
        [
            -0.5562145012262709e-2, 0.3006522471903042e1, 0.2849958788608128e1, 0.2926422536206241e1,
            0.2704617865010554e1, 0.2761837778393145e1, 0.4770927631616772e1, 0.1236995868091548e1,
        ];
        var end = End(
            $"""
            amplifier, y(0) = (0, 3, 3, 6, 3, 3, 6, 0)
            VE e 0 SIN(0 0.1 100)
            VB b 0 6
            R0 e 1 1k
            C1 1 2 1u IC=-3
            R1 2 0 9k
            R2 2 b 9k
            Q1 4 2 3 qt
            R3 3 0 9k
            C2 3 0 2u IC=3
            R4 4 b 9k
            C3 4 5 3u IC=3
            R5 5 0 9k
            R6 5 b 9k
            Q2 7 5 6 qt
            R7 6 0 9k
            C4 6 0 4u IC=3
            R8 7 b 9k
            C5 7 8 5u IC=6
            R9 8 0 9k
            {TransistorModel}
            .tran 1m 200m UIC
            .end
            """,
            accuracy);
        for (var k = 0; k < published.Length; k++)
        {
            Assert.Equal(published[k], end($"V({k + 1})"), tolerance);
        }
    }

    // Hairer and Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, p. 377: one-transistor amplifier, started from
    // (0, 3, 3, 6, 0) (start vector from memory). Values by an independent Radau IIA solution to 2e-12.
    [Theory]
    [InlineData("50m", -0.02226514, 3.0687000, 2.8983405, 2.0335337, -2.2691715)]
    [InlineData("200m", -0.02226709, 3.0687089, 2.8983495, 1.4994388, -1.7350566)]
    public void One_transistor_amplifier_of_hairer_and_wanner(string stop, double v1, double v2, double v3, double v4, double v5)
    {
        var end = End(
            $"""
            one stage
            VE e 0 SIN(0 0.4 100)
            VB b 0 6
            R0 e 1 1k
            C1 1 2 1u IC=-3
            R1 2 0 9k
            R2 2 b 9k
            Q1 4 2 3 qt
            R3 3 0 9k
            C2 3 0 2u IC=3
            R4 4 b 9k
            C3 4 5 3u IC=6
            R5 5 0 9k
            {TransistorModel}
            .tran 1m {stop} UIC
            .end
            """,
            1e-6);
        double[] expected = [v1, v2, v3, v4, v5];
        for (var k = 0; k < expected.Length; k++)
        {
            Assert.Equal(expected[k], end($"V({k + 1})"), 1e-5);
        }
    }

    // Banwell and Jayakumar, Electronics Letters 36 (2000) 291: current of a diode behind a resistor by Lambert's W function,
    // evaluated at 300 K (26.85 degC); values computed with 12 digits.
    [Theory]
    [InlineData("1e-14", "1", "5", 4.30745637251e-3)]
    [InlineData("1e-12", "1", "1", 0.483071792424e-3)]
    [InlineData("2.52e-9", "1.752", "5", 4.34953691623e-3)]
    public void Diode_behind_a_resistor_by_lamberts_function(string saturation, string emission, string volts, double amperes)
    {
        var value = End($"t\nV1 a 0 {volts}\nR1 a d 1k\nD1 d 0 dm\n.model dm D(IS={saturation} N={emission} TNOM=26.85)\n.options TEMP=26.85\n.op\n.end", 1e-3);
        Assert.Equal(amperes, -value("I(V1)"), amperes * 2e-9);
    }

    // Common practice, no source: each half of an astable multivibrator lasts about 0.69 R C.
    [Theory]
    [InlineData("UIC", "")]
    [InlineData("", ".ic V(c1)=0.1 V(b1)=0.7 V(c2)=12 V(b2)=-5")]
    public void Astable_multivibrator_keeps_its_customary_period(string uic, string initial)
    {
        var netlist = NetlistReader.Read($"""
            astable, 47 kohm and 10 nF
            VCC vcc 0 12
            RC1 vcc c1 1k
            RC2 vcc c2 1k
            RB1 vcc b1 47k
            RB2 vcc b2 47k
            CA c1 b2 10n
            CB c2 b1 10n{(uic.Length > 0 ? " IC=1" : "")}
            Q1 c1 b1 0 qn
            Q2 c2 b2 0 qn
            .model qn NPN(IS=1e-14 BF=150 BR=4 RB=10 RC=0.5 CJE=20p CJC=8p TF=0.5n)
            .tran 1u 6m {uic}
            {initial}
            .end
            """);
        var table = NetlistRunner.Run(netlist, netlist.Analyses[0]);
        var time = table.Columns[0].Values;
        var collector = table.Columns.Single(c => c.Label == "V(c1)").Values;
        var rises = Enumerable.Range(1, time.Count - 1).Where(k => collector[k - 1] < 6 && collector[k] >= 6 && time[k] > 2e-3).Select(k => time[k]).ToList();
        Assert.True(rises.Count >= 5, $"{rises.Count} rises");
        Assert.Equal(2 * 0.69 * 47e3 * 10e-9, (rises[^1] - rises[0]) / (rises.Count - 1), 0.04 * 650e-6);
    }

    // Ideal transformer: voltages stand as the square root of the inductances, a load is seen with the square of the ratio.
    [Fact]
    public void Perfectly_coupled_windings_are_an_ideal_transformer()
    {
        var netlist = NetlistReader.Read("""
            4:1
            V1 in 0 AC 1
            R1 in a 16
            LP a 0 1600
            LS s 0 100
            K1 LP LS 1
            RL s 0 1
            .ac lin 1 1k 1k
            .print ac VM(a) VM(s) VP(s)
            .end
            """);
        var table = NetlistRunner.Run(netlist, netlist.Analyses[0]);

        // 1 ohm times 16 behind 16 ohm halves the source; the secondary has a quarter of that.
        Assert.Equal(0.5, table.Columns[1].Values[0], 1e-6);
        Assert.Equal(0.125, table.Columns[2].Values[0], 1e-6);
        Assert.Equal(0, table.Columns[3].Values[0], 1e-3);
    }

    // Closed form of a series resonant circuit's step response: 1 - exp(-a t) (cos w t + a/w sin w t), a = R/2L, w = sqrt(1/LC - a^2).
    [Fact]
    public void Resonant_circuit_rings_by_its_closed_form()
    {
        var netlist = NetlistReader.Read("ring\nV1 in 0 1\nR1 in a 20\nL1 a out 1m IC=0\nC1 out 0 1u IC=0\n.tran 1u 500u UIC\n.end");
        var table = NetlistRunner.Run(netlist, netlist.Analyses[0], new NetlistRunOptions { Accuracy = 1e-5 });
        var output = table.Columns.Single(c => c.Label == "V(out)").Values;
        var (a, w) = (1e4, Math.Sqrt(1e9 - 1e8));
        for (var k = 0; k < table.Rows; k++)
        {
            var t = table.Columns[0].Values[k];
            Assert.Equal(1 - Math.Exp(-a * t) * (Math.Cos(w * t) + a / w * Math.Sin(w * t)), output[k], 1e-4);
        }
    }

    // Binary addition is the oracle; TTL's levels, 0.4 V and 2.4 V at the output, are common practice, no source.
    [Theory]
    [InlineData(0, 0)]
    [InlineData(5, 9)]
    [InlineData(15, 1)]
    [InlineData(10, 6)]
    [InlineData(15, 15)]
    public void The_manuals_adder_adds(int a, int b)
    {
        var inputs = Enumerable.Range(0, 4).Select(k => $"VA{k} {2 * k + 1} 0 {3 * (a >> k & 1)}\nVB{k} {2 * k + 2} 0 {3 * (b >> k & 1)}\nRS{k} {9 + k} 0 1K");
        var level = End(
            $"adder\n{Adder.Definitions}\nX1 1 2 3 4 5 6 7 8 9 10 11 12 0 13 99 FOURBIT\nVCC 99 0 5\nRC 13 0 1K\n{string.Join('\n', inputs)}\n.op\n.end",
            1e-3);
        for (var k = 0; k < 5; k++)
        {
            var volts = level($"V({9 + k})");
            Assert.True((a + b >> k & 1) == 1 ? volts > 2.4 : volts < 0.4, $"bit {k} of {a} + {b}: {volts} V");
        }
    }

    private static Func<string, double> End(string text, double accuracy)
    {
        var netlist = NetlistReader.Read(text);
        var table = NetlistRunner.Run(netlist, netlist.Analyses[0], new NetlistRunOptions { Accuracy = accuracy });
        return label => table.Columns.Single(c => c.Label == label).Values[^1];
    }
}
