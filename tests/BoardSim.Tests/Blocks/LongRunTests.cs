using BoardSim.Blocks;
using BoardSim.Blocks.AcLoads;
using BoardSim.Blocks.Chambers;
using BoardSim.Blocks.Lines;
using BoardSim.Blocks.Motors;
using BoardSim.Blocks.Processors;
using BoardSim.Blocks.Rectifiers;
using BoardSim.Blocks.Transformers;
using BoardSim.Boards;
using BoardSim.Designs;
using BoardSim.Measurement;

namespace BoardSim.Tests.Blocks;

/// <summary>
/// The line by its RMS value against its sine, over seconds and minutes, and hours of the former against closed forms. An RMS value is by its definition the direct voltage with the same heat in a
/// resistance (IEC 60050-103-02-03).
/// </summary>
public class LongRunTests
{
    private static SwitchedLoad Contact(LineDetail detail) => new()
    {
        BenchDetail = detail,
        OffAt = 20,
        ContactResistance = 60e-3,
        ContactHeatCapacity = 0.3,
        ElementHeatCapacity = 60,
    };

    [Fact]
    public void Heater_contact_and_joint_have_the_same_heat()
    {
        var (sine, rms) = (Bench.Run(Contact(LineDetail.Waveform).Build(), 0, 20, 1e-3), Bench.Run(Contact(LineDetail.Rms).Build(), 0, 20, 1e-3));
        Assert.Equal(sine.I("load").Slice(10, 20).Rms(), rms.I("load").Slice(10, 20).Rms(), 1e-2 * sine.I("load").Slice(10, 20).Rms());
        foreach (var at in new[] { 5.0, 10, 19 })
        {
            var (contact, joint) = (sine.S("contact-temperature").Slice(at - 0.05, at).Mean() - 308.15, sine.S("joint-temperature").Slice(at - 0.05, at).Mean() - 308.15);
            Assert.Equal(contact, rms.S("contact-temperature").Slice(at - 0.05, at).Mean() - 308.15, 1e-2 * contact);
            Assert.Equal(joint, rms.S("joint-temperature").Slice(at - 0.05, at).Mean() - 308.15, 1e-2 * joint + 0.01);
        }

        Assert.True(rms.Result.Evidence.Points < sine.Result.Evidence.Points / 20, $"{rms.Result.Evidence.Points} points by RMS, {sine.Result.Evidence.Points} by the sine");
    }

    // The joint parts at a temperature, not at a phase, so its comings and goings are the same but for the half-cycle that an arc lasts.
    [Fact]
    public void A_cracked_joint_opens_at_the_same_time()
    {
        double[] Openings(LineDetail detail)
        {
            var block = Contact(detail);
            var run = Bench.Run(block.Fault("joint-cracked").Apply(block.Build()), 0, 20, 1e-3);
            return [.. run.S("joint-openings").Crossings(0.5).Concat(run.S("joint-openings").Crossings(1.5)).Select(c => c.Time)];
        }

        var (sine, rms) = (Openings(LineDetail.Waveform), Openings(LineDetail.Rms));
        Assert.True(sine.Length >= 1);
        Assert.Equal(sine.Length, rms.Length);
        Assert.All(sine.Zip(rms), pair => Assert.Equal(pair.First, pair.Second, 0.01 * pair.First + 0.017));
    }

    private static BoardDesign Oven(LineDetail detail, double stop) => new("oven", "Heater in a chamber", "earth",
    [
        new("mains", new MainsOutlet { Detail = detail, UnplugAt = stop }, new Dictionary<string, string> { ["line"] = "line", ["neutral"] = "neutral", ["earth"] = "earth" }),
        new("heater", new Heater { HeatCapacity = 30 }, new Dictionary<string, string> { ["line"] = "line", ["neutral"] = "neutral", ["heat"] = "heat" }),
        new("chamber", new HeatedChamber { AirCapacity = 300, GoodsCapacity = 10 }, new Dictionary<string, string> { ["heat"] = "heat", ["zero"] = "earth" }),
    ]);

