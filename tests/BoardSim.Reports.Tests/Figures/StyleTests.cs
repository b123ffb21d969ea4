using System.Text;
using System.Xml.Linq;
using BoardSim.Measurement;
using BoardSim.Quantities;
using BoardSim.Reports.Figures;
using SkiaSharp;

namespace BoardSim.Reports.Tests.Figures;

public class StyleTests
{
    private static readonly IReadOnlyDictionary<string, TraceStyle> Styles = TraceStyle.Assign(
        Enumerable.Range(0, TraceStyle.Capacity).Select(k => ($"condition {k}", k == 0 ? TraceRole.Healthy : TraceRole.Faulty)));

    [Fact]
    public void Healthy_is_solid_and_every_other_trace_has_a_dash_of_its_own()
    {
        Assert.Empty(Styles["condition 0"].Dash);
        Assert.Equal(Styles.Count, Styles.Values.Select(style => string.Join(' ', style.Dash)).Distinct().Count());
        Assert.Equal(Styles.Count, Styles.Values.Select(style => style.Marker).Distinct().Count());
    }

    [Fact]
    public void Healthy_and_the_first_fault_differ_in_width_and_in_a_grey_copy()
    {
        var (healthy, faulty) = (Styles["condition 0"], Styles["condition 1"]);
        Assert.NotEqual(healthy.Width, faulty.Width);
        // W3C, Web Content Accessibility Guidelines 2.1, criterion 1.4.11 asks for 3:1 of graphics against their ground (white here).
        Assert.True(Contrast(SKColor.Parse(healthy.Hex), SKColors.White) >= 3);
        Assert.True(Contrast(SKColor.Parse(faulty.Hex), SKColors.White) >= 3);
        Assert.True(Pixels.Luminance(SKColor.Parse(faulty.Hex)) - Pixels.Luminance(SKColor.Parse(healthy.Hex)) > 50);
    }

    [Fact]
    public void All_traces_stand_out_from_white() =>
        Assert.All(Styles.Values, style => Assert.True(Contrast(SKColor.Parse(style.Hex), SKColors.White) >= 3, style.Hex));

    [Fact]
    public void One_trace_too_many_is_an_error() =>
        Assert.Throws<ReportException>(() => TraceStyle.Assign(Enumerable.Range(0, TraceStyle.Capacity + 1).Select(k => ($"{k}", TraceRole.Faulty))));

    [Fact]
    public void A_dash_stays_a_dash_in_the_SVG()
    {
        var paths = XDocument.Parse(Sample.Figure().ToSvg()).Descendants().Where(element => element.Name.LocalName == "path").ToList();
        var faulty = paths.Where(path => path.Attribute("stroke")?.Value == Styles["condition 1"].Hex).ToList();
        var healthy = paths.Where(path => path.Attribute("stroke")?.Value == Styles["condition 0"].Hex).ToList();
        Assert.Equal(2, faulty.Count);
        Assert.Equal(2, healthy.Count);
        Assert.All(faulty, path => Assert.NotNull(path.Attribute("stroke-dasharray")));
        Assert.All(healthy, path => Assert.Null(path.Attribute("stroke-dasharray")));
    }

    [Fact]
    public void The_same_figure_gives_the_same_bytes()
    {
        Assert.Equal(Sample.Figure().ToPng(), Sample.Figure().ToPng());
        Assert.Equal(Sample.Figure().ToSvg(), Sample.Figure().ToSvg());
    }

