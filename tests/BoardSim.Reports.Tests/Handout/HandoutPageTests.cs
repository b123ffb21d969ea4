using System.Net;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using BoardSim.Reports.Handout;
using BoardSim.Scenarios;

namespace BoardSim.Reports.Tests.Handout;

public class HandoutPageTests
{
    private static string Page(ScenarioResult run) =>
        HandoutPage.Write(run, [.. run.Scenario.Figures.Select(spec => (spec, FigureRenderer.Draw(run, spec).ToSvg()))]);

    [Fact]
    public void The_caution_comes_before_the_numbers()
    {
        var page = Page(SampleRun.Create());
        var caution = page.IndexOf("stays charged after unplugging", StringComparison.Ordinal);
        Assert.InRange(caution, 0, page.IndexOf("161.2 V", StringComparison.Ordinal));
        Assert.DoesNotContain("class=\"caution\"", Page(SampleRun.Create(lineSide: false)), StringComparison.Ordinal);
    }

    [Fact]
    public void Readings_metrics_expectations_evidence_and_figures_are_on_the_page()
    {
        var page = Page(SampleRun.Create());
        foreach (var text in (string[])["161.2 V", "141.0 V", "multimeter, DC volts", "bulk and primary return", "40.0 V", "greatest less least value", "it sags", "High ESR of the bulk capacitor, 2 Ω", "Newton iterations", "2.0 × 10⁻¹² A"])
            Assert.Contains(text, WebUtility.HtmlDecode(page), StringComparison.Ordinal);
        Assert.Equal(3, Regex.Count(page, "<img "));
        Assert.Contains("class=\"fails\">NO<", page, StringComparison.Ordinal);
    }

    [Fact]
    public void The_page_needs_nothing_from_elsewhere() =>
        Assert.DoesNotMatch(new Regex("(src|href)=\"(?!data:)", RegexOptions.IgnoreCase), Page(SampleRun.Create()));

    [Fact]
    public void Whatever_a_scenario_says_is_text_and_not_markup()
    {
        const string evil = "<script>alert('x')</script> & \"quoted\"";
        var run = SampleRun.Create(title: evil);
        var page = Page(run with { BlockTitle = evil, Cautions = [evil], Scenario = run.Scenario with { About = evil } });
        Assert.DoesNotContain("<script", page, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("&lt;script&gt;", page, StringComparison.Ordinal);
        Assert.Contains("ageing &lt;shows&gt; as ripple &amp; heat", page, StringComparison.Ordinal);
    }

    [Fact]
    public void The_markup_is_well_formed()
    {
        var page = Page(SampleRun.Create());
        // An HTML page of ours is XML but for the document type and the two kinds of empty element.
        var xml = Regex.Replace(page[page.IndexOf("<html", StringComparison.Ordinal)..], "<(meta|img)([^>]*)>", "<$1$2/>");
        Assert.Equal("html", XDocument.Parse(xml).Root!.Name.LocalName);
    }
}
