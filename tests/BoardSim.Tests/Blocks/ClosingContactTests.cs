using BoardSim.Blocks.AcLoads;
using BoardSim.Measurement;

namespace BoardSim.Tests.Blocks;

/// <summary>The spike of a contact that closes onto a motor's windings: a number of the circuit, not of the steps.</summary>
public class ClosingContactTests
{
    // All is at rest, so the first front is the line's voltage over what lies before the two windings' capacitances: contact and lead, and for the winding behind the capacitor its series resistance as well (0.3 % of
    // loss at 60 Hz). Ohm's law; 120 ohm of lead as in the block's doc comment.
    [Theory]
    [InlineData(1e-2)]
    [InlineData(1e-3)]
    [InlineData(1e-4)]
    public void It_is_the_line_over_the_lead_whatever_the_steps(double accuracy)
    {
        var block = new MotorReversal { ForwardOnAt = 16e-3 };
        var run = Bench.Run(block.Build(), 0, 30e-3, accuracy);
        var closed = run.S("forward-closed");
        var k = 0;
        while (closed.Values[k] < 0.5)
        {
            k++;
        }

        var at = closed.Times[k];
        var line = 120 * Math.Sqrt(2) * Math.Sin(2 * Math.PI * 60 * at);
        Assert.True(Math.Abs(line) > 100, $"The contact closes at {at} s, where the line is too low to tell.");

        var series = 0.003 / (2 * Math.PI * 60 * block.Capacitance);
        var front = Math.Abs(line) * (1 / (120 + block.ContactResistance) + 1 / (120 + series + block.ContactResistance));
        Assert.InRange(Math.Abs(run.I("forward-contact").Slice(at - 1e-3, at + 1e-3).Peak().Value), 0.85 * front, 1.02 * front);
    }
}
