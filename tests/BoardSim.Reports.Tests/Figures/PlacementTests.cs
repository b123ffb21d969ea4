using BoardSim.Reports.Figures;
using SkiaSharp;

namespace BoardSim.Reports.Tests.Figures;

public class PlacementTests
{
    private static readonly SKRect Area = new(0, 0, 600, 300);

    [Fact]
    public void A_box_covers_no_trace()
    {
        var placer = new Placer(Area);
        for (var x = 0; x < 600; x += 10)
            placer.Line(x, 150 + (float)(100 * Math.Sin(x / 60.0)), x + 10, 150 + (float)(100 * Math.Sin((x + 10) / 60.0)), 3);
        var place = placer.Place(120, 60, new SKPoint(600, 0));
        Assert.NotNull(place);
        for (var x = 0f; x < 600; x += 0.5f)
            Assert.False(place.Value.Contains(x, 150 + (float)(100 * Math.Sin(x / 60.0))));
    }

    [Fact]
    public void Two_boxes_do_not_cover_each_other()
    {
        var placer = new Placer(Area);
        var one = placer.Place(150, 80, new SKPoint(300, 150))!.Value;
        var two = placer.Place(150, 80, new SKPoint(300, 150))!.Value;
        Assert.False(one.IntersectsWith(two));
    }

    [Fact]
    public void Without_room_there_is_no_place()
    {
        var placer = new Placer(Area);
        for (var y = 0; y <= 300; y += 20)
            placer.Line(0, y, 600, y, 3);
        Assert.Null(placer.Place(120, 60, new SKPoint(300, 150)));
    }

    [Fact]
    public void A_crowded_panel_still_shows_its_numbers()
    {
        var times = Sample.Times(2000, 0.1);
        var panel = new FigurePanel("Rail against board ground", new FigureAxis("Voltage", "V"),
            [new FigureTrace("healthy", times, [.. times.Select(t => 12 * Math.Sin(2 * Math.PI * 400 * t))], TraceRole.Healthy)])
        {
            CallOuts = [new CallOut("Ripple, peak to peak", [KeyValuePair.Create("healthy", "24.0 V")])],
            Limits = [new LimitLine("at most 13 V", 13)],
        };
        var svg = new Figure("Crowded", FigureAxis.Time, [panel]) { Notes = [new FigureNote("starts here", 0.03)] }.ToSvg();
        Assert.Contains(">24.0 V<", svg, StringComparison.Ordinal);
        Assert.Contains(">at most 13 V<", svg, StringComparison.Ordinal);
        Assert.Contains(">starts here<", svg, StringComparison.Ordinal);
    }
}
