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
    public void Every_sample_of_every_waveform_is_in_the_table()
    {
        var run = SampleRun.Create();
        var rows = Rows(run);
        for (var condition = 0; condition < 2; condition++)
        {
            var trace = run.Conditions[condition].Waveforms[0];
            var table = rows.ToLookup(row => double.Parse(row[0], CultureInfo.InvariantCulture), row => row[1 + (2 * condition)]);
            for (var k = 0; k < trace.Times.Length; k++)
                Assert.Contains(table[Math.Round(trace.Times[k], 12)], text => text.Length > 0 && Math.Abs(double.Parse(text, CultureInfo.InvariantCulture) - trace.Values[k]) < 1e-8);
        }
    }

    [Fact]
    public void Instants_that_differ_by_rounding_alone_share_a_row()
    {
        var rows = Rows(Two([0, 3 * 0.0004, 2], [0, 1, 1], [0, 0.0012, 2], [0, 7, 7]));
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
