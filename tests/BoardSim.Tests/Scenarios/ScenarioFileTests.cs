using BoardSim.Scenarios;

namespace BoardSim.Tests.Scenarios;

public class ScenarioFileTests
{
    [Fact]
    public void A_complete_file_is_read()
    {
        var scenario = ScenarioFile.Parse(Samples.Complete, "folder/dried-out.yaml");

        Assert.Equal("dried-out", scenario.Id);
        Assert.Equal("flyback-output", scenario.Block);
        Assert.Equal(6.0, scenario.Values.Single(v => v.Key == "load.resistance").Value);
        Assert.Equal("one", scenario.Values.Single(v => v.Key == "output.capacitors").Value);
        Assert.Equal(new RunSettings { Start = RunStart.SwitchOn, Stop = 4e-3, RecordFrom = 3e-3 }, scenario.Run);
        Assert.Equal(["healthy", "aged", "open"], scenario.Conditions.Select(c => c.Name));
        Assert.Equal(new FaultSetting("output-esr-high", 0.5, "0.5 ohm"), Assert.Single(scenario.Conditions[1].Faults));

        // 25 degC is 298.15 K (SI Brochure, 9th ed., section 2.3.1).
        Assert.Equal(298.15, (double)Assert.Single(scenario.Conditions[1].Values).Value, 12);
        Assert.Equal(new FaultSetting("output-capacitor-open", null, "present"), Assert.Single(scenario.Conditions[2].Faults));
        Assert.Equal(new WindowSpec(WindowKind.LastSwitchingCycles, Cycles: 10), scenario.Observations[1].Window);
        Assert.Equal(InstrumentKind.MultimeterDc, scenario.Observations[1].Instrument);
        Assert.Equal("input", scenario.Observations[3].Against);
        Assert.Equal("ripple-peak-to-peak", scenario.Metrics[0].Take);
        Assert.Equal(new CallOutSpec(null, "The capacitor's ESR makes this step", 3.9e-3), scenario.Figures[0].CallOuts[1]);
        Assert.Equal(["healthy", "aged", "open"], scenario.Figures[1].Conditions);
    }

    [Fact]
    public void Logarithmic_points_have_equal_ratios_and_exact_ends()
    {
        var points = ScenarioFile.Parse(Samples.Complete, "a.yaml").Sweep!.Points;

        Assert.Equal(4, points.Count);
        Assert.Equal(50e-3, points[0]);
        Assert.Equal(0.8, points[3]);

        // Four points over a ratio of sixteen: each 16^(1/3) = 2.5198421 times the one before.
        Assert.All(Enumerable.Range(1, 3), i => Assert.Equal(2.5198421, points[i] / points[i - 1], 6));
    }

