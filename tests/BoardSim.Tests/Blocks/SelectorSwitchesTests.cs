using BoardSim.Blocks.Selectors;
using BoardSim.Boards;
using BoardSim.Engine.Devices.Selectors;
using BoardSim.Faults;

namespace BoardSim.Tests.Blocks;

/// <summary>Positions read against those that the contacts' logic and levels by hand ask for.</summary>
public sealed class SelectorSwitchesTests
{
    [Theory]
    [InlineData(SelectorCode.Binary, EnableDrive.PushPull)]
    [InlineData(SelectorCode.Gray, EnableDrive.OpenDrain)]
    public void Sound_switches_are_read_as_they_are(SelectorCode code, EnableDrive drive) => Assert.All(Enumerable.Range(0, 16), p =>
    {
        var other = (7 * p + 3) % 16;
        Assert.Equal((p, other), Read(new SelectorSwitches { Code = code, Drive = drive, Position1 = p, Position2 = other }));
    });

    // Ghosting of a matrix (common practice, no source): a line pulled low by the second switch pulls the first one's common low through the shorted diode and its closed contact, and that
    // pulls all its other closed contacts' lines low. With an enable that is let go, the second switch is read as both where they share that line, and as itself where they do not.
    [Theory]
    [InlineData(0, 1)]
    [InlineData(1, 2)]
    [InlineData(3, 12)]
    public void Shorted_diode_makes_the_other_switch_appear(int line, int position2) => Assert.All(Enumerable.Range(0, 16), p =>
    {
        var shares = (p >> line & position2 >> line & 1) != 0;
        var block = new SelectorSwitches { Drive = EnableDrive.OpenDrain, Position1 = p, Position2 = position2 };
        Assert.Equal((p, shares ? p | position2 : position2), Read(block, $"diode1{line}-shorted"));
    });

    // An enable that is driven high feeds the other one through the shorted diode: 5 V less 0.72 V of the sound diode over 40 + 100 + 100 + 25 ohm are 16 mA. They lift the second switch's common
    // to 2.0 V, so a line of its own stops at 2.0 + 0.55 V, line 0 at 2.0 + 0.72 V, and one that the first switch has closed at 2.8 + 0.55 V: nothing is low (1.5 V) or high (3.5 V), and each
    // input stays as the first switch left it.
    [Fact]
    public void Driven_enable_leaves_the_lines_between_low_and_high()
    {
        var block = new SelectorSwitches { Position1 = 7, Position2 = 9 };
        Assert.Equal((7, 7), Read(block, "diode10-shorted"));
        var run = Bench.Run(block.Build().With(block.Fault("diode10-shorted")));
        Near.Absolute(2.0, run.V("common2").At(15e-3), 0.15);
        Near.Absolute(2.75, run.V("line0").At(15e-3), 0.15);
        Near.Absolute(3.35, run.V("line1").At(15e-3), 0.15);
        Near.Absolute(2.6, run.V("line3").At(15e-3), 0.15);
    }

    // Shockley's law at 0.35 mA (5 V less 1.5 V over 10 kohm): 1.75 * 25.9 mV * ln(0.35 mA / 2.5 nA) = 0.536 V; what is left to 1.5 V, over 0.35 mA, is 2.75 kohm, 125 ohm of which are
    // the enable's.
    [Theory]
    [InlineData(2500, 8)]
    [InlineData(2750, 0)]
    public void Contact_is_read_up_to_the_resistance_that_the_threshold_allows(double ohms, int expected) =>
        Assert.Equal((expected, 0), Read(new SelectorSwitches { Position1 = 8, Position2 = 0 }, "selector1-contact3-dirty", ohms));

    // An input comes up through pull-up and series resistor: (10 + 1) kohm C ln((5 - 0.66) / (5 - 3.5)) is the time to V(IH), 1.06 of the time constant, and has to be over when the other
    // switch is read.
    [Theory]
    [InlineData(0.9, 0)]
    [InlineData(1.1, 15)]
    public void Slow_line_shows_the_switch_before(double share, int expected)
    {
        var limit = 200e-6 / (11e3 * Math.Log((5 - 0.66) / 1.5));
        Assert.Equal((15, expected), Read(new SelectorSwitches { Position1 = 15, Position2 = 0, InputCapacitance = share * limit }));
    }

    // Between 7 and 8 a binary switch passes 6, 4 and 0; whoever reads then reads something that is none of both. A Gray switch has nothing between them.
    [Theory]
    [InlineData(SelectorCode.Binary, true)]
    [InlineData(SelectorCode.Gray, false)]
    public void Turning_shows_other_positions_in_binary_only(SelectorCode code, bool strays)
    {
        var block = new SelectorSwitches { Code = code, Position1 = 7, TurnTo1 = 8, TurnAt1 = 20.5e-3, Skew = 9e-3, Period = 2e-3 };
        var seen = Bench.Run(block.Build()).S("position-1").Slice(5e-3, 80e-3).Values.ToArray().Distinct().ToList();
        Assert.Contains(7.0, seen);
        Assert.Equal(strays, seen.Any(p => p is not (7 or 8)));
        Assert.Equal(8, seen[^1]);
    }

    // Stuck low, a switch is selected all the time: the lines are low where either has a closed contact (wired AND of active-low lines).
    [Fact]
    public void Stuck_enable_adds_one_switch_to_the_other() =>
        Assert.Equal((5, 5 | 8), Read(new SelectorSwitches { Position1 = 5, Position2 = 8 }, "enable1-stuck-low"));

    [Fact]
    public void Wrong_table_reads_a_binary_switch_as_gray() =>
        Assert.Equal((SwitchCode.Gray.Position(12), SwitchCode.Gray.Position(3)), Read(new SelectorSwitches { Position1 = 12, Position2 = 3 }, "firmware-wrong-table"));

    private static (int First, int Second) Read(SelectorSwitches block, string? fault = null, double? severity = null)
    {
        var board = block.Build();
        var run = Bench.Run(fault is null ? board : board.With(block.Fault(fault), severity));
        return ((int)run.S("position-1").Values[^1], (int)run.S("position-2").Values[^1]);
    }
}
