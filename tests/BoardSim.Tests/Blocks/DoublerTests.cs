using BoardSim.Blocks.Rectifiers;
using BoardSim.Boards;
using BoardSim.Faults;
using BoardSim.Measurement;

namespace BoardSim.Tests.Blocks;

/// <summary>The doubler: curves and closed form of the handbooks, and what its faults do to the two halves.</summary>
public class DoublerTests
{
    // The curves for the full-wave doubler in O. H. Schade, Analysis of rectifier operation, Proc. IRE 31 (1943) 341 (mean output over the line's peak
    // against wCR with Rs/R as parameter): charts not at hand. The numbers are an independent solution of his circuit: two ideal diodes, fixed Runge-Kutta
    // steps of a thousandth of a cycle and less until the mean repeats to 1e-7.
    [Theory]
    [InlineData(10, 0.01, 1.3431, 11.447)]
    [InlineData(10, 0.05, 1.1772, 10.043)]
    [InlineData(40, 0.01, 1.6548, 3.2752)]
    [InlineData(40, 0.05, 1.2821, 2.6129)]
    [InlineData(100, 0.01, 1.6969, 1.3241)]
    public void Curves_of_the_full_wave_doubler(double omegaCr, double sourceShare, double meanShare, double ripplePercent)
    {
        var (bulk, peak) = Settled(omegaCr, sourceShare, 30);
        Near.Relative(meanShare, bulk.Mean() / peak, 0.005);
        Near.Relative(ripplePercent, 100 * bulk.AcRms() / bulk.Mean(), 0.01);
    }

    // Closed form for a very large capacitor: each half is a half-wave rectifier with half the load's resistance, tan q - q = pi Rs / (R/2), and the two add up
    // to 2 peak cos q (the classic law of capacitor input, from memory): 1.7058 at 1 %, 1.2909 at 5 %.
    [Theory]
    [InlineData(0.01, 1.70581)]
    [InlineData(0.05, 1.29092)]
    public void Very_large_capacitors_give_twice_the_half_wave_limit(double sourceShare, double meanShare)
    {
        var (bulk, peak) = Settled(1500, sourceShare, 200);
        Near.Relative(meanShare, bulk.Mean() / peak, 0.004);
    }

    /// <summary>The block with everything but source resistance, diode and capacitor made small; the peak is that behind the diode's threshold voltage.</summary>
    private static (Waveform Bulk, double Peak) Settled(double omegaCr, double sourceShare, int cycles)
    {
        const double load = 1000;

        // Link of the plug and of the limiter, slope of a diode, the doubler's link, series resistance of a capacitor.
        const double others = 1e-3 + 1e-3 + RectifierModels.LineSlope + 0.01 + 1e-3;
        var board = new BridgeBulk
        {
            Arrangement = RectifierArrangement.Doubler,
            DiodeLaw = DiodeLaw.Threshold,
            LineVoltage = 300,
            LineResistance = sourceShare * load - others,
            LineInductance = 0,
            LinePhase = 0,
            Limiter = InrushLimiter.None,
            BulkCapacitance = omegaCr / (2 * Math.PI * 60 * load),
            BulkEsr = 1e-3,
            BulkLeakage = 1e12,
            YCapacitance = 10e-12,
            Load = BulkLoad.Resistor,
            LoadResistance = load,
        }.Build();
        return (Bench.Run(board, cycles / 60.0, (cycles + 2) / 60.0).V("bulk"), 300 * Math.Sqrt(2) - RectifierModels.LineThreshold);
    }

    private const string Upper = "upper-half";
    private const string Lower = "middle";

