using BoardSim.Quantities;

namespace BoardSim.Tests.Quantities;

public class QuantityTests
{
    public static TheoryData<string, Unit, double> Legal => new()
    {
        // IEC 60062:2016, clause 4: letter code for resistance and capacitance values, examples of its tables.
        { "R47", Unit.Ohm, 0.47 }, { "4R7", Unit.Ohm, 4.7 }, { "470R", Unit.Ohm, 470 }, { "4K7", Unit.Ohm, 4700 },
        { "4k7", Unit.Ohm, 4700 }, { "47K3", Unit.Ohm, 47300 }, { "4M7", Unit.Ohm, 4.7e6 }, { "R10", Unit.Ohm, 0.1 },
        { "1K0", Unit.Ohm, 1000 }, { "2M2", Unit.Ohm, 2.2e6 }, { "4L7", Unit.Ohm, 4.7e-3 }, { "10K", Unit.Ohm, 10e3 },
        { "4n7", Unit.Farad, 4.7e-9 }, { "1µ0", Unit.Farad, 1e-6 }, { "10p", Unit.Farad, 10e-12 }, { "4n7F", Unit.Farad, 4.7e-9 },
        // Common practice, no source: V as decimal point of a zener or a rail.
        { "3V3", Unit.Volt, 3.3 },
        // SI Brochure, 9th edition (2019), table 7 (prefixes) and 5.4.3 (a space before the unit).
        { "0.8 ohm", Unit.Ohm, 0.8 }, { "4.7 kohm", Unit.Ohm, 4700 }, { "4.7 kΩ", Unit.Ohm, 4700 }, { "4.7 k\u2126", Unit.Ohm, 4700 },
        { "2.2 Mohm", Unit.Ohm, 2.2e6 }, { "50 mohm", Unit.Ohm, 0.05 }, { "470uF", Unit.Farad, 470e-6 }, { "470 µF", Unit.Farad, 470e-6 },
        { "470 \u03BCF", Unit.Farad, 470e-6 }, { "1.5 mH", Unit.Henry, 1.5e-3 }, { "230 V", Unit.Volt, 230 }, { "230\u00A0V", Unit.Volt, 230 },
        { "60 Hz", Unit.Hertz, 60 }, { "65 kHz", Unit.Hertz, 65e3 }, { ".5 V", Unit.Volt, 0.5 }, { "5. V", Unit.Volt, 5 }, { "+5 V", Unit.Volt, 5 }, { "5V", Unit.Volt, 5 }, { "-4k7", Unit.Ohm, -4700 }, { "-5 V", Unit.Volt, -5 }, { "\u22125 V", Unit.Volt, -5 },
        { "1e-3 A", Unit.Ampere, 1e-3 }, { "2.5E3 V", Unit.Volt, 2500 }, { "1e3 mV", Unit.Volt, 1 }, { "20 ms", Unit.Second, 0.02 },
        // SI Brochure, 9th edition, table 8: 1 min = 60 s, 1 h = 3600 s; 2.3.1: t/degC = T/K - 273.15.
        { "2 min", Unit.Second, 120 }, { "1 h", Unit.Second, 3600 }, { "40 degC", Unit.Temperature, 313.15 }, { "40 °C", Unit.Temperature, 313.15 },
        { "-40 ℃", Unit.Temperature, 233.15 }, { "300 K", Unit.Temperature, 300 }, { "3977 K", Unit.Kelvin, 3977 },
        // SI Brochure, 9th edition, 5.4.7: 1 % = 0.01.
        { "10 %", Unit.Percent, 0.1 }, { "10%", Unit.Ratio, 0.1 }, { "0.8", Unit.Ratio, 0.8 }, { "100 ppm", Unit.Ratio, 1e-4 },
        { "3.7 A²s", Unit.AmpereSquaredSecond, 3.7 }, { "3.7 A2s", Unit.AmpereSquaredSecond, 3.7 }, { "0.5 V/us", Unit.VoltPerSecond, 5e5 },
        { "2 kV/µs", Unit.VoltPerSecond, 2e9 }, { "7 mW/K", Unit.WattPerKelvin, 7e-3 }, { "0.393 %/K", Unit.PerKelvin, 3.93e-3 }, { "30 deg", Unit.Degree, 30 },
    };

    [Theory]
    [MemberData(nameof(Legal))]
    public void Reads_what_people_write(string text, Unit unit, double si)
    {
        Assert.True(Quantity.TryParse(text, unit, out var value, out var problem), problem);
        Assert.Equal(si, value, 1e-12 * Math.Abs(si));
        Assert.Equal("", problem);
    }

