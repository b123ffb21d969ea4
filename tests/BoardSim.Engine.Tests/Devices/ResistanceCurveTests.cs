using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Thermistor curves against published tables.</summary>
public sealed class ResistanceCurveTests
{
    private const double Zero = 273.15;

    // Semitec 103AT thermistor, 10 kohm, B25/85 3435 K: resistance table of the data sheet.
    private static readonly (double Celsius, double Ohms)[] Semitec =
    [
        (-50, 329500), (-40, 188500), (-30, 111300), (-20, 67770), (-10, 42470), (0, 27280), (10, 17960), (20, 12090), (25, 10000), (30, 8313),
        (40, 5827), (50, 4160), (60, 3020), (70, 2228), (80, 1668), (85, 1451), (90, 1266), (100, 973.1), (110, 757.6),
    ];

    // Murata NCP15XH103, 10 kohm, B25/50 3380 K: resistance table of the data sheet.
    private static readonly (double Celsius, double Ohms)[] Murata =
    [
        (-40, 195652), (-35, 148171), (-30, 113347), (-25, 87559), (-20, 68237), (-15, 53650), (-10, 42506), (-5, 33892), (0, 27219), (5, 22021),
        (10, 17926), (15, 14674), (20, 12081), (25, 10000), (30, 8315), (35, 6948), (40, 5834), (45, 4917), (50, 4161), (55, 3535), (60, 3014), (65, 2586),
        (70, 2228), (75, 1925), (80, 1669), (85, 1452), (90, 1268), (95, 1110), (100, 974), (105, 858), (110, 758), (115, 672), (120, 596), (125, 531),
    ];

    [Fact]
    public void Two_points_of_the_data_sheet_give_its_beta() =>
        Near(3435, BetaCurve.Through(25 + Zero, 10000, 85 + Zero, 1451).Beta, 2e-4);

    // Error in degC of reading the Semitec table by the beta law alone, computed from the table: what a controller with the simple law shows too much.
    [Theory]
    [InlineData(-40, 4.44)]
    [InlineData(-20, 2.53)]
    [InlineData(0, 1.11)]
    [InlineData(50, -0.43)]
    [InlineData(100, 0.58)]
    public void Beta_law_misreads_the_table_by_known_amounts(double celsius, double error)
    {
        var ohms = Semitec.Single(p => p.Celsius == celsius).Ohms;
        Assert.Equal(error, new BetaCurve(10000, 3435).Temperature(ohms) - Zero - celsius, 0.02);
    }

    // Published table of a 10 kohm, B = 3974 K thermistor, entries cut to whole ohms.
    [Theory]
    [InlineData(-25, 146676)]
    [InlineData(-5, 44424)]
    [InlineData(15, 15881)]
    [InlineData(35, 6488)]
    [InlineData(65, 2066)]
    [InlineData(95, 793)]
    [InlineData(125, 351)]
    public void Beta_law_gives_the_table_that_was_made_with_it(double celsius, double ohms) =>
        Assert.InRange(new BetaCurve(10000, 3974).Resistance(celsius + Zero), ohms - 1, ohms + 1);

    // Steinhart and Hart, Deep-Sea Res. 15 (1968) 497: constants through -20, 25 and 85 degC of the Murata table, worked out with an independent
    // program; the fit then misses the table by 0.09 K at most between -20 and 85 degC, by -0.36 K at -40 degC.
    [Fact]
    public void Three_points_give_the_Steinhart_Hart_constants()
    {
        var curve = SteinhartHartCurve.Through((-20 + Zero, 68237), (25 + Zero, 10000), (85 + Zero, 1452));
        Near(8.72481369e-4, curve.A, 1e-6);
        Near(2.54055568e-4, curve.B, 1e-6);
        Near(1.81228477e-7, curve.C, 1e-6);
        var worst = Murata.Where(p => p.Celsius is >= -20 and <= 85).Max(p => Math.Abs(curve.Temperature(p.Ohms) - Zero - p.Celsius));
        Assert.InRange(worst, 0.07, 0.1);
        Assert.Equal(-0.36, curve.Temperature(195652) - Zero + 40, 0.01);
    }

    // ILX Lightwave LDT-5525 manual, appendix A: 32128, 12262 and 7908 ohm at 0, 20 and 30 degC; the equation must give 19549, 9814 and 3542 ohm back
    // as 10, 25 and 50 degC.
    [Theory]
    [InlineData(19549, 10)]
    [InlineData(9814, 25)]
    [InlineData(3542, 50)]
    public void Steinhart_Hart_reads_between_its_points(double ohms, double celsius)
    {
        var curve = SteinhartHartCurve.Through((Zero, 32128), (20 + Zero, 12262), (30 + Zero, 7908));
        Assert.Equal(celsius, curve.Temperature(ohms) - Zero, 0.02);
    }

