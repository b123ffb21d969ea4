using BoardSim.Engine.Netlists;

namespace BoardSim.Engine.Tests.Netlists;

/// <summary>Bad netlists: each error names line, column, the offending word and what would be right.</summary>
public class NetlistErrorTests
{
    [Theory]
    [InlineData("R1 1 0 1k\n.foo", 3, 1, ".foo")]
    [InlineData("R1 1 0 1k\n.trn 1u 1m", 3, 1, "did you mean .tran")]
    [InlineData("R1 1 0 1k\n.nodeset V(1)=2", 3, 1, ".ic")]
    [InlineData("R1 1 0", 2, 7, "the resistance in ohms")]
    [InlineData("R1 1 0 2k2", 2, 8, "2.2k")]
    [InlineData("R1 1 0 0", 2, 1, "not zero")]
    [InlineData("R1 1 0 1k TC1=0.001", 2, 11, ".model name R(TC1=")]
    [InlineData("R1 1 0 1k ; comment", 2, 11, "begins with *")]
    [InlineData("R1 1 0 1k $ comment", 2, 11, "begins with *")]
    [InlineData("C1 1 0 -1u", 2, 1, "zero or more")]
    [InlineData("C1 1 0 1u IC", 2, 13, "the value of IC")]
    [InlineData("C1 1 0 1u ID=3", 2, 11, "did you mean IC")]
    [InlineData("L1 1 0 1m 5", 2, 11, "'5' has no place")]
    [InlineData("Y1 1 0 5", 2, 1, "neither a part nor a card")]
    [InlineData("J1 1 2 3 jm", 2, 1, "not supported")]
    [InlineData("Q1 1 2 3 qn\n.model qn NPM(BF=100)", 3, 11, "did you mean NPN")]
    [InlineData("D1 1 0 dx", 2, 8, "no model dx")]
    [InlineData("D1 1 0 qn\n.model qn NPN", 2, 8, "is of type NPN")]
    [InlineData("D1 1 0 dm\n.model dm D(IS=1n CJOO=1p)", 3, 19, "did you mean CJO")]
    [InlineData("D1 1 0 dm\n.model dm D(IS=1n IS=2n)", 3, 19, "twice")]
    [InlineData("D1 1 0 dm IC=0.6\n.model dm D", 2, 11, ".ic")]
    [InlineData("Q1 1 0 0 qm\n.model qm NPN(XTF=2)", 3, 15, "XTF")]
    [InlineData("Q1 1 0 0 qm\n.model qm NPN(RB=100 RBM=10)", 3, 8, "RBM")]
    [InlineData("M1 1 0 0 0 mm\n.model mm NMOS(LEVEL=3)", 3, 16, "LEVEL")]
    [InlineData("M1 1 0 0 0 mm LW=3u\n.model mm NMOS", 2, 15, "LW")]
    [InlineData("V1 1 0 SINE(0 1 50)", 2, 8, "did you mean SIN")]
    [InlineData("V1 1 0 SFFM(0 1 2 3 4)", 2, 8, "SFFM")]
    [InlineData("V1 1 0 PULSE(0)", 2, 8, "PULSE(low high")]
    [InlineData("V1 1 0 SIN(0 1 50 0 0 90)", 2, 23, "one value too many")]
    [InlineData("V1 1 0 PWL(0 1 0 2)", 2, 16, "must increase")]
    [InlineData("V1 1 0 PWL(0 1 2)", 2, 8, "in pairs")]
    [InlineData("E1 1 0 POLY(2) 1 0 2 0 1 1", 2, 8, "POLY")]
    [InlineData("F1 1 0 R1 2\nR1 1 0 5", 2, 8, "voltage source")]
    [InlineData("F1 1 0 VX 2", 2, 8, "no part")]
    [InlineData("L1 1 0 1\nK1 L1 L2 0.9", 3, 7, "L2")]
    [InlineData("L1 1 0 1\nL2 1 0 1\nK1 L1 L2 1.1", 4, 1, "from -1 to 1")]
    [InlineData("S1 1 0 2 0 sm MAYBE\n.model sm SW", 2, 15, "[ON|OFF]")]
    [InlineData("R1 1 0 1\nr1 1 0 1", 3, 1, "already")]
    [InlineData("X1 1 0 amp", 2, 8, "no subcircuit amp")]
    [InlineData("X1 1 0 2 amp\n.subckt amp a b\nR1 a b 1\n.ends", 2, 1, "has 2")]
    [InlineData(".subckt amp a\nR1 a 0 1", 2, 9, "no .ends")]
    [InlineData("R1 1 0 1\n.ends", 3, 1, "without a .subckt")]
    [InlineData(".subckt amp a\n.op\nR1 a 0 1\n.ends", 3, 1, "inside the subcircuit")]
    [InlineData(".subckt amp a\nR1 a 0 zero\n.ends\nR1 1 0 1", 3, 8, "neither a number")]
    [InlineData("+ 5", 2, 1, "continue")]
    [InlineData("R1 1 0 1\n.tran 1u", 3, 9, "the stop time")]
    [InlineData("R1 1 0 1\n.tran 1u 1m 2m", 3, 10, "before the stop")]
    [InlineData("R1 1 0 1\n.tran 0 1m", 3, 7, "positive")]
    [InlineData("V1 1 0 1\n.dc V1 0 5 -1", 3, 12, "does not lead")]
    [InlineData("V1 1 0 1\n.dc V1 0 1 1n", 3, 12, "a slip")]
    [InlineData("V1 1 0 1\n.dc VX 0 5 1", 3, 5, "did you mean V1")]
    [InlineData("R1 1 0 1\n.ac dex 10 1 1k", 3, 5, "dec, oct or lin")]
    [InlineData("R1 1 0 1\n.ac dec 10 0 1k", 3, 12, "must be positive")]
    [InlineData("R1 1 0 1\n.ac dec 1.5 1 1k", 3, 9, "whole number")]
    [InlineData("R1 1 0 1\n.ic V(7)=1", 3, 7, "No part connects to a node 7")]
    [InlineData("R1 1 0 1\n.print tran V(7)", 3, 15, "No part connects to a node 7")]
    [InlineData("R1 1 0 1\n.print tran I(R1)", 3, 15, "0 V in series with R1")]
    [InlineData("R1 1 0 1\n.print tran VDB(1)", 3, 13, "phasor")]
    [InlineData("R1 1 0 1\n.print noise V(1)", 3, 8, "dc|ac|tran")]
    [InlineData("R1 1 0 1\n.options reltol=1e-5", 3, 10, "accuracy")]
    [InlineData("R1 1 0 1\n.options tepm=50", 3, 10, "did you mean TEMP")]
    [InlineData("R1 1 0 1\n.temp 50", 3, 1, ".options temp")]
    public void Each_error_has_its_place_and_its_remedy(string body, int line, int column, string part)
    {
        var fault = Assert.Throws<NetlistException>(() => NetlistReader.Read($"title\n{body}\n.end\n", "board.cir"));
        var finding = Assert.Single(fault.Findings);
        Assert.Contains(part, finding.Message);
        Assert.Equal((line, column), (finding.Line, finding.Column));
        Assert.StartsWith($"board.cir:{line}:{column}: ", fault.Message);
    }