    public static TheoryData<string?, Unit, string> Illegal => new()
    {
        { null, Unit.Ohm, "Nothing is given" },
        { "  ", Unit.Ohm, "Nothing is given" },
        { "470", Unit.Ohm, "no unit" },
        { "470 u", Unit.Farad, "prefix but no unit (470 uF?)" },
        { "4.7k", Unit.Ohm, "prefix but no unit" },
        { "10 V", Unit.Ohm, "is a voltage, not a resistance" },
        { "10 K", Unit.Ohm, "temperature" },
        { "4k7", Unit.Farad, "letter code of a resistance" },
        { "2 cycles", Unit.Second, "\"cycles\", which is not known" },
        { "10 KHz", Unit.Hertz, "(kHz?)" },
        { "10 hz", Unit.Hertz, "(Hz?)" },
        { "10 MF", Unit.Farad, "not known" },
        { "4,7 kohm", Unit.Ohm, "the decimal sign is a point" },
        { "1'000 ohm", Unit.Ohm, "the decimal sign is a point" },
        { "NaN ohm", Unit.Ohm, "not a finite number" },
        { "-Infinity V", Unit.Volt, "not a finite number" },
        { "1e400 V", Unit.Volt, "beyond the range" },
        { "1e-400 V", Unit.Volt, "beyond the range" },
        { "1e99999999999 V", Unit.Volt, "beyond the range" },
        { "ohm", Unit.Ohm, "does not start with a number" },
        { "about 3 V", Unit.Volt, "does not start with a number" },
        { "3 V or so", Unit.Volt, "not known" },
        { "3 V 4 V", Unit.Volt, "not known" },
        { "1.2.3 V", Unit.Volt, "not known" },
        { "4k7K", Unit.Ohm, "not known" },
        { "5 m", Unit.Second, "prefix but no unit" },
        { "-300 degC", Unit.Temperature, "below absolute zero" },
        { "10 degC", Unit.Kelvin, "point on the temperature scale" },
        { "10", Unit.Percent, "no unit" },
        { "10meg", Unit.Ohm, "not known" },
        { new string('1', 101), Unit.Ohm, "too long for a value" },
    };

    [Theory]
    [MemberData(nameof(Illegal))]
    public void Refuses_the_rest_and_says_what_would_be_right(string? text, Unit unit, string part)
    {
        Assert.False(Quantity.TryParse(text, unit, out _, out var problem));
        Assert.Contains(part, problem, StringComparison.Ordinal);
        Assert.Contains(unit.Example, problem, StringComparison.Ordinal);
        Assert.Equal(problem, Assert.Throws<FormatException>(() => Quantity.Parse(text, unit)).Message);
    }

    // Engineering notation: prefixes of the SI Brochure, 9th edition, table 7, mantissa from 1 to below 1000.
    [Theory]
    [InlineData(7.53, "V", "7.53 V")]
    [InlineData(470e-6, "F", "470 uF")]
    [InlineData(0.99996, "V", "1.00 V")]
    [InlineData(999.96, "V", "1.00 kV")]
    [InlineData(0, "V", "0.00 V")]
    [InlineData(-0.0123, "A", "-12.3 mA")]
    [InlineData(4700, "ohm", "4.70 kohm")]
    [InlineData(65000, "Hz", "65.0 kHz")]
    [InlineData(313.15, "degC", "40.0 degC")]
    [InlineData(0.1, "%", "10.0 %")]
    [InlineData(0.66, "", "0.660")]
    [InlineData(3.7, "A2s", "3.70 A2s")]
    [InlineData(3.7e-7, "A2s", "3.70e-7 A2s")]
    [InlineData(2e-15, "F", "2.00 fF")]
    [InlineData(2.849e-69, "A", "0.00 A")]
    [InlineData(-1.752e-71, "J", "0.00 J")]
    [InlineData(double.PositiveInfinity, "ohm", "infinite ohm")]
    public void Writes_with_engineering_prefix(double si, string unit, string text) =>
        Assert.Equal(text, Quantity.Format(si, Unit.Find(unit)!));

    [Theory]
    [InlineData(4700, "ohm", "4.7 kohm")]
    [InlineData(100, "ohm", "100 ohm")]
    [InlineData(0.8, "ohm", "800 mohm")]
    [InlineData(1.0 / 3, "V", "333.333 mV")]
    public void Short_form_drops_trailing_zeros(double si, string unit, string text) =>
        Assert.Equal(text, Quantity.FormatShort(si, Unit.Find(unit)!));

    [Fact]
    public void What_is_written_can_be_read_again()
    {
        foreach (var unit in Unit.All)
        {
            foreach (var si in new[] { 0.0123, 3.45, 678.0 })
            {
                var text = Quantity.FormatShort(si, unit, 15);
                Assert.True(Quantity.TryParse(text, unit, out var back, out var problem), problem);
                Assert.Equal(si, back, 1e-12 * (1 + unit.Offset + si));
            }
        }
    }
}