    // Vishay NTCLE100E3103, 10 kohm, B25/85 3977 K: constants of the data sheet and resistances computed from them.
    [Theory]
    [InlineData(-40, 332.10e3)]
    [InlineData(0, 32.555e3)]
    [InlineData(25, 10e3)]
    [InlineData(50, 3.605e3)]
    [InlineData(85, 1070.3)]
    [InlineData(125, 338.7)]
    public void Exponential_fit_of_a_maker(double celsius, double ohms)
    {
        var curve = new ExponentialCurve(10e3, -14.6337, 4791.842, -115334, -3.730535e6);
        Assert.Empty(curve.Problems());
        Near(ohms, curve.Resistance(celsius + Zero), 5e-4);

        // The maker's own inverse: 1/T = 3.354016e-3 + 2.569850e-4 l + 2.620131e-6 l^2 + 6.383091e-8 l^3, l = ln(R/R25); it returns within 0.012 K.
        var l = Math.Log(ohms / 10e3);
        var makers = 1 / (3.354016e-3 + l * (2.569850e-4 + l * (2.620131e-6 + l * 6.383091e-8)));
        Assert.Equal(makers, curve.Temperature(ohms), 0.03);
    }

    [Fact]
    public void Every_other_point_of_a_table_predicts_the_ones_between()
    {
        // The table is held to 5 K; every second point left out must come back to within 0.2 %, the table's own rounding included.
        var curve = Table(Murata.Where((_, k) => k % 2 == 0));
        foreach (var (celsius, ohms) in Murata.Where(p => p.Celsius is > -35 and < 115))
        {
            Near(ohms, curve.Resistance(celsius + Zero), 2e-3);
        }
    }

    [Fact]
    public void Table_goes_through_its_points_and_back()
    {
        var curve = Table(Semitec);
        foreach (var (celsius, ohms) in Semitec)
        {
            Near(ohms, curve.Resistance(celsius + Zero), 1e-12);
            Assert.Equal(celsius + Zero, curve.Temperature(ohms), 1e-9);
        }
    }

    // Fritsch and Carlson, SIAM J. Numer. Anal. 17 (1980) 238: the interpolant of monotone data is monotone, however uneven the data.
    [Fact]
    public void Uneven_table_stays_monotone()
    {
        var curve = new TableCurve([(250, 1e6), (260, 9.99e5), (262, 1e4), (300, 9.9e3), (350, 10), (400, 9)]);
        Assert.Empty(curve.Problems());
        var last = double.PositiveInfinity;
        for (var t = 230.0; t < 430; t += 0.05)
        {
            Assert.True(curve.Resistance(t) < last, $"rises at {t} K");
            last = curve.Resistance(t);
        }
    }

    [Fact]
    public void Slope_is_the_derivative_of_the_curve()
    {
        IResistanceCurve[] curves =
        [
            new BetaCurve(10e3, 3435), new SteinhartHartCurve(8.72481369e-4, 2.54055568e-4, 1.81228477e-7), new SteinhartHartCurve(1e-3, 2.5e-4, 0),
            new ExponentialCurve(10e3, -14.6337, 4791.842, -115334, -3.730535e6), Table(Murata),
        ];
        foreach (var curve in curves)
        {
            foreach (var t in new[] { 150.0, 233.3, 299.9, 360.1, 420, 700 })
            {
                var difference = (Math.Log(curve.Resistance(t + 1e-3)) - Math.Log(curve.Resistance(t - 1e-3))) / 2e-3;
                Near(difference, curve.RelativeSlope(t), 1e-6);
                Assert.Equal(t, curve.Temperature(curve.Resistance(t)), 1e-6);
            }
        }
    }

    [Theory]
    [InlineData("of 1 points")]
    [InlineData("stands twice")]
    [InlineData("must go on falling")]
    [InlineData("positive and finite")]
    public void Bad_tables_are_described(string expected)
    {
        (double, double)[] points = expected switch
        {
            "of 1 points" => [(300, 1e4)],
            "stands twice" => [(300, 1e4), (310, 8e3), (310, 7e3)],
            "must go on falling" => [(300, 1e4), (310, 8e3), (320, 9e3), (330, 1e3)],
            _ => [(300, 1e4), (310, -8e3)],
        };
        Assert.Contains(new TableCurve(points).Problems(), p => p.Contains(expected, StringComparison.Ordinal));
    }

    private static TableCurve Table(IEnumerable<(double Celsius, double Ohms)> points) => new(points.Select(p => (p.Celsius + Zero, p.Ohms)));
}
