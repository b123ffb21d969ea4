using BoardSim.Blocks.Thermistors;

namespace BoardSim.Tests.Blocks;

/// <summary>The analogue-to-digital converter and the program's table.</summary>
public class ConverterTests
{
    // Mid-tread quantiser of the data-converter standards (IEEE 1241; from memory): code k from (k - 1/2) to (k + 1/2) LSB, the first
    // step half as wide; LSB = reference / 2^bits, 4.8828 mV for 5 V and 10 bits.
    [Theory]
    [InlineData(0.0, 0)]
    [InlineData(0.002441, 0)]
    [InlineData(0.002442, 1)]
    [InlineData(0.007324, 1)]
    [InlineData(0.007325, 2)]
    [InlineData(2.5, 512)]
    [InlineData(5.0, 1023)]
    [InlineData(-1.0, 0)]
    [InlineData(9.0, 1023)]
    public void Codes_change_half_way_between_their_values(double volts, int code) => Assert.Equal(code, new Converter(10, 5).Code(volts));

    // IEEE 1241 and any text on quantisation: the error of an ideal converter has an rms value of LSB / sqrt 12, 0.2326 mV for 12 bits
    // over 3.3 V.
    [Fact]
    public void Quantising_noise_is_an_lsb_over_root_twelve()
    {
        var converter = new Converter(12, 3.3);
        const int count = 100_003;
        var sum = 0.0;
        for (var k = 0; k < count; k++)
        {
            var volts = 0.5 + 2.0 * k / count;
            var error = volts - converter.Code(volts) * 3.3 / 4096;
            sum += error * error;
        }

        Near.Relative(0.2326e-3, Math.Sqrt(sum / count), 0.005);
    }

    [Fact]
    public void Converter_refuses_what_no_converter_has()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new Converter(3, 5));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Converter(10, 0));
    }

    // Straight lines between entries and the ends beyond (definition of linear interpolation).
    [Theory]
    [InlineData(100, 280)]
    [InlineData(150, 285)]
    [InlineData(250, 300)]
    [InlineData(99, 280)]
    [InlineData(301, 310)]
    public void Table_interpolates_between_entries_and_holds_its_ends(double code, double kelvin)
    {
        Near.Absolute(kelvin, new LookupTable([100, 200, 300], [280, 290, 310]).Temperature(code), 1e-9);
        Near.Absolute(kelvin, new LookupTable([300, 200, 100], [310, 290, 280]).Temperature(code), 1e-9);
    }

    [Fact]
    public void Table_refuses_codes_out_of_order()
    {
        Assert.Throws<ArgumentException>(() => new LookupTable([100, 100, 300], [280, 290, 310]));
        Assert.Throws<ArgumentException>(() => new LookupTable([100], [280]));
        Assert.Throws<ArgumentException>(() => new LookupTable([100, 200], [280]));
    }

    // ln R is linear in 1/T for a pure beta law, so shifting beta by 100 K multiplies the resistance by exp(100 (1/T - 1/298.15)):
    // 1.03117 at 273.15 K (computed by hand from IEC 60539-1's definition of B).
    [Fact]
    public void Drifted_curve_turns_about_25_degrees_and_inverts()
    {
        var rated = new BoardSim.Engine.Devices.BetaCurve(10e3, 3950);
        var shifted = new DriftedCurve(rated, 1, 100);
        Near.Relative(1, shifted.Resistance(298.15) / rated.Resistance(298.15), 1e-12);
        Near.Relative(1.03117, shifted.Resistance(273.15) / rated.Resistance(273.15), 1e-5);
        var both = new DriftedCurve(rated, 1.3, -400);
        Near.Absolute(310, both.Temperature(both.Resistance(310)), 1e-9);
        Assert.NotEmpty(new DriftedCurve(rated, 1, -5000).Problems());
        Assert.NotEmpty(new DriftedCurve(rated, 0).Problems());
    }
}
