using System.Globalization;
using BoardSim.Reports.Results;
using BoardSim.Scenarios;

namespace BoardSim.Reports.Tests.Results;

public class WaveformsCsvTests
{
    [Fact]
    public void Columns_name_condition_point_reference_and_unit()
    {
        var head = WaveformsCsv.Write(SampleRun.Create()).Split('\n')[0];
        Assert.Equal(
            "time,healthy: bulk against primary return (V),healthy: line-current (A),aged: bulk against primary return (V),aged: line-current (A)", head);
    }

    [Fact]
    public void Different_time_steps_meet_on_straight_lines()
    {
        var rows = Rows(Two([0, 1, 2], [0, 10, 30], [0.5, 1.5], [100, 200]));
        Assert.Equal(
            [
                ["0", "0", ""],
                ["0.5", "5", "100"],
                ["1", "10", "150"],
                ["1.5", "20", "200"],
                ["2", "30", ""],
            ],
            rows);
    }

    [Fact]
    public void A_jump_has_two_rows_left_value_first()
    {
        var rows = Rows(Two([0, 1, 1, 2], [0, 0, 5, 5], [0, 2], [0, 4]));
        Assert.Equal(
            [
                ["0", "0", "0"],
                ["1", "0", "2"],
                ["1", "5", "2"],
                ["2", "5", "4"],
            ],
            rows);
    }

    [Fact]
    public void The_table_stays_within_tolerance_of_every_sample()
    {
        var run = SampleRun.Create();
        var times = Sample.Times(40_000, 0.05);
        double[] ringing = [.. times.Select(t => 12 + (3 * Math.Exp(-t / 0.01) * Math.Sin(2 * Math.PI * 2000 * t)))];
        double[] ramp = [.. times.Select(t => 100 * t)];
        run = run with
        {
            Conditions = [run.Conditions[0] with { Waveforms = [new SignalTrace(SampleRun.Bulk, times, ringing), new SignalTrace(SampleRun.Line, times, ramp)] }],
        };
        var rows = Rows(run).Select(row => row.Select(field => double.Parse(field, CultureInfo.InvariantCulture)).ToArray()).ToList();
        Assert.InRange(rows.Count, 500, 20_000);
        var next = 1;
        for (var k = 0; k < times.Length; k++)
        {
            while (next < rows.Count - 1 && rows[next][0] < times[k])
                next++;
            var (a, b) = (rows[next - 1], rows[next]);
            var share = (times[k] - a[0]) / (b[0] - a[0]);
            // Half the run's accuracy of 1e-3, of the peak-to-peak value; the rest is the rounding of printed digits.
            Assert.InRange(a[1] + (share * (b[1] - a[1])) - ringing[k], -5.01e-4 * 6, 5.01e-4 * 6);
            Assert.InRange(a[2] + (share * (b[2] - a[2])) - ramp[k], -5.01e-4 * 5, 5.01e-4 * 5);
        }
    }

    [Fact]
    public void A_straight_line_needs_its_ends_alone()
    {
        var times = Sample.Times(1000, 1);
        Assert.Equal([0, 999], Thinning.Keep(times, [[.. times.Select(t => 3 - (2 * t))]], [1e-9]));
        Assert.Equal([0, 1, 2, 3], Thinning.Keep([0, 1, 1, 2], [[0, 0, 5, 5]], [1e-9]));
        Assert.Equal([0], Thinning.Keep([0], [[7]], [0]));
    }

    [Fact]
    public void Instants_that_differ_by_rounding_alone_share_a_row()
    {
        var rows = Rows(Two([0, 3 * 0.0004, 2], [0, 1, 1], [0, 0.0012, 2], [0, 7, 0]));
        Assert.Equal(["0", "0.0012", "2"], rows.Select(row => row[0]));
        Assert.Equal(7, double.Parse(rows[1][2], CultureInfo.InvariantCulture), 9);
    }

    [Fact]
    public void A_name_with_a_comma_or_quote_is_quoted()
    {
        // RFC 4180, section 2, rules 6 and 7.
        var text = new System.Text.StringBuilder();
        CsvText.Line(text, ["a,b", "say \"x\"", "plain"]);
        Assert.Equal("\"a,b\",\"say \"\"x\"\"\",plain\n", text.ToString());
    }

    private static ScenarioResult Two(double[] times, double[] values, double[] otherTimes, double[] otherValues)
    {
        var run = SampleRun.Create();
        return run with
        {
            Conditions =
            [
                run.Conditions[0] with { Waveforms = [new SignalTrace(SampleRun.Bulk, times, values)] },
                run.Conditions[1] with { Waveforms = [new SignalTrace(SampleRun.Bulk, otherTimes, otherValues)] },
            ],
        };
    }

    private static List<string[]> Rows(ScenarioResult run) =>
        [.. WaveformsCsv.Write(run).TrimEnd('\n').Split('\n').Skip(1).Select(line => line.Split(','))];
}