    [Fact]
    public async Task Many_figures_at_once_come_out_as_one_alone()
    {
        var alone = Sample.Figure().ToSvg();
        var together = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => Task.Run(() => Sample.Figure().ToSvg())));
        Assert.All(together, svg => Assert.Equal(alone, svg));
    }

    [Fact]
    public void A_long_trace_stays_small_as_SVG()
    {
        const int points = 100_000;
        var times = Sample.Times(points, 0.2);
        var noise = new Random(7);
        double[] Wild() => [.. times.Select(t => Math.Sin(2 * Math.PI * 1000 * t) + noise.NextDouble())];
        FigurePanel Panel() => new("Rail against board ground", new FigureAxis("Voltage", "V"),
        [
            new FigureTrace("healthy", times, Wild(), TraceRole.Healthy),
            new FigureTrace("faulty", times, Wild(), TraceRole.Faulty),
            new FigureTrace("worse", times, Wild(), TraceRole.Faulty),
        ]);
        var svg = new Figure("Long", FigureAxis.Time, [Panel(), Panel(), Panel()]).ToSvg();
        Assert.InRange(Encoding.UTF8.GetByteCount(svg), 10_000, 300_000);
    }

    [Fact]
    public void A_line_of_many_points_stays_small_as_SVG()
    {
        const int points = 60_000;
        var times = Sample.Times(points, 0.2);
        // Turns often enough to fill every column with four points, too slowly to become a band.
        double[] Slow(double phase) => [.. times.Select(t => Math.Sin((2 * Math.PI * 200 * t) + phase))];
        FigurePanel Panel() => new("Rail against board ground", new FigureAxis("Voltage", "V"),
            [.. Enumerable.Range(0, 4).Select(k => new FigureTrace($"condition {k}", times, Slow(k), k == 0 ? TraceRole.Healthy : TraceRole.Faulty))]);
        var svg = new Figure("Long", FigureAxis.Time, [Panel(), Panel(), Panel()]).ToSvg();
        Assert.InRange(Encoding.UTF8.GetByteCount(svg), 10_000, 300_000);
    }

    [Fact]
    public void Waveforms_of_the_library_are_drawn_in_a_few_lines()
    {
        var healthy = new Waveform("bulk", Unit.Volt, [0, 0.01, 0.02], [160, 165, 160]);
        var faulty = new Waveform("bulk", Unit.Volt, [0, 0.005, 0.02], [120, 165, 120]);
        var folder = Sample.TemporaryFolder();
        try
        {
            Figure.Compare("Aged bulk capacitor", "Bulk + against primary return", healthy, faulty).SavePng(Path.Combine(folder, "bulk.png"));
            using var picture = new Pixels(File.ReadAllBytes(Path.Combine(folder, "bulk.png")));
            Assert.Equal(1600, picture.Width);
            Assert.Equal(900, picture.Height);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void Temperatures_are_drawn_in_degrees_Celsius()
    {
        // ITS-90: the Celsius temperature is the kelvin temperature less 273.15.
        var warm = new Waveform("cabinet", Unit.Temperature, [0, 1], [308.15, 308.15]);
        var figure = Figure.FromWaveforms("Cabinet", "Indicated temperature", [("healthy", warm)]);
        Assert.Equal([35.0, 35.0], figure.Panels[0].Traces[0].Y.Select(y => Math.Round(y, 9)));
        Assert.Contains("Temperature (°C)", figure.ToSvg(), StringComparison.Ordinal);
    }

    [Fact]
    public void Volts_and_amperes_do_not_share_an_axis()
    {
        var error = Assert.Throws<ReportException>(() => Figure.FromWaveforms(
            "Mixed", "", [("a", new Waveform("a", Unit.Volt, [0, 1], [1, 2])), ("b", new Waveform("b", Unit.Ampere, [0, 1], [1, 2]))]));
        Assert.Contains("same unit", error.Message, StringComparison.Ordinal);
    }

    // W3C, Web Content Accessibility Guidelines 2.1: contrast ratio and relative luminance.
    private static double Contrast(SKColor one, SKColor other)
    {
        static double Linear(byte channel)
        {
            var c = channel / 255.0;
            return c <= 0.03928 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4);
        }

        static double Relative(SKColor colour) => (0.2126 * Linear(colour.Red)) + (0.7152 * Linear(colour.Green)) + (0.0722 * Linear(colour.Blue));
        var (a, b) = (Relative(one), Relative(other));
        return (Math.Max(a, b) + 0.05) / (Math.Min(a, b) + 0.05);
    }
}
