using System.Xml.Linq;
using BoardSim.Reports.Figures;

namespace BoardSim.Reports.Tests.Figures;

/// <summary>
/// Labels are really there. The drawing library that is used on Linux has no access to system fonts at all (it is built without
/// fontconfig), so these tests see what a machine without fonts sees.
/// </summary>
public class LabelTests
{
    [Theory]
    [InlineData("µ")]
    [InlineData("Ω")]
    [InlineData("°")]
    [InlineData("²")]
    [InlineData("³")]
    [InlineData("−")]
    [InlineData("≤")]
    [InlineData("≥")]
    [InlineData("·")]
    [InlineData("äöüßéñçø")]
    [InlineData("β")]
    [InlineData("Δ")]
    public void The_font_has_the_signs_of_the_trade(string text) => Assert.True(FigureFont.Covers(text));

    [Fact]
    public void The_licence_of_the_font_travels_with_the_assembly()
    {
        // SIL Open Font License 1.1, condition 2: each copy contains the copyright notice and the licence.
        Assert.Contains("SIL OPEN FONT LICENSE Version 1.1", FigureFont.Licence, StringComparison.Ordinal);
        Assert.Contains("Reserved Font Name Liberation", FigureFont.Licence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_title_darkens_its_region_and_none_leaves_it_white()
    {
        using var with = new Pixels(Sample.Figure("A dried-out bulk capacitor").ToPng());
        using var without = new Pixels(Sample.Figure("").ToPng());
        Assert.True(with.Dark(0, 0, 1600, 62) > 2000);
        // Without a title the legend moves up; its text begins below the first few rows.
        Assert.Equal(0, without.Dark(0, 0, 1600, 10));
        Assert.True(with.Dark(900, 0, 1600, 62) == 0, "the short title must end in the left half");
    }

    [Fact]
    public void Numbers_stand_left_of_and_below_the_axes()
    {
        using var picture = new Pixels(Sample.Figure().ToPng());
        // Between the name of the axis and the axis itself there are only the numbers.
        Assert.True(picture.Dark(72, 200, 126, 780) > 500);
        Assert.True(picture.Dark(130, 778, 1580, 812) > 500);
        Assert.True(picture.Dark(650, 840, 1050, 895) > 300, "the name of the horizontal axis");
    }

    [Fact]
    public void In_an_SVG_every_label_is_text_with_families_to_fall_back_on()
    {
        var texts = XDocument.Parse(Sample.Figure("Aged ≥ 2 Ω", "Bulk + against primary return").ToSvg()).Descendants()
            .Where(element => element.Name.LocalName == "text").ToList();
        var words = texts.Select(text => text.Value).ToList();
        Assert.Contains("Aged ≥ 2 Ω", words);
        Assert.Contains("Bulk + against primary return", words);
        Assert.Contains("healthy", words);
        Assert.Contains("faulty", words);
        Assert.Contains("Voltage (V)", words);
        Assert.Contains("Time (ms)", words);
        Assert.Contains("50", words);
        Assert.All(texts, text => Assert.EndsWith("sans-serif", text.Attribute("font-family")!.Value, StringComparison.Ordinal));
        Assert.All(texts, text => Assert.NotNull(text.Attribute("textLength")));
    }

    [Fact]
    public void A_sign_the_font_lacks_is_an_error_that_names_it()
    {
        var error = Assert.Throws<ReportException>(() => Sample.Figure("看板").ToPng());
        Assert.Contains("看", error.Message, StringComparison.Ordinal);
    }
}
