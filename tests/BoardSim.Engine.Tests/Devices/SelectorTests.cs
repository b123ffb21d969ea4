using BoardSim.Engine.Analyses;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Selectors;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Coded switches and the program that reads them.</summary>
public sealed class SelectorTests
{
    // Reflected binary code of four bits, as every handbook has it (F. Gray, US patent 2 632 058, table; from memory).
    private static readonly int[] Reflected =
    [
        0b0000, 0b0001, 0b0011, 0b0010, 0b0110, 0b0111, 0b0101, 0b0100, 0b1100, 0b1101, 0b1111, 0b1110, 0b1010, 0b1011, 0b1001, 0b1000,
    ];

    [Fact]
    public void Gray_code_is_that_of_the_table() =>
        Assert.Equal(Reflected, Enumerable.Range(0, 16).Select(p => SwitchCode.Gray.Contacts(p)));

    [Theory]
    [InlineData(SwitchCode.Binary)]
    [InlineData(SwitchCode.Gray)]
    public void Position_comes_back_from_the_contacts(SwitchCode code) =>
        Assert.All(Enumerable.Range(0, 16), p => Assert.Equal(p, code.Position(code.Contacts(p))));

    // From 7 to 8 all contacts of a binary switch move, the lowest first: 7, 6, 4, 0, 8. Of a Gray switch one does: 0100, 1100.
    [Theory]
    [InlineData(SwitchCode.Binary, new[] { 7.0, 6, 4, 0, 8 })]
    [InlineData(SwitchCode.Gray, new[] { 4.0, 12 })]
    public void Contacts_move_one_after_the_other(SwitchCode code, double[] passed)
    {
        var turned = new CodedSwitch("s", "c", "a", "b", "d", "e") { Code = code, Position = 7, TurnTo = 8, TurnAt = 10e-3, Skew = 3e-3 };
        var circuit = Circuit(turned, new VoltageSource("v", "c", "0", 1), Load("a"), Load("b"), Load("d"), Load("e"));
        var run = Run(circuit, new TransientOptions { Stop = 40e-3 }, Probe.State("s", "contacts"), Probe.State("s", "position"), Probe.Voltage("e"));
        Assert.Equal(passed, run.Values(0).Aggregate(new List<double>(), (seen, v) => seen.Count > 0 && seen[^1] == v ? seen : [.. seen, v]));
        Assert.Equal([7.0, 8], run.Values(1).Distinct());
        Assert.True(run.At(12.9e-3, 2) < 1e-3 && run.At(13.1e-3, 2) > 0.99);
    }

    // A position counts when it was read as often as is asked for: with a period of 10 ms and three readings, 20 ms after the first.
    [Fact]
    public void Position_counts_after_equal_readings()
    {
        var circuit = Circuit(
            new VoltageSource("v", "s", "0", 5),
            new SelectorScanner("u", "s", "0", "x", "y", "a", "b", "d", "e") { Period = 10e-3, Readings = 3, Settle = 1e-3 },
            new CodedSwitch("s1", "x", "a", "b", "d", "e") { Position = 9 },
            Pull("a"), Pull("b"), Pull("d"), Pull("e"));
        var run = Run(circuit, new TransientOptions { Stop = 50e-3 }, Probe.State("u", "position-1"));
        Assert.Equal(0, run.At(20.9e-3));
        Assert.Equal(9, run.At(21.1e-3));
    }

    private static Resistor Load(string node) => new($"r{node}", node, "0", 1e3);

    private static Resistor Pull(string node) => new($"r{node}", "s", node, 10e3);
}
