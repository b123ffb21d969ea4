using BoardSim.Blocks.Converters;
using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Converters;
using BoardSim.Measurement;

namespace BoardSim.Tests.Blocks;

/// <summary>The closed-loop flyback supply: its two levels of detail against each other, and both against textbooks.</summary>
public class FlybackSupplyTests
{
    private static FlybackSupply Quick(ConverterDetail detail) => new() { Detail = detail, StartResistance = 30e3, VccCapacitance = 4.7e-6 };

    private static double Rises(Engine.Analyses.TransientResult run, int probe, double level) =>
        run.Times.Zip(run.Values(probe)).First(p => p.Second >= level).First;

    private static Engine.Analyses.TransientResult Run(Board board, double stop, params Probe[] probes) =>
        Transient.Run(new CircuitSystem(board.Circuit), new TransientOptions { Stop = stop, UseInitialConditions = true, Resolution = stop / 20_000 }, probes);

    private static readonly Probe[] Rail = [Probe.Voltage("rail"), Probe.Voltage("vcc", "return")];

    [Fact]
    public void Details_agree_on_rail_and_start_up()
    {
        var (fast, slow) = (Run(Quick(ConverterDetail.Averaged).Build(), 32e-3, Rail), Run(Quick(ConverterDetail.Switching).Build(), 32e-3, Rail));
        var mean = slow.Times.Zip(slow.Values(0)).Where(p => p.First > 31e-3).Average(p => p.Second);
        Assert.Equal(1, fast.Values(0)[^1] / mean, 0.01);

        // From the controller's start, which is the same, to the rail.
        var begin = Rises(slow, 1, 15.99);
        Assert.Equal(1, (Rises(fast, 0, 11) - begin) / (Rises(slow, 0, 11) - begin), 0.05);
    }

    [Fact]
    public void Details_agree_on_the_hiccup_period()
    {
        var periods = new List<double>();
        foreach (var detail in new[] { ConverterDetail.Averaged, ConverterDetail.Switching })
        {
            var block = Quick(detail);
            (block.StartResistance, block.VccCapacitance, block.SoftStart, block.OverloadDelay) = (200e3, 0.47e-6, 0.5e-3, 0.5e-3);
            var board = block.Fault("rail-overloaded").Apply(block.Build(), 0.3);
            using var run = new TransientRun(new CircuitSystem(board.Circuit), new TransientOptions { Stop = 60e-3, UseInitialConditions = true });
            while (run.Advance())
            {
            }

            List<double> starts = [.. run.Events.Where(e => e.State == "running").GroupBy(e => e.Time).Select(g => g.Key)];
            starts = [.. starts.Where((t, k) => k == 0 || t - starts[k - 1] > 2e-3)];
            periods.Add((starts[^1] - starts[1]) / (starts.Count - 2));
        }

        Assert.Equal(1, periods[0] / periods[1], 0.1);
    }

    // Charge of an RC from a Thevenin source: the controller's start current is a resistance of 16 V / 20 uA.
    [Fact]
    public void It_starts_when_the_start_resistor_has_charged_its_supply()
    {
        var load = 16 / 20e-6;
        var share = load / (load + 330e3);
        var tau = 22e-6 * 330e3 * share;
        var expected = tau * Math.Log(160 * share / (160 * share - 16));
        var run = Run(new FlybackSupply().Build(), 1, Rail);
        Assert.Equal(1, Rises(run, 1, 15.999) / expected, 0.01);
    }

    // A current between two voltages: t = C dv / i. With no auxiliary supply the controller lives on its capacitor from 16 V to 9.5 V; its current goes
    // with the voltage, so the time is that of an RC: C 16 V / 3 mA ln(16/9.5), the feedback pull-up's 0.6 mA on top.
    [Fact]
    public void Without_the_auxiliary_winding_it_lives_on_its_capacitor()
    {
        var block = new FlybackSupply { VccSeriesResistance = 1000, AuxiliaryRatio = 0.1 };
        using var run = new TransientRun(new CircuitSystem(block.Build().Circuit), new TransientOptions { Stop = 1.2, UseInitialConditions = true });
        while (run.Advance())
        {
        }

        var begin = run.Events.First(e => e.State == "running").Time;
        var end = run.Events.First(e => e.State is "off" or "stopped").Time;
        var lives = end - begin;
        var slowest = 22e-6 * (16 - 9.5) / ((3e-3 * 9.5 / 16) + 0.6e-3 - 0.45e-3);
        var quickest = 22e-6 * (16 - 9.5) / (3e-3 + 0.6e-3);
        Assert.InRange(lives, quickest, slowest);
    }

    // P = L Ip^2 f / 2 in discontinuous conduction (Erickson and Maksimovic, Fundamentals of Power Electronics, 2nd edition, section 11.1): without losses all of it
    // arrives at the output, whatever its voltage.
    [Theory]
    [InlineData(5)]
    [InlineData(12)]
    [InlineData(20)]
    public void Power_of_the_averaged_stage_in_discontinuous_conduction(double output)
    {
        const double ip = 0.5;
        Assert.Equal(0.5 * 600e-6 * ip * ip * 65e3, output * OutputCurrent(160, output, ip), 0.01);
    }

