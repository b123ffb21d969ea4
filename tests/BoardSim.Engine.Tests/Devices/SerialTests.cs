using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Serial;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Asynchronous sender and receiver against the form of a frame and the tolerance of clocks.</summary>
public sealed class SerialTests
{
    // ISO 1177 (from memory): low start bit, data from the least significant bit on, parity, high stop bits. The letters A (41 hex, two ones) and C (43 hex, three ones) of ISO 646.
    [Theory]
    [InlineData(0x41, SerialParity.None, 1, "0100000101")]
    [InlineData(0x41, SerialParity.Even, 1, "01000001001")]
    [InlineData(0x43, SerialParity.Even, 1, "01100001011")]
    [InlineData(0x43, SerialParity.Odd, 2, "011000010011")]
    public void Frame_has_its_bits_in_order(byte value, SerialParity parity, int stops, string bits)
    {
        var frame = new SerialFrame(parity, stops);
        Assert.Equal(bits, string.Concat(Enumerable.Range(0, frame.Bits).Select(k => frame.IsHigh(value, k) ? '1' : '0')));
    }

    [Theory]
    [InlineData(SerialParity.None, 1, 0)]
    [InlineData(SerialParity.None, 2, 0)]
    [InlineData(SerialParity.Even, 1, 0)]
    [InlineData(SerialParity.Odd, 1, 1.3e-4)]
    public void Every_byte_arrives(SerialParity parity, int stops, double gap)
    {
        var run = Send(new SerialFrame(parity, stops), [.. Enumerable.Range(0, 256).Select(k => (byte)k)], 256, gap, 1);
        Assert.Equal([256.0, 256, 0, 0, 0, 0], Ends(run));

        // Each byte stands as the last one when its frame has been read.
        Assert.Equal(Enumerable.Range(0, 256).Select(k => (double)k), run.Values(6).Distinct());
    }

    // Reference manual of a 32-bit controller (Freescale KL27 Sub-Family Reference Manual, rev. 5, 38.5.2.7): with 16 ticks a bit the receiver's 154 ticks to the stop bit may be
    // 147 to 160 of the sender's. Beyond half a bit in nine and a half nothing can be right.
    [Theory]
    [InlineData(16, 154.0 / 147, true)]
    [InlineData(16, 154.0 / 160, true)]
    [InlineData(16, 1.07, false)]
    [InlineData(16, 0.93, false)]
    [InlineData(0, 9.5 / 9.05, true)]
    [InlineData(0, 9.5 / 9.95, true)]
    [InlineData(0, 9.5 / 8.95, false)]
    [InlineData(0, 9.5 / 10.05, false)]
    public void Clocks_may_differ_by_half_a_bit_at_the_stop_bit(int ticks, double ratio, bool isRight)
    {
        // Frames without a gap: what is read too late is the next start bit.
        var run = Send(new SerialFrame(), [0x55, 0xAA, 0x00, 0x7F], 40, 0, ratio, ticks);
        Assert.Equal(isRight, run.Values(4)[^1] == 0 && run.Values(5)[^1] == 0);
    }

    // A line that was low before the run has no edge: nothing is received, and nothing is made up.
    [Fact]
    public void Line_that_is_held_low_starts_nothing()
    {
        var circuit = Link(new SerialFrame(), [0x55], 3, 0, 1, 16);
        circuit.Add(new Resistor("short", "line", "0", 0.1));
        Assert.Equal([3.0, 0, 0, 0, 0, 3], Ends(Run(circuit, new TransientOptions { Stop = 5e-3 }, Probes)));
    }

    // A disturbance shorter than half a bit is no start bit.
    [Fact]
    public void Short_pulse_starts_no_frame()
    {
        var circuit = Link(new SerialFrame(), [0x55], 1, 0, 1, 16);
        circuit.Add(new CurrentSource("disturbance", "line", "0", new PulseWaveform { High = 10e-3, Delay = 0.2e-3, Rise = 1e-7, Fall = 1e-7, Width = 30e-6 }));
        var run = Run(circuit, new TransientOptions { Stop = 3e-3 }, Probes);
        Assert.Equal([1.0, 1, 0, 0, 0, 0], Ends(run));
        Assert.Contains(run.Events, e => e is { Part: "rx", State: "bit-0", Time: < 0.3e-3 });
    }

    private static readonly Probe[] Probes =
    [
        Probe.State("tx", "frames-sent"), Probe.State("rx", "frames"), Probe.State("rx", "framing-errors"), Probe.State("rx", "parity-errors"),
        Probe.State("rx", "misread-frames"), Probe.State("rx", "lost-frames"), Probe.State("rx", "last-byte"),
    ];

    private static double[] Ends(TransientResult run) => [.. Enumerable.Range(0, 6).Select(k => run.Values(k)[^1])];

    private static TransientResult Send(SerialFrame frame, byte[] bytes, int frames, double gap, double ratio, int ticks = 16) =>
        Run(Link(frame, bytes, frames, gap, ratio, ticks), new TransientOptions { Stop = 1e-3 + frames * (frame.Bits / 9600.0 + gap) + 2e-3 }, Probes);

    private static Circuit Link(SerialFrame frame, byte[] bytes, int frames, double gap, double ratio, int ticks) => Circuit(
        new VoltageSource("v", "supply", "0", 5),
        new Resistor("pull", "supply", "line", 2200),
        new Capacitor("c", "line", "0", 200e-12),
        new SerialSender("tx", "line", "0") { Frame = frame, Message = bytes, Frames = frames, Gap = gap },
        new SerialReceiver("rx", "line", "0", "supply", "tx") { Frame = frame, ClockRatio = ratio, Oversampling = ticks });
}
