using BoardSim.Blocks.Sensors;
using BoardSim.Blocks.Thermistors;
using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Faults;

namespace BoardSim.Tests.Blocks;

/// <summary>Several channels on one supply against the network by hand, and converter and table against their closed forms.</summary>
public sealed class SensorInputsTests
{
    // IEEE Std 1241-2010 (from memory): an ideal converter's quantisation noise is Q / sqrt(12), and a full-scale sine stands 6.02 N + 1.76 dB above it.
    [Theory]
    [InlineData(8)]
    [InlineData(10)]
    [InlineData(12)]
    public void Converter_has_the_quantisation_noise_of_its_bits(int bits)
    {
        // A prime number of samples over a number of periods that has no factor with it, so that no phase comes twice.
        const int samples = 65537;
        var converter = new Converter(bits, 1);
        var step = Math.Pow(2, -bits);
        var (noise, signal) = (0.0, 0.0);
        for (var k = 0; k < samples; k++)
        {
            var sine = (0.5 - step) * Math.Sin(2 * Math.PI * 127 * k / samples);
            var error = converter.Code(0.5 + sine) * step - (0.5 + sine);
            (noise, signal) = (noise + error * error, signal + sine * sine);
        }

        Near.Relative(step / Math.Sqrt(12), Math.Sqrt(noise / samples), 0.02);
        Near.Absolute(6.02 * bits + 1.76, 10 * Math.Log10(signal / noise), 0.15);
    }

    // A straight line between table points h apart is off by h^2 / 8 times the second derivative in the middle (any numerical analysis textbook); for codes c(T) = s / (1 + s) of a divider,
    // evenly spaced in temperature, that is h^2 / 8 |c'' / c'| = h^2 / 8 |(1 - 2 s) B / T^2 + 2 / T| with s = R / (R + D).
    [Theory]
    [InlineData(30)]
    [InlineData(59)]
    public void Table_is_off_by_what_straight_lines_leave_out(int entries)
    {
        var spacing = 145.0 / (entries - 1);

        // The middle of the interval that ends at 75 degC: entry 23 of 29 intervals, 46 of 58.
        var kelvin = 348.15 - spacing / 2;
        var resistance = 10e3 * Math.Exp(3950 * (1 / kelvin - 1 / 298.15));
        var s = resistance / (resistance + 10e3);
        var expected = spacing * spacing / 8 * Math.Abs((1 - 2 * s) * 3950 / (kelvin * kelvin) + 2 / kelvin);
        var block = Ideal();
        (block.Temperature1, block.TableEntries) = (kelvin, entries);
        Near.Relative(expected, Math.Abs(State(block.Build(), "error-1")), 0.06);
    }

    // The network by hand: each divider draws V / (D + R), a shorted one V / D, all through the common resistor.
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Common_supply_is_that_of_the_network(bool shorted)
    {
        var block = Ideal();
        block.CommonResistance = 500;
        var board = shorted ? block.Build().With(block.Fault("sensor3-shorted"), 1e-3) : block.Build();
        double[] celsius = [38, 30, 80, 20];
        var conductance = celsius.Select((t, k) => 1 / (10e3 + (shorted && k == 2 ? 0 : 10e3 * Math.Exp(3950 * (1 / (273.15 + t) - 1 / 298.15))))).Sum();
        var solution = OperatingPoint.Solve(new CircuitSystem(board.Circuit));
        Near.Relative(5 / (1 + 500 * conductance), solution.Voltage("sensor-supply"), 1e-4);
    }

    // What is common to numerator and denominator cancels out, whatever is wrong with it.
    [Fact]
    public void Ratiometric_channel_does_not_see_the_common_supply()
    {
        var block = new SensorInputs { ReferenceKind = SensorReference.SensorSupply };
        var worn = block.Build().With(block.Fault("common-resistance-high"), 1000).With(block.Fault("sensor3-shorted"));

        // A step of the converter is 0.1 K, and the smaller current warms the sensors less.
        Assert.All([1, 2, 4], n => Near.Absolute(State(block.Build(), $"indicated-{n}"), State(worn, $"indicated-{n}"), 0.4));
        block.ReferenceKind = SensorReference.Supply;
        worn = block.Build().With(block.Fault("common-resistance-high"), 1000).With(block.Fault("sensor3-shorted"));
        Assert.All([1, 2, 4], n => Assert.True(State(worn, $"error-{n}") > 8));
    }

    // A reference that is e too high makes all ratios e too low: dT = -e s / (ds/dT), with ds/dT = -s (1 - s) B / T^2, so e T^2 / ((1 - s) B).
    [Theory]
    [InlineData(1, 38)]
    [InlineData(3, 80)]
    [InlineData(4, 20)]
    public void Reference_error_counts_by_the_dividers_slope(int channel, double celsius)
    {
        const double error = 2e-3;
        var block = Ideal();
        var kelvin = 273.15 + celsius;
        var resistance = 10e3 * Math.Exp(3950 * (1 / kelvin - 1 / 298.15));
        var s = resistance / (resistance + 10e3);
        var board = block.Build();
        var off = State(board.With(block.Fault("reference-off"), error), $"indicated-{channel}") - State(board, $"indicated-{channel}");

        // The chord of the table is not its tangent: within an interval of 1 K they differ by some per cent.
        Near.Relative(error * kelvin * kelvin / ((1 - s) * 3950), off, 0.03);
    }

    [Theory]
    [InlineData(SensorPosition.ToGround)]
    [InlineData(SensorPosition.ToSupply)]
    public void Healthy_channels_are_right_to_half_a_kelvin(SensorPosition position)
    {
        var board = new SensorInputs { Position = position }.Build();
        Assert.All(Enumerable.Range(1, 4), n => Near.Absolute(0, State(board, $"error-{n}"), 0.6));
    }

    // Next to no self-heating, steps and losses: what is left is the law that is tested.
    private static SensorInputs Ideal() => new()
    {
        Dissipation = 1,
        ConverterBits = 24,
        CommonResistance = 1e-3,
        ContactResistance = 1e-3,
        ConverterInputResistance = 1e12,
        TableEntries = 146,
    };

    private static double State(Board board, string name)
    {
        var state = board.State(name);
        return OperatingPoint.Solve(new CircuitSystem(board.Circuit)).State(state.Part, state.State);
    }
}