    // Vo = Vin D / (1 - D) / n in continuous conduction (the same, section 6.3): for a given output the duty follows, and input power is output power.
    [Fact]
    public void Conversion_ratio_of_the_averaged_stage_in_continuous_conduction()
    {
        const double ip = 4;
        var duty = 8 * 12 / (60 + 8 * 12.0);
        var ripple = 60 * duty / (600e-6 * 65e3);
        Assert.Equal(duty * (ip - ripple / 2) * 60 / 12, OutputCurrent(60, 12, ip), 0.02);
    }

    /// <summary>Current that an ideal stage pushes into a voltage at a peak current.</summary>
    private static double OutputCurrent(double input, double output, double peak)
    {
        var parameters = new ControllerParameters { Slope = 0, SoftStart = 1e-9, SenseLimit = 1, FeedbackOffset = 0, FeedbackDivider = 1, StartVoltage = 5, StopVoltage = 4, MaximumDuty = 0.9 };
        var stage = new FlybackStage
        {
            LeakageInductance = 0,
            PrimaryResistance = 0,
            SecondaryResistance = 0,
            RectifierVoltage = 0,
            AuxiliaryRatio = 0.01,
            SenseResistance = 0.1,
        };
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V_in", "in", "0", input));
        circuit.Add(new VoltageSource("V_out", "out", "0", output));
        circuit.Add(new VoltageSource("V_cc", "vcc", "0", 10));
        circuit.Add(new VoltageSource("V_fb", "fb", "0", 0.1 * peak));
        circuit.Add(new Resistor("R_clamp", "clamp", "in", 1e6));
        circuit.Add(new AveragedFlyback("U1", "vcc", "0", "fb", "in", "out", "0", "clamp", parameters, stage));
        var run = Transient.Run(new CircuitSystem(circuit), new TransientOptions { Stop = 1e-3, UseInitialConditions = true }, [Probe.Current("V_out")]);
        return run.Values(0)[^1];
    }

    // The shunt reference holds 2.5 V at its input (data sheet convention, common practice): Vo = 2.5 V (1 + upper/lower).
    [Theory]
    [InlineData(38.3e3, 12.07)]
    [InlineData(20e3, 7.5)]
    public void The_rail_follows_the_divider(double upper, double expected)
    {
        var run = Run(new FlybackSupply { UpperResistance = upper, LoadResistance = 20, AuxiliaryRatio = 1.1 * 12 / expected }.Build(), 1.2, Rail);
        Assert.Equal(1, run.Values(0)[^1] / expected, 0.01);
    }

    // At 5 mA through the LED the collector current is the transfer ratio times 5 mA: the definition of the ratio (IEC 60747-5-5).
    [Fact]
    public void Transfer_ratio_is_that_at_the_rated_current()
    {
        var circuit = new Circuit();
        circuit.Add(new CurrentSource("I1", "0", "a", 5e-3));
        circuit.Add(new VoltageSource("V1", "c", "0", 5));
        circuit.Add(new OptoCoupler("U1", "a", "0", "c", "0", 0.8));
        Assert.Equal(-4e-3, OperatingPoint.Solve(new CircuitSystem(circuit)).Current("V1"), 4e-6);
    }

    private static readonly Dictionary<string, Func<Bench, double>> SwitchingSymptoms = new()
    {
        ["rectifier-open"] = b => -b.V("rail").Maximum().Value,
        ["rectifier-shorted"] = b => -b.V("rail").Maximum().Value,
        ["rectifier-leaky"] = b => -b.V("rail").At(7e-3),
        ["clamp-open"] = b => b.V("drain").Maximum().Value,
        ["switch-shorted"] = b => b.I("input").Slice(1e-3, 8e-3).Maximum().Value,
        ["switch-open"] = b => -b.V("rail").Maximum().Value,
        ["shorted-turns"] = b => -b.V("rail").At(7e-3),
    };

    /// <summary>Faults that are run here.</summary>
    internal static IEnumerable<string> FaultsRun => SwitchingSymptoms.Keys;

    public static TheoryData<string> SwitchingFaults => [.. FaultsRun];

    private static Lazy<Bench> SwitchedHealthy { get; } = new(() => Switched(null));

    private static Bench Switched(string? fault)
    {
        var block = Quick(ConverterDetail.Switching);
        (block.VccCapacitance, block.SoftStart) = (1e-6, 1.5e-3);
        var board = block.Build();
        return Bench.Run(fault is null ? board : block.Fault(fault).Apply(board), 0, 8e-3);
    }

    [Fact]
    public void Every_fault_of_the_switching_detail_has_a_symptom_here() => Assert.Equal(
        Quick(ConverterDetail.Switching).Faults.Select(f => f.Id).Except(new FlybackSupply().Faults.Select(f => f.Id)).Order(StringComparer.Ordinal),
        SwitchingSymptoms.Keys.Order(StringComparer.Ordinal));

    // The signs are common practice (no source).
    [Theory]
    [MemberData(nameof(SwitchingFaults))]
    public void Faults_of_the_switching_detail_show(string fault)
    {
        var (healthy, faulty) = (SwitchingSymptoms[fault](SwitchedHealthy.Value), SwitchingSymptoms[fault](Switched(fault)));
        Assert.True(faulty > healthy + 0.02 * Math.Abs(healthy), $"{healthy} {faulty}");
    }
}