    [Fact]
    public void All_errors_of_a_file_are_reported_at_once_in_the_order_of_their_lines()
    {
        var fault = Assert.Throws<NetlistException>(() => NetlistReader.Read("t\nR1 1 0\n.foo\nV1 1 0 PULS(1 2)\n.model d D(QQ=1 RR=2)\n.end"));
        Assert.Equal([2, 3, 4, 5, 5], fault.Findings.Select(f => f.Line));
    }

    [Fact]
    public void A_missing_end_line_is_told()
    {
        var fault = Assert.Throws<NetlistException>(() => NetlistReader.Read("t\nR1 1 0 1\n"));
        Assert.Contains("cut off", Assert.Single(fault.Findings).Message);
    }

    [Theory]
    [InlineData("")]
    [InlineData("only a title")]
    [InlineData("title\n.end")]
    public void A_netlist_without_parts_is_refused(string text) => Assert.Throws<NetlistException>(() => NetlistReader.Read(text));

    [Fact]
    public void Text_after_the_end_is_refused()
    {
        var fault = Assert.Throws<NetlistException>(() => NetlistReader.Read("t\nR1 1 0 1\n.end\nR2 1 0 1\n"));
        Assert.Equal(4, Assert.Single(fault.Findings).Line);
    }

    [Fact]
    public void Text_that_is_legal_but_probably_not_meant_is_remarked_on()
    {
        var netlist = NetlistReader.Read("t\nV1 gnd 0 PULSE(0 1)\nR1 gnd 0 1M\nC1 gnd 0 1F\nD1 gnd 0 dm OFF\n.model dm D\n.end");
        Assert.Contains(netlist.Remarks, r => r.Line == 2 && r.Message.Contains(".tran"));
        Assert.Contains(netlist.Remarks, r => r.Line == 3 && r.Message.Contains("1MEG"));
        Assert.Contains(netlist.Remarks, r => r.Line == 4 && r.Message.Contains("femto"));
        Assert.Contains(netlist.Remarks, r => r.Line == 5 && r.Message.Contains("OFF"));
        Assert.Contains(netlist.Remarks, r => r.Message.Contains("gnd"));
        Assert.Equal(1e-3, netlist.Circuit.Get<BoardSim.Engine.Devices.Resistor>("R1").Resistance);
    }
}
