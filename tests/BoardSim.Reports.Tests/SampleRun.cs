using BoardSim.Engine.Analyses;
using BoardSim.Scenarios;

namespace BoardSim.Reports.Tests;

/// <summary>Runs made up for the tests of files and figures: what is in them is not physics, only something to write down.</summary>
internal static class SampleRun
{
    public static readonly SignalInfo Bulk = new()
    {
        Name = "bulk",
        Label = "Bulk +",
        Unit = "V",
        Point = "bulk",
        PointDescription = "positive end of the bulk capacitor",
        Reference = "primary return",
        Instrument = "oscilloscope, 10 Mohm probe",
    };

    public static readonly SignalInfo Line = new()
    {
        Name = "line-current",
        Label = "Current in the line",
        Unit = "A",
        Point = "line",
        PointDescription = "current through the fuse",
        Reference = "",
        Instrument = "computed",
    };

    public static readonly SignalInfo Meter = Bulk with { Name = "bulk-dc", Label = "Bulk, DC volts", Instrument = "multimeter, DC volts", IsReading = true };

    /// <summary>Two conditions on different time steps, with a reading, a metric, an event, a sweep and three figures.</summary>
    public static ScenarioResult Create(bool lineSide = true, double wallSeconds = 0.25, string title = "Aged bulk capacitor")
    {
        var scenario = new Scenario
        {
            Id = "sample",
            Title = title,
            About = "A board for the tests.",
            Block = "sample-block",
            Values = [new ValueSetting("bulk.capacitance", 2.2e-4, "220 uF")],
            Conditions =
            [
                new ConditionSpec { Name = "healthy", Label = "healthy" },
                new ConditionSpec { Name = "aged", Label = "aged capacitor", Faults = [new FaultSetting("bulk-esr-high", 2, "2 ohm")] },
            ],
            Observations = [],
            Metrics = [new MetricSpec { Name = "ripple", Label = "Ripple, peak to peak", Take = "ripple-peak-to-peak", Of = "bulk" }],
            Figures =
            [
                new FigureSpec
                {
                    Id = "waveforms", Title = title, Show = ["bulk", "line-current"], Conditions = ["healthy", "aged"],
                    CallOuts = [new CallOutSpec("ripple", null, null), new CallOutSpec("bulk-dc", null, null), new CallOutSpec(null, "bridge stops conducting", 0.0125)],
                },
                new FigureSpec { Id = "sweep", Kind = FigureKind.Sweep, Title = "Ripple against ESR", Show = ["ripple"], Conditions = ["aged"] },
                new FigureSpec { Id = "bars", Kind = FigureKind.Bars, Title = "Side by side", Show = ["ripple", "bulk-dc"], Conditions = ["healthy", "aged"] },
            ],
        };
        return new ScenarioResult
        {
            Scenario = scenario,
            BlockTitle = "Bridge and bulk capacitor",
            Signals = [Bulk, Line, Meter],
            Conditions =
            [
                Condition("healthy", "healthy", true, [], 0.0004, 10, "161.2 V", 161.2, wallSeconds),
                Condition("aged", "aged capacitor", false, ["High ESR of the bulk capacitor, 2 ohm"], 0.0003, 40, "141.0 V", 141, wallSeconds),
            ],
            Sweep = new SweepResult
            {
                Variable = "bulk.esr",
                Label = "ESR of the bulk capacitor",
                Unit = "ohm",
                Logarithmic = true,
                X = [0.1, 1, 10],
                Series = [new SweepSeries { Condition = "aged", Name = "ripple", Label = "Ripple, peak to peak", Unit = "V", Values = [9, 12.5, double.NaN] }],
                Evidence = Evidence(wallSeconds),
            },
            Expectations =
            [
                new ExpectationResult { Text = "aged.ripple > 2 * healthy.ripple", Why = "ageing <shows> as ripple & heat", Holds = true, Value = 4, Unit = "", Found = "4" },
                new ExpectationResult { Text = "aged.bulk-dc > 150 V", Why = "it sags", Holds = false, Value = double.NaN, Unit = "V", Found = "no value" },
            ],
            Cautions = lineSide ? ["The bulk capacitor stays charged after unplugging.", "The primary return is not earth."] : [],
        };
    }

    private static ConditionResult Condition(
        string name, string label, bool healthy, IReadOnlyList<string> faults, double step, double ripple, string display, double reading, double wallSeconds)
    {
        var times = Enumerable.Range(0, (int)Math.Round(0.06 / step) + 1).Select(k => k * step).ToArray();
        return new ConditionResult
        {
            Name = name,
            Label = label,
            IsHealthy = healthy,
            Faults = faults,
            Waveforms =
            [
                new SignalTrace(Bulk, times, [.. times.Select(t => 165 - (ripple * (t * 120 % 1)))]),
                new SignalTrace(Line, times, [.. times.Select(t => Math.Max(0, Math.Sin(2 * Math.PI * 120 * t) - 0.8) * ripple)]),
            ],
            Readings = [new Reading { Name = "bulk-dc", Label = "Bulk, DC volts", Value = reading, Unit = "V", Display = display, Signal = Meter }],
            Metrics =
            [
                new MetricValue
                {
                    Name = "ripple", Label = "Ripple, peak to peak", Id = "ripple-peak-to-peak", Value = ripple, Unit = "V", Display = $"{ripple:F1} V", Definition = "greatest less least value",
                    Condition = name, Of = "bulk", From = 0, To = 0.06,
                },
            ],
            Evidence = Evidence(wallSeconds),
            Events = [new CircuitEvent(0.0125, "S1", "open")],
            NetlistText = $"* {name}\n.end\n",
            LineFrequency = 60,
            Start = 0,
            Stop = 0.06,
        };
    }

    private static SolverEvidence Evidence(double wallSeconds) => new()
    {
        Points = 1234,
        Rejected = 5,
        NewtonIterations = 2600,
        Factorizations = 2600,
        Events = 1,
        WorstKclResidual = 2e-12,
        PowerBalance = 3e-6,
        SourceEnergy = 1.5,
        Start = "newton",
        WallSeconds = wallSeconds,
    };
}