    [Fact]
    public void A_chamber_warms_the_same()
    {
        Waveform Air(LineDetail detail)
        {
            var board = Oven(detail, 1000).Build();
            Assert.Equal(detail == LineDetail.Rms, board.LineByRms);
            var air = board.Readout("chamber.air-temperature");
            var run = Bench.Run(board.Circuit, [air.Node], [], 0, 60, 1e-3);
            return run.V(air.Node);
        }

        var (sine, rms) = (Air(LineDetail.Waveform), Air(LineDetail.Rms));
        foreach (var at in new[] { 10.0, 30, 60 })
        {
            Assert.Equal(sine.At(at) - 22, rms.At(at) - 22, 1e-2 * (sine.At(at) - 22));
        }

        Assert.True(sine.At(60) > 30);
    }

    // Lumped capacity: after the plug is pulled, air and goods together lose their warmth with C/G (Incropera and DeWitt, 5.1, from memory). Goods that follow the
    // air closely make one capacity of both; what is left of the difference is the share of the goods' own time constant.
    [Fact]
    public void Half_a_day_of_cooling_has_the_time_constant_of_the_closed_form()
    {
        var design = Oven(LineDetail.Rms, 3600);
        var chamber = (HeatedChamber)design.Place("chamber").Block;
        (chamber.AirCapacity, chamber.GoodsCapacity, chamber.GoodsConductance, chamber.WallConductance) = (20e3, 10e3, 1000, 2);
        var board = design.Build();
        var air = board.Readout("chamber.air-temperature").Node;
        var run = Bench.Run(board.Circuit, [air], [], 0, 43200, 1e-4);
        var (one, three) = (run.V(air).At(3 * 3600) - 22, run.V(air).At(10 * 3600) - 22);

        // The heater's own capacity hangs on the air as well, a thousandth of the whole.
        var expected = (20e3 + 10e3 + 30) / 2;
        Assert.Equal(expected, 7 * 3600 / Math.Log(one / three), 5e-3 * expected);
        Assert.True(run.Result.Evidence.Points < 2000, $"{run.Result.Evidence.Points} points for twelve hours");
    }

    [Theory]
    [InlineData(47e-6, 1.2, 12, MainsSupply.Mains120V)]
    [InlineData(68e-6, 1, 30, MainsSupply.Mains120V)]
    [InlineData(22e-6, 2, 12, MainsSupply.Mains230V)]
    public void The_bulk_has_the_same_mean(double farads, double esr, double watts, MainsSupply supply)
    {
        BridgeBulk Block(LineDetail detail) => new()
        {
            BenchDetail = detail,
            Supply = supply,
            BulkCapacitance = farads,
            BulkEsr = esr,
            LoadPower = watts,
            DiodeLaw = DiodeLaw.Threshold,
            SourceResistance = 0.4,
            LimiterStartTemperature = 373.15,

            // The line's inductance bends the pulses (4 % of their RMS value with 200 uH), which the mean-value model has not.
            LineInductance = 0,
        };

        var (sine, rms) = (Bench.Run(Block(LineDetail.Waveform).Build(), 0.3, 0.5), Bench.Run(Block(LineDetail.Rms).Build(), 0.3, 0.5));
        Assert.Equal(sine.V("bulk").Mean(), rms.V("bulk").Mean(), 1e-2 * sine.V("bulk").Mean());
        Assert.Equal(sine.I("line").Rms(), rms.S("line-current").Mean(), 4e-2 * sine.I("line").Rms());
        Assert.Equal(sine.I("bulk-capacitor").Rms(), rms.S("ripple-current").Mean(), 4e-2 * sine.I("bulk-capacitor").Rms());

        // What heats the limiter, from its heat balance between the ends of the window; the first charge, which is not in the mean, has heated it before.
        double Watts(Bench run)
        {
            var kelvin = run.S("limiter-temperature");
            return 0.5 * (kelvin.Values[^1] - kelvin.Values[0]) / kelvin.Duration + 10e-3 * (kelvin.Mean() - 298.15);
        }

        Assert.Equal(Watts(sine), Watts(rms), 5e-2 * Watts(sine));
    }

