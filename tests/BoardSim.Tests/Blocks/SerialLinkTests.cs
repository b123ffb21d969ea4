using BoardSim.Blocks;
using BoardSim.Blocks.SerialLinks;
using BoardSim.Boards;
using BoardSim.Faults;
using BoardSim.Measurement;

namespace BoardSim.Tests.Blocks;

/// <summary>Levels and edges of an open-drain line against closed forms, and what they do to frames.</summary>
public sealed class SerialLinkTests
{
    // Bus specification UM10204, rev. 5, 7.1: V(t) = VDD (1 - exp(-t / RC)), so from 0.3 to 0.7 VDD 0.8473 RC; 10 % to 90 % takes ln 9 = 2.197 RC (closed form).
    [Theory]
    [InlineData(0.3, 0.7, 0.8473)]
    [InlineData(0.1, 0.9, 2.1972)]
    public void Rising_edge_takes_its_multiple_of_the_time_constant(double low, double high, double multiple)
    {
        var run = Bench.Run(Ideal().Build(), accuracy: 1e-5);
        var rising = run.V("line").Slice(1.2e-3, 2e-3);
        var from = rising.Crossings(low * 5).First(c => c.Edge == Edge.Rising).Time;
        var to = rising.Crossings(high * 5).First(c => c.Edge == Edge.Rising && c.Time > from).Time;
        Near.Relative(multiple * 4700 * 1.2e-9, to - from, 2e-3);
    }

    // Divider of pull-up and everything between line and ground: V(OL) = VDD R(on) / (R(on) + R(p)), as UM10204 7.1 has it the other way round: R(p) = (VDD - V(OL)) / I(OL).
    [Fact]
    public void Low_level_is_that_of_the_divider()
    {
        var block = new SerialLink { OnResistance = 200, PinResistance = 100, LoadCurrent = 0, CableResistance = 1e-3, GroundResistance = 1e-3 };
        var run = Bench.Run(block.Build(), accuracy: 1e-5);
        Near.Relative(5.0 * 300 / 5000, run.V("line").Minimum().Value, 1e-3);
    }

    // Ohm's law: 0.8 A through 3 ohm lift the panel by 2.4 V, and the lows it sends with it.
    [Fact]
    public void Load_current_lifts_the_panels_lows()
    {
        var block = new SerialLink();
        var healthy = Bench.Run(block.Build());
        var worn = Bench.Run(block.Build().With(block.Fault("ground-corroded"), 3));
        Near.Relative(2.4, worn.V("panel-ground").At(8.5e-3), 2e-3);

        // The loss of margin is the difference of the two drops, 0.8 A times 2.9 ohm, less what the lifted low takes from the sender's current.
        var lost = healthy.S("margin-low").At(15e-3) - worn.S("margin-low").At(15e-3);
        Assert.InRange(lost, 2.2, 2.32);
    }

    // 121 is 0111 1001: its last bit is sent when the load is on, and is high for the controller: 1111 1001 is 249, with a sound stop bit.
    [Fact]
    public void Frame_under_way_when_the_load_goes_on_is_misread_unnoticed()
    {
        var block = new SerialLink();
        var run = Bench.Run(block.Build().With(block.Fault("ground-corroded"), 3));
        Assert.Equal(249, run.S("last-byte").Values[^1]);
        Assert.Equal(1, run.S("misread-frames").Values[^1]);
        Assert.Equal(1, run.S("unnoticed").Values[^1]);
        Assert.Equal(5, run.S("lost-frames").Values[^1]);

        // Three frames of ten bits and a millisecond each before it, and a microsecond for the edge.
        Assert.InRange(run.S("first-misread").Values[^1], 7.125e-3, 7.126e-3);
    }

    // One bit that has flipped changes the number of ones: what a parity bit is for.
    [Fact]
    public void Parity_bit_tells_of_one_flipped_bit()
    {
        var block = new SerialLink { Parity = ParityBit.Even, LoadOnAt = 8e-3 };
        var run = Bench.Run(block.Build().With(block.Fault("ground-corroded"), 3));
        Assert.Equal(1, run.S("parity-errors").Values[^1]);
        Assert.Equal(0, run.S("unnoticed").Values[^1]);
        Assert.Equal(38, run.S("last-byte").Values[^1]);
    }

    // Time from VOL to VIH is RC ln((VDD - VOL) / (VDD - VIH)); a high bit between lows is read as low where that is longer than half a bit and the tick that a start edge may wait.
    [Theory]
    [InlineData(0.9, 0)]
    [InlineData(1.3, 8)]
    public void Slow_edges_are_misread_from_half_a_bit_on(double partOfLimit, double misread)
    {
        var block = Ideal();
        block.MessageFrames = 8;
        var low = 5.0 * 25.1 / 4725.1;
        var limit = 0.5 / 9600 / (4700 * Math.Log((5 - low) / 1.5));
        block.CableCapacitance = partOfLimit * limit - 0.2e-9;
        Assert.Equal(misread, Bench.Run(block.Build()).S("misread-frames").Values[^1]);
    }

    [Theory]
    [InlineData(SendingBoard.Panel)]
    [InlineData(SendingBoard.Controller)]
    public void Healthy_link_reads_what_is_sent(SendingBoard sender)
    {
        var run = Bench.Run(new SerialLink { Sender = sender }.Build());
        Assert.Equal(8, run.S("frames").Values[^1]);
        Assert.Equal(0, run.S("lost-frames").Maximum().Value);
        Assert.Equal(0, run.S("first-misread").Values[^1]);
        Assert.InRange(run.S("margin-low").Values[^1], 1.2, 1.5);
        Assert.InRange(run.S("margin-high").Values[^1], 1.2, 1.5);
    }

    // Nothing but pull-up and 1.2 nF: no load, next to no resistance in cable and pins, no input current.
    private static SerialLink Ideal() => new()
    {
        LoadCurrent = 0,
        PinResistance = 0.1,
        CableResistance = 1e-3,
        GroundResistance = 1e-3,
        InputResistance = 1e12,
        CableCapacitance = 1e-9,
        PinCapacitance = 0.1e-9,
        MessageFrames = 1,
    };
}