    [Theory]
    [InlineData("load.resistance: 6 ohm", "load.resistence: 6 ohm", "a.yaml:8:3:", "\"load.resistence\"", "did you mean load.resistance?")]
    [InlineData("load.resistance: 6 ohm", "load.resistance: 6", "a.yaml:8:20:", "\"6\" has no unit", "ohm")]
    [InlineData("load.resistance: 6 ohm", "load.resistance: 6                                                                                                     ohm", "a.yaml:8:20:", "too long for a value", "resistance")]
    [InlineData("load.resistance: 6 ohm", "load.resistance: 6 V", "a.yaml:8:20:", "voltage", "resistance")]
    [InlineData("load.resistance: 6 ohm", "load.resistance: nan ohm", "a.yaml:8:20:", "finite", "ohm")]
    [InlineData("load.resistance: 6 ohm", "load.resistance: -6 ohm", "a.yaml:8:20:", "-6 ohm", "between")]
    [InlineData("load.resistance: 6 ohm", "load.resistance: [6]", "a.yaml:8:20:", "single value", "list")]
    [InlineData("load.resistance: 6 ohm", "load.resistance: 6 ohm\n  load.resistance: 7 ohm", "a.yaml:9:3:", "second time", "line 8")]
    [InlineData("output.capacitors: one", "output.capacitors: three", "a.yaml:9:22:", "\"three\"", "two")]
    [InlineData("block: flyback-output", "block: flyback-ouput", "a.yaml:6:8:", "\"flyback-ouput\" is not a block", "did you mean flyback-output?")]
    [InlineData("compute: waveforms", "compute: waves", "a.yaml:11:12:", "\"waves\"", "waveforms")]
    [InlineData("stop: 4 ms", "stop: 0 s", "a.yaml:13:9:", "out of range", "more than 0 s")]
    [InlineData("record-from: 3 ms", "record-from: 5 ms", "a.yaml:14:3:", "after the run has ended", "4 ms")]
    [InlineData("accuracy: 0.001", "accuracy: 1", "a.yaml:15:13:", "out of range", "0.1")]
    [InlineData("output-esr-high: 0.5 ohm", "output-esr-hi: 0.5 ohm", "a.yaml:22:7:", "\"output-esr-hi\" is not a fault", "output-esr-high")]
    [InlineData("output-esr-high: 0.5 ohm", "output-esr-high: 0.5", "a.yaml:22:24:", "no unit", "ohm")]
    [InlineData("output-esr-high: 0.5 ohm", "output-esr-high: 500 ohm", "a.yaml:22:24:", "500 ohm", "100 ohm")]
    [InlineData("output-capacitor-open: present", "output-capacitor-open: 5 ohm", "a.yaml:27:30:", "\"5 ohm\"", "present")]
    [InlineData("output-capacitor-open: present", "output-capacitor-open:", "a.yaml:27:29:", "output-capacitor-open", "present")]
    [InlineData("label: New capacitor", "label: New capacitor\n    faults:\n      clamp-open: present", "a.yaml:19:5:", "healthy", "no faults")]
    [InlineData("  healthy:\n    label: New capacitor\n", "", "a.yaml:16:1:", "no condition is named healthy", "compared with")]
    [InlineData("point: output\n    instrument: oscilloscope", "point: ouput\n    instrument: oscilloscope", "a.yaml:31:12:", "\"ouput\" is not a test point", "output")]
    [InlineData("instrument: oscilloscope", "instrument: osciloscope", "a.yaml:32:17:", "\"osciloscope\"", "did you mean oscilloscope?")]
    [InlineData("current: output-capacitor", "current: output-capacitors", "a.yaml:40:14:", "is not a current", "output-capacitor")]
    [InlineData("against: input", "against: inptu", "a.yaml:44:14:", "\"inptu\" is not a test point or reference", "did you mean input?")]
    [InlineData("take: rms", "take: rmss", "a.yaml:53:11:", "\"rmss\" is not a metric", "rms")]
    [InlineData("of: capacitor", "of: capaciter", "a.yaml:54:9:", "\"capaciter\" is not a observation", "capacitor")]
    [InlineData("over: 3.5 ms to 4 ms", "over: 3.5 to 4 ms", "a.yaml:55:11:", "\"3.5\" has no unit", "ms")]
    [InlineData("over: 3.5 ms to 4 ms", "over: 4 ms to 3 ms", "a.yaml:55:11:", "is empty", "after it starts")]
    [InlineData("over: 3.5 ms to 4 ms", "over: last 2 line cycles", "a.yaml:55:11:", "no line frequency", "give times")]
    [InlineData("over: 3.5 ms to 4 ms", "over: 3.5 ms to 5 ms", "a.yaml:55:11:", "only 3 ms to 4 ms is recorded", "run longer")]
    [InlineData("over: 3.5 ms to 4 ms", "over: last 100 switching cycles", "a.yaml:55:11:", "only 3 ms to 4 ms is recorded", "shorten")]
    [InlineData("over: 3.5 ms to 4 ms", "over: from 4 ms", "a.yaml:55:11:", "only 3 ms to 4 ms is recorded", "shorten")]
    [InlineData("over: 3.5 ms to 4 ms", "over: sometime", "a.yaml:55:11:", "not a stretch of time", "last 2 line cycles")]
    [InlineData("severity-of: output-esr-high", "severity-of: clamp-open", "a.yaml:57:16:", "not a fault with a severity", "output-esr-high")]
    [InlineData("severity-of: output-esr-high", "severity-of: overload", "a.yaml:57:16:", "no condition has the fault overload", "nothing would be swept")]
    [InlineData("from: 50 mohm", "from: 0 ohm", "a.yaml:59:9:", "0 ohm", "between")]
    [InlineData("count: 4", "count: 4\n  conditions: [healthy]", "a.yaml:57:16:", "no condition has the fault", "nothing would be swept")]
    [InlineData("count: 4", "count: 4\n  conditions: [helthy, aged]", "a.yaml:62:16:", "\"helthy\" is not a condition", "did you mean healthy?")]
    [InlineData("severity-of: output-esr-high", "vary: output.temperature", "a.yaml:57:9:", "condition aged sets output.temperature itself", "leave it out")]
    [InlineData("count: 4", "count: 1", "a.yaml:61:10:", "\"1\" is not a whole number", "2 to 1000")]
    [InlineData("record: [ripple, output-dc]", "record: [ripple, output]", "a.yaml:63:20:", "is a waveform and not a number", "meter")]
    [InlineData("that: ripple of aged / ripple of healthy > 3", "that: ripple of agde / ripple of healthy > 3", "a.yaml:65:21:", "\"agde\" is not a condition", "aged")]
    [InlineData("that: ripple of aged / ripple of healthy > 3", "that: ripple of aged / ripple of healthy > 3 V", "a.yaml:65:48:", "3 V", "ratio")]
    [InlineData("that: ripple of aged rises", "that: ripples of aged rises", "a.yaml:67:11:", "\"ripples\"", "did you mean ripple?")]
    [InlineData("that: ripple of aged rises", "that: heating of aged rises", "a.yaml:67:11:", "\"heating\" is not a metric or reading that the sweep records", "ripple, output-dc")]
    [InlineData("at 0.4 ohm >", "at 4 ohm >", "a.yaml:69:29:", "outside the sweep", "50 mohm to 800 mohm")]
    [InlineData("show: [output]", "show: [outpt]", "a.yaml:75:12:", "\"outpt\" is not a observation", "output")]
    [InlineData("kind: bars", "kind: pie", "a.yaml:87:11:", "\"pie\"", "waveforms, response, sweep, bars")]
    [InlineData("title: Output ripple of a dried-out capacitor\n", "", "a.yaml:2:1:", "no \"title\"", "one line")]
    [InlineData("about: >", "abuot: >", "a.yaml:3:1:", "\"abuot\" is not a key of a scenario", "did you mean about?")]
    public void A_slip_is_told_with_its_place_and_what_would_be_right(string right, string wrong, string place, string what, string remedy)
    {
        Assert.Contains(right, Samples.Complete, StringComparison.Ordinal);
        var at = Samples.Complete.IndexOf(right, StringComparison.Ordinal);
        var text = Samples.Complete[..at] + wrong + Samples.Complete[(at + right.Length)..];

        var refused = Assert.Throws<ScenarioException>(() => ScenarioFile.Parse(text, "a.yaml"));

        var finding = refused.Findings.FirstOrDefault(f => f.ToString().StartsWith(place, StringComparison.Ordinal));
        Assert.True(finding is not null, $"nothing at {place}: {refused.Message}");
        Assert.Contains(what, finding.Message, StringComparison.Ordinal);
        Assert.Contains(remedy, finding.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void All_slips_are_told_at_once_in_the_order_of_the_file()
    {
        var text = Samples.Complete
            .Replace("load.resistance: 6 ohm", "load.resistence: 6 ohm", StringComparison.Ordinal)
            .Replace("output-esr-high: 0.5 ohm", "output-esr-high: 0.5", StringComparison.Ordinal)
            .Replace("kind: bars", "kind: pie", StringComparison.Ordinal);

        var refused = Assert.Throws<ScenarioException>(() => ScenarioFile.Parse(text, "a.yaml"));

        Assert.Equal([8, 22, 87], refused.Findings.Select(f => f.Line));
    }

    [Fact]
    public void A_slip_in_one_place_does_not_draw_others_after_it()
    {
        var text = Samples.Complete.Replace("take: ripple-peak-to-peak", "take: ripple", StringComparison.Ordinal);

        var refused = Assert.Throws<ScenarioException>(() => ScenarioFile.Parse(text, "a.yaml"));

        Assert.Equal(49, Assert.Single(refused.Findings).Line);
    }

    [Theory]
    [InlineData("nowhere/a.yaml", "there is no such file")]
    [InlineData(".", "this is a folder")]
    public void A_file_that_cannot_be_opened_is_told(string path, string reason)
    {
        var refused = Assert.Throws<ScenarioException>(() => ScenarioFile.Read(path));

        Assert.Contains(reason, Assert.Single(refused.Findings).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Bytes_that_are_no_text_are_refused()
    {
        var path = Path.GetTempFileName();
        try
        {
            // A lone continuation byte is not legal UTF-8 (RFC 3629, section 3).
            File.WriteAllBytes(path, [(byte)'a', (byte)':', 0x80]);

            var refused = Assert.Throws<ScenarioException>(() => ScenarioFile.Read(path));

            Assert.Contains("UTF-8", Assert.Single(refused.Findings).Message, StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(path);
        }
    }

    // Whatever an author's hand slips to, the answer is a list of findings: pieces of a good file are dropped, doubled and swapped for signs
    // that YAML gives a meaning to. The seed is fixed, so that a failure comes back.
    [Fact]
    public void No_mangled_file_leads_to_anything_but_findings()
    {
        var random = new Random(20250);
        string[] signs = ["", ":", "- ", "[", "]", "{", "}", "#", "\"", "'", "&a ", "*a ", "!t ", "|", ">", "?", "%", "@", "\t", "\n", "  ", "\u0000", "1e999", "of", "at", "within", "\u00b5", "null", "~"];
        var refused = 0;
        for (var round = 0; round < 1500; round++)
        {
            var text = Samples.Complete;
            for (var slip = random.Next(1, 4); slip > 0; slip--)
            {
                var (from, length) = (random.Next(text.Length), random.Next(0, 12));
                text = text[..from] + signs[random.Next(signs.Length)] + text[Math.Min(text.Length, from + length)..];
            }

            try
            {
                ScenarioFile.Parse(text, "a.yaml");
            }
            catch (ScenarioException wrong)
            {
                refused++;
                Assert.All(wrong.Findings, f => Assert.True(f.Message.Length > 10 && f.Line >= 0, f.ToString()));
            }
        }

        Assert.InRange(refused, 750, 1500);
    }
}
