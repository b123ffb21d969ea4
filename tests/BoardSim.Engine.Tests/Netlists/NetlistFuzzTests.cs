using BoardSim.Engine.Netlists;

namespace BoardSim.Engine.Tests.Netlists;

/// <summary>Whatever the text, the reader ends with a netlist or with findings that have a place in it; never otherwise.</summary>
public class NetlistFuzzTests
{
    private const string Seed = """
        * supply with most of what a netlist can hold
        VB hv 0 DC 165 AC 1 30 SIN(0 170 60 1m 2)
        VG g 0 PULSE(0 5 0 50n 50n 4.0u 15.3846u)
        I1 0 g EXP(0 1m 1u 2u 5u 3u)
        I2 g 0 PWL(0 0 1m 2m
        + 3m -1m)
        LP hv d 900u IC=0.1
        LS 0 s 14.0625u
        K1 LP LS 0.9999
        S1 d 0 g 0 swm ON
        W1 d s VB wm
        E1 e 0 g 0 2
        F1 e 0 VB 2
        G1 e 0 g 0 2
        H1 h 0 VB 2
        D1 s o dout 2 OFF
        Q1 e g 0 qn 3
        M1 e g 0 0 nm L=5u W=2u
        X1 o h cell
        R1 o 0 24 film
        .subckt cell a b
        C1 a mid 1u IC=2
        R1 mid b 1k
        .ends cell
        .model swm SW(RON=1.5 ROFF=1e6 VT=2.5 VH=0.5)
        .model wm CSW(IT=1m)
        .model dout D(IS=1e-6 N=1.05 RS=0.02 CJO=300p)
        .model qn NPN(IS=1e-14 BF=150)
        .model nm NMOS(VTO=1 KP=1e-4)
        .model film R(TC1=1m)
        .options temp=85
        .op
        .dc VB 0 5 1 I1 0 1m 0.5m
        .ac dec 10 1 1MEG
        .tran 100n 5m 0 1u UIC
        .ic V(o)=5
        .print tran V(o) V(hv,d) I(LP)
        .end
        """;

    private const string Letters = "abRCLKVIEFGHDQMSWX0123456789.+-*()=, \t\n;$eEkKuUmM%_\0\u00b5";

    [Fact]
    public void Mangled_text_gives_findings_and_nothing_else()
    {
        Assert.Equal(4, NetlistReader.Read(Seed).Analyses.Count);
        var random = new Random(20250101);
        var refused = 0;
        var accepted = new List<(string Text, string Written, int Parts)>();
        for (var round = 0; round < 1500; round++)
        {
            var text = Mangle(random);
            try
            {
                var netlist = NetlistReader.Read(text);
                var written = NetlistWriter.Write(netlist.Circuit, netlist.Analyses, netlist.Prints);
                accepted.Add((text, written, netlist.Circuit.Devices.Count));
            }
            catch (NetlistException fault)
            {
                refused++;
                Assert.NotEmpty(fault.Findings);
                var lines = text.Split('\n').Length;
                Assert.All(fault.Findings, f => Assert.InRange(f.Line, 1, lines));
                Assert.All(fault.Findings, f => Assert.True(f.Column >= 1 && f.Message.Length > 10, f.Message));
            }
        }

        // Most slips of this kind must show; a few only change a number or a name.
        Assert.InRange(refused, 500, 1400);
        Assert.All(accepted, a => Assert.Equal(a.Parts, NetlistReader.Read(a.Written).Circuit.Devices.Count));
    }

    private static string Mangle(Random random)
    {
        var text = new System.Text.StringBuilder(Seed);
        for (var k = random.Next(1, 4); k > 0; k--)
        {
            var at = random.Next(text.Length);
            switch (random.Next(5))
            {
                case 0:
                    text[at] = Letters[random.Next(Letters.Length)];
                    break;
                case 1:
                    text.Insert(at, Letters[random.Next(Letters.Length)]);
                    break;
                case 2:
                    text.Remove(at, Math.Min(random.Next(1, 12), text.Length - at));
                    break;
                case 3:
                    text.Length = Math.Max(at, 1);
                    break;
                default:
                    var piece = text.ToString(at, Math.Min(random.Next(1, 40), text.Length - at));
                    text.Insert(random.Next(text.Length), piece);
                    break;
            }
        }

        return text.ToString();
    }
}