    /// <summary>What tells each fault of a half, and between what limits it comes to lie.</summary>
    private static readonly Dictionary<string, Sign> Signs = new()
    {
        // The half that is worn sinks between its pulses, so the middle no longer stands at half.
        ["bulk-capacitance-lost"] = new(0.1, "share of the lower half", (_, r) => r.V(Lower).Mean() / r.V("bulk").Mean(), 0.55, 0.75),
        ["lower-capacitance-lost"] = new(0.1, "share of the lower half", (_, r) => r.V(Lower).Mean() / r.V("bulk").Mean(), 0.25, 0.45),
        ["bulk-esr-high"] = new(40, "upper half's ripple, relative", (h, r) => r.V(Upper).PeakToPeak() / h.V(Upper).PeakToPeak(), 1.5, 50),
        ["lower-esr-high"] = new(40, "lower half's ripple, relative", (h, r) => r.V(Lower).PeakToPeak() / h.V(Lower).PeakToPeak(), 1.5, 50),

        // 160 V over 2 kohm are 80 mA, and half-waves of one sign bring them: direct current in the line.
        ["bulk-leaky"] = new(2e3, "direct current in the line", (h, r) => r.I("line").Mean() - h.I("line").Mean(), 0.06, 0.1),
        ["lower-leaky"] = new(2e3, "direct current in the line", (h, r) => r.I("line").Mean() - h.I("line").Mean(), -0.1, -0.06),

        // The bench has no fuse: half-waves of up to 170 V over half an ohm, 110 A in the mean, in the 50 milliohm that are left.
        ["bulk-shorted"] = new(null, "upper half", (_, r) => r.V(Upper).Mean(), -1, 6),
        ["lower-shorted"] = new(null, "lower half", (_, r) => r.V(Lower).Mean(), -1, 6),

        // From one half alone up to that half and the line's crest.
        ["bulk-open"] = new(null, "swing of the bulk voltage", (_, r) => r.V("bulk").PeakToPeak(), 120, 180),
        ["lower-open"] = new(null, "swing of the bulk voltage", (_, r) => r.V("bulk").PeakToPeak(), 120, 180),
        ["selector-open"] = new(null, "bulk voltage: a single crest", (_, r) => r.V("bulk").Mean(), 150, 170),
    };

    /// <summary>Faults that are run here.</summary>
    internal static IEnumerable<string> FaultsRun => Signs.Keys;

    public static TheoryData<string> HalfFaults => [.. FaultsRun];

    // Limits by the circuit's own logic (common practice, no source); each healthy number lies outside of them.
    [Theory]
    [MemberData(nameof(HalfFaults))]
    public void A_fault_shows_at_the_half_that_has_it(string fault)
    {
        var sign = Signs[fault];
        var block = new BridgeBulk { Arrangement = RectifierArrangement.Doubler, DiodeLaw = DiodeLaw.Threshold };
        var healthy = Bench.Run(block.Build());
        var faulty = Bench.Run(block.Build().With(block.Fault(fault), sign.Severity));
        var (before, after) = (sign.Take(healthy, healthy), sign.Take(healthy, faulty));
        Assert.False(before >= sign.Low && before <= sign.High, $"{sign.What}, healthy: {before}");
        Assert.True(after >= sign.Low && after <= sign.High, $"{sign.What}: {after}");
    }

    private sealed record Sign(double? Severity, string What, Func<Bench, Bench, double> Take, double Low, double High);

    // A half that has run empty is kept from being charged the wrong way round by the diode beside it, whose forward voltage is a volt.
    [Theory]
    [InlineData("bulk-capacitance-lost", Upper)]
    [InlineData("lower-capacitance-lost", Lower)]
    public void A_half_that_runs_empty_stops_at_a_diodes_voltage(string fault, string half)
    {
        var block = new BridgeBulk { Arrangement = RectifierArrangement.Doubler };
        var run = Bench.Run(block.Build().With(block.Fault(fault), 0.01));
        Assert.InRange(run.V(half).Minimum().Value, -1.2, -0.4);
        Assert.True(run.V("bulk").Minimum().Value > 130);
    }

    [Fact]
    public void Every_fault_of_the_doubler_has_its_sign()
    {
        var doubler = new BridgeBulk { Arrangement = RectifierArrangement.Doubler };
        var only = doubler.Faults.Select(f => f.Id).Except(new BridgeBulk().Faults.Select(f => f.Id));
        Assert.Subset(Signs.Keys.ToHashSet(), only.ToHashSet());
    }

    // Half-wave charging: a half is charged once in a line cycle, so its ripple is at line frequency, and so is what ages it.
    [Fact]
    public void Estimate_of_the_ripple_current_is_that_of_the_run()
    {
        var block = new BridgeBulk { Arrangement = RectifierArrangement.Doubler, BulkTemperature = 273.15 + 65, BulkRippleCurrent = null };
        var flow = Bench.Run(block.Build()).I("bulk-capacitor").Rms();
        var estimated = block.Build().With(block.Fault("aged-in-service"), 20 * 31_557_600.0);
        var told = new BridgeBulk { Arrangement = RectifierArrangement.Doubler, BulkTemperature = 273.15 + 65, BulkRippleCurrent = flow };
        var known = told.Build().With(told.Fault("aged-in-service"), 20 * 31_557_600.0);
        double Left(Board board) => ((BoardSim.Engine.Devices.Capacitor)board.Circuit["C_bulk"]).Capacitance;
        Near.Relative(Left(known), Left(estimated), 0.1);
        Assert.True(Left(known) < 0.9 * block.BulkCapacitance);
    }
}
