using BoardSim.Reports.Figures;
using BoardSim.Scenarios;

namespace BoardSim.Reports.Tests.Figures;

public class FigureRendererTests
{
    private static readonly ScenarioResult Run = SampleRun.Create();

    [Fact]
    public void A_waveform_figure_has_a_panel_for_each_observation_with_its_reference()
    {
        var figure = Assert.IsType<Figure>(FigureRenderer.Draw(Run, Run.Scenario.Figures[0]));
        Assert.Equal(["Bulk + against primary return", "Current in the line"], figure.Panels.Select(panel => panel.Heading));
        Assert.Equal(["V", "A"], figure.Panels.Select(panel => panel.Y.Unit));
        Assert.Equal([TraceRole.Healthy, TraceRole.Faulty], figure.Panels[0].Traces.Select(trace => trace.Role));
        Assert.Equal([KeyValuePair.Create("healthy", "10.0 V"), KeyValuePair.Create("aged capacitor", "40.0 V")], figure.Panels[0].CallOuts[0].Values);
        Assert.Contains("LINE SIDE", figure.Footer, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Bulk +", "bulk", "primary return", "Bulk + against primary return")]
    [InlineData("12 V rail", "output", "board ground", "12 V rail (output) against board ground")]
    [InlineData("Against neutral", "bulk", "neutral", "Bulk against neutral")]
    [InlineData("Across the limiter", "limiter", "ac", "Across the limiter against ac")]
    [InlineData("Coil current", "coil", "", "Coil current")]
    public void Headings_name_test_point_and_reference(string label, string point, string reference, string heading) =>
        Assert.Equal(heading, DrawnRun.Heading(SampleRun.Bulk with { Label = label, Point = point, Reference = reference }));

    [Fact]
    public void A_condition_looks_the_same_in_every_figure_of_a_scenario()
    {
        var third = Run.Conditions[1] with { Name = "open", Label = "diode open" };
        var run = Run with { Conditions = [.. Run.Conditions, third] };
        var all = FigureRenderer.Draw(run, run.Scenario.Figures[0] with { Conditions = ["healthy", "aged", "open"] }).ToSvg();
        var some = FigureRenderer.Draw(run, run.Scenario.Figures[0] with { Conditions = ["open"] }).ToSvg();
        Assert.Equal(ColourOf("diode open", all), ColourOf("diode open", some));
        Assert.NotEqual(ColourOf("diode open", all), ColourOf("aged capacitor", all));
        Assert.DoesNotContain("aged capacitor", some, StringComparison.Ordinal);

        static string ColourOf(string label, string svg) =>
            System.Xml.Linq.XDocument.Parse(svg).Descendants().First(element => element.Name.LocalName == "text" && element.Value == label).Attribute("fill")!.Value;
    }

    [Fact]
    public void A_window_of_line_cycles_is_counted_from_the_end()
    {
        var spec = Run.Scenario.Figures[0] with { Window = new WindowSpec(WindowKind.LastLineCycles, Cycles: 2) };
        var figure = Assert.IsType<Figure>(FigureRenderer.Draw(Run, spec));
        // Two cycles of 60 Hz before the end at 60 ms.
        Assert.Equal(0.06 - (2 / 60.0), figure.X.Minimum!.Value, 12);
        Assert.Equal(0.06, figure.X.Maximum);
    }

    [Fact]
    public void A_sweep_is_marked_and_keeps_its_gaps()
    {
        var figure = Assert.IsType<Figure>(FigureRenderer.Draw(Run, Run.Scenario.Figures[1]));
        Assert.True(figure.X.Logarithmic);
        var trace = Assert.Single(figure.Panels[0].Traces);
        Assert.True(trace.Markers);
        Assert.Equal([9, 12.5, double.NaN], trace.Y);
        Assert.Contains("ESR of the bulk capacitor (Ω)", figure.ToSvg(), StringComparison.Ordinal);
    }

    [Fact]
    public void Bars_stand_side_by_side_with_their_values_on_top()
    {
        var svg = FigureRenderer.Draw(Run, Run.Scenario.Figures[2]).ToSvg();
        Assert.Contains(">161.2 V<", svg, StringComparison.Ordinal);
        Assert.Contains(">141.0 V<", svg, StringComparison.Ordinal);
        Assert.Contains(">40.0 V<", svg, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("bulc", FigureKind.Waveforms, "bulk")]
    [InlineData("riple", FigureKind.Sweep, "ripple")]
    [InlineData("riple", FigureKind.Bars, "ripple")]
    public void An_unknown_name_is_an_error_that_lists_what_there_is(string show, FigureKind kind, string known)
    {
        var spec = Run.Scenario.Figures[0] with { Kind = kind, Show = [show], CallOuts = [] };
        var error = Assert.Throws<ReportException>(() => FigureRenderer.Draw(Run, spec));
        Assert.Contains($"'{show}'", error.Message, StringComparison.Ordinal);
        Assert.Contains(known, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_figure_cannot_be_written_outside_its_folder() =>
        Assert.Throws<ReportException>(() => FigureRenderer.Draw(Run, Run.Scenario.Figures[0] with { Id = "../elsewhere" }));

    [Fact]
    public void A_window_outside_what_was_recorded_is_an_error()
    {
        var spec = Run.Scenario.Figures[0] with { Window = new WindowSpec(WindowKind.Times, 1, 2) };
        var error = Assert.Throws<ReportException>(() => FigureRenderer.Draw(Run, spec));
        Assert.Contains("what was recorded", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_run_away_from_the_line_has_no_caution_at_its_foot() =>
        Assert.Empty(FigureRenderer.Draw(SampleRun.Create(lineSide: false), Run.Scenario.Figures[0]).Footer);
}
