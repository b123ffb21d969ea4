using BoardSim.Reports.Figures;

namespace BoardSim.Reports.Tests.Figures;

public class AxisTests
{
    // SI Brochure, 9th edition (2019), table 7: milli 1e-3, micro 1e-6, kilo 1e3, mega 1e6; section 5.4.3: a space before the unit.
    [Theory]
    [InlineData(0.0283, "V", "28.3 mV")]
    [InlineData(12.34, "V", "12.3 V")]
    [InlineData(470e-6, "F", "470 µF")]
    [InlineData(65e3, "Hz", "65.0 kHz")]
    [InlineData(4700, "ohm", "4.70 kΩ")]
    [InlineData(-0.5, "A", "−500 mA")]
    [InlineData(0, "V", "0 V")]
    [InlineData(999.96, "V", "1.00 kV")]
    [InlineData(36.6, "degC", "36.6 °C")]
    [InlineData(0.62, "", "0.620")]
    [InlineData(12.3, "A2s", "12.3 A²s")]
    [InlineData(double.NaN, "V", "not defined")]
    public void Values_are_printed_with_prefix_and_unit(double value, string unit, string text) => Assert.Equal(text, Engineering.Format(value, unit));

    [Theory]
    [InlineData("4.70 kohm", "4.70 kΩ")]
    [InlineData("-12.1 mV", "−12.1 mV")]
    [InlineData("35.2 degC", "35.2 °C")]
    [InlineData("470 uF", "470 µF")]
    [InlineData("OL", "OL")]
    [InlineData("no value", "no value")]
    public void Plain_displays_are_printed_with_true_signs(string plain, string printed) => Assert.Equal(printed, Engineering.Print(plain));

    [Theory]
    [InlineData("Damp plug, 20 kohm", "Damp plug, 20 kΩ")]
    [InlineData("Ohmmeter at the plug, 25 degC", "Ohmmeter at the plug, 25 °C")]
    [InlineData("470 uF left of 1000 uF", "470 µF left of 1000 µF")]
    [InlineData("Model 12 ohmic contact, type 3 unit", "Model 12 ohmic contact, type 3 unit")]
    public void Units_inside_a_text_are_printed_with_true_signs(string plain, string printed) => Assert.Equal(printed, Engineering.PrintText(plain));

    [Theory]
    [InlineData(0, 0.1, "Time (ms)")]
    [InlineData(0, 3, "Time (s)")]
    [InlineData(0.0123, 0.01233, "Time after 12.3 ms (µs)")]
    [InlineData(0, 3e-5, "Time (µs)")]
    [InlineData(0.02, 0.02005, "Time after 20 ms (µs)")]
    public void The_time_axis_takes_the_prefix_that_suits_its_length(double from, double to, string label) =>
        Assert.Equal(label, AxisRange.From(FigureAxis.Time, [from, to], vertical: false).Label);

    [Fact]
    public void Linear_ticks_step_by_one_two_or_five_and_cover_the_range()
    {
        foreach (var (low, high) in ((double, double)[])[(0, 1), (-3.7, 12.4), (155, 171), (0.0002, 0.0009), (-1e6, 4e6)])
        {
            var range = new AxisRange(low, high, false, "", "x", false);
            var values = Ticks.For(range, 8).Major.Select(tick => tick.Value).ToList();
            Assert.InRange(values.Count, 3, 9);
            Assert.All(values, value => Assert.InRange(value, low - 1e-9, high + 1e-9));
            var step = values[1] - values[0];
            var mantissa = step / Math.Pow(10, Math.Floor(Math.Log10(step) + 1e-9));
            Assert.Contains(Math.Round(mantissa, 6), (double[])[1, 2, 5]);
        }
    }

    [Fact]
    public void Tick_texts_read_back_to_their_positions()
    {
        var range = new AxisRange(-0.0037, 0.0124, false, "V", "Voltage", false);
        foreach (var (value, text) in Ticks.For(range, 8).Major)
            Assert.Equal(value, double.Parse(text.Replace('−', '-'), System.Globalization.CultureInfo.InvariantCulture) * 1e-3, 12);
    }

    [Fact]
    public void A_logarithmic_axis_has_its_ticks_at_decades()
    {
        var range = new AxisRange(0.01, 1e4, true, "Hz", "Frequency", false);
        var ticks = Ticks.For(range, 9);
        Assert.Equal([0.01, 0.1, 1, 10, 100, 1000, 10000], ticks.Major.Select(tick => tick.Value));
        Assert.Equal(0.5, range.Position(10), 9);
    }

    [Fact]
    public void A_logarithmic_axis_cannot_start_at_zero()
    {
        var error = Assert.Throws<ReportException>(() => AxisRange.From(new FigureAxis("Resistance", "ohm", true, 0, 10), [1, 2], vertical: false));
        Assert.Contains("above zero", error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0, 100, true)]
    [InlineData(5, 100, true)]
    [InlineData(80, 100, false)]
    [InlineData(-100, -5, true)]
    public void Zero_is_shown_when_the_data_come_near_it(double low, double high, bool shown)
    {
        var range = AxisRange.From(new FigureAxis("Voltage", "V"), [low, high], vertical: true);
        Assert.Equal(shown, range.Low <= 0 && range.High >= 0);
        Assert.True(range.Low <= low && range.High >= high);
    }

    [Fact]
    public void A_constant_has_a_range_around_it()
    {
        var range = AxisRange.From(new FigureAxis("Voltage", "V"), [5, 5], vertical: true);
        Assert.True(range.Low < 5 && range.High > 5);
    }
}