    [Fact]
    public void The_bulk_has_the_same_mean_with_a_diode_open_and_a_capacitor_dried_out()
    {
        foreach (var (fault, severity) in new (string, double?)[] { ("diode-d1-open", null), ("bulk-esr-high", 15), ("bulk-capacitance-lost", 0.5) })
        {
            double Mean(LineDetail detail)
            {
                var block = new BridgeBulk { BenchDetail = detail, DiodeLaw = DiodeLaw.Threshold, SourceResistance = 0.4, LimiterStartTemperature = 373.15 };
                return Bench.Run(block.Fault(fault).Apply(block.Build(), severity), 0.3, 0.5).V("bulk").Mean();
            }

            var sine = Mean(LineDetail.Waveform);
            Assert.Equal(sine, Mean(LineDetail.Rms), 1e-2 * sine);
        }
    }

    [Fact]
    public void What_cannot_be_right_by_RMS_is_refused_with_its_reason()
    {
        Assert.Contains("solenoid", One(new SolenoidValve { LineDetail = LineDetail.Rms }), StringComparison.Ordinal);
        Assert.Contains("phase between two", One(new AcMotor { LineDetail = LineDetail.Rms }), StringComparison.Ordinal);
        Assert.Contains("phase between two", One(new MotorReversal { LineDetail = LineDetail.Rms }), StringComparison.Ordinal);
        Assert.Contains("flux", One(new TransformerSupply { LineDetail = LineDetail.Rms }), StringComparison.Ordinal);
        Assert.Contains("doubler", One(new BridgeBulk { BenchDetail = LineDetail.Rms, Arrangement = RectifierArrangement.Doubler }), StringComparison.Ordinal);
        Assert.Contains("surge.level", One(new MainsOutlet { Detail = LineDetail.Rms, SurgeLevel = 1000 }), StringComparison.Ordinal);
        Assert.DoesNotContain(new LineEntry { LineDetail = LineDetail.Rms }.Faults, f => f.Id is "varistor-worn" or "x-faded");
    }

    private static string One(Block block) => Assert.Single(block.Problems());

    // On a board the outlet decides, and a block says what is wrong under the name of its place.
    [Fact]
    public void The_outlet_decides_for_the_board()
    {
        var design = new BoardDesign("b", "Board", "earth",
        [
            new("mains", new MainsOutlet { Detail = LineDetail.Rms }, new Dictionary<string, string> { ["line"] = "line", ["neutral"] = "neutral", ["earth"] = "earth" }),
            new("valve", new SolenoidValve(), new Dictionary<string, string> { ["line"] = "line", ["neutral"] = "neutral" }),
        ]);
        Assert.Contains(design.Problems(), p => p.StartsWith("valve:", StringComparison.Ordinal) && p.Contains("detail: waveform", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(0.6e-3)]
    [InlineData(2.5e-3)]
    public void A_fan_by_mean_pulses_turns_and_heats_as_by_its_edges(double friction)
    {
        FanDrive Block(PulseDetail detail) => new() { PulsesBy = detail, Friction = friction };
        var (edges, mean) = (Bench.Run(Block(PulseDetail.Edges).Build(), 7, 8), Bench.Run(Block(PulseDetail.Mean).Build(), 7, 8));
        Assert.Equal(edges.S("fan-speed").Mean(), mean.S("fan-speed").Mean(), 1e-2 * edges.S("fan-speed").Mean());
        Assert.Equal(edges.I("motor").Mean(), mean.I("motor").Mean(), 1e-2 * edges.I("motor").Mean());
        Assert.Equal(edges.S("duty").Mean(), mean.S("duty").Mean(), 4e-2 * edges.S("duty").Mean());
        Assert.Equal(edges.I("rail").Mean(), mean.I("rail").Mean(), 3e-2 * edges.I("rail").Mean());
        var heat = 15 * edges.I("series-resistor").IntegralOfSquare() / edges.I("series-resistor").Duration;
        Assert.Equal(heat, mean.S("resistor-heat").Mean(), 5e-2 * heat);
    }
}
