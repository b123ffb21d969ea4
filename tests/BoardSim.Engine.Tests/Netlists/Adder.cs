namespace BoardSim.Engine.Tests.Netlists;

/// <summary>Four-bit adder of TTL NAND gates: SPICE3 User's Manual, appendix A (from memory).</summary>
internal static class Adder
{
    public const string Definitions = """
        .SUBCKT NAND 1 2 3 4
        * NODES: INPUT(2), OUTPUT, VCC
        Q1 9 5 1 QMOD
        D1CLAMP 0 1 DMOD
        Q2 9 5 2 QMOD
        D2CLAMP 0 2 DMOD
        RB 4 5 4K
        R1 4 6 1.6K
        Q3 6 9 8 QMOD
        R2 8 0 1K
        RC 4 7 130
        Q4 7 6 10 QMOD
        DVBEDROP 10 3 DMOD
        Q5 3 8 0 QMOD
        .ENDS NAND
        .SUBCKT ONEBIT 1 2 3 4 5 6
        X1 1 2 7 6 NAND
        X2 1 7 8 6 NAND
        X3 2 7 9 6 NAND
        X4 8 9 10 6 NAND
        X5 3 10 11 6 NAND
        X6 3 11 12 6 NAND
        X7 10 11 13 6 NAND
        X8 12 13 4 6 NAND
        X9 11 7 5 6 NAND
        .ENDS ONEBIT
        .SUBCKT TWOBIT 1 2 3 4 5 6 7 8 9
        X1 1 2 7 5 10 9 ONEBIT
        X2 3 4 10 6 8 9 ONEBIT
        .ENDS TWOBIT
        .SUBCKT FOURBIT 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15
        X1 1 2 3 4 9 10 13 16 15 TWOBIT
        X2 5 6 7 8 11 12 16 14 15 TWOBIT
        .ENDS FOURBIT
        .MODEL DMOD D
        .MODEL QMOD NPN(BF=75 RB=100 CJE=1PF CJC=3PF)
        """;
}
