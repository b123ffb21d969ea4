using BoardSim.Blocks.Converters;
using BoardSim.Measurement;
using BoardSim.Scenarios;
using BoardSim.Tests.Blocks;

namespace BoardSim.Tests.Scenarios;

/// <summary>The boards at the ends of the voltages that a mains may have, and at the edges of what the converter can live on.</summary>
public class LineVoltageRangeTests
{
    private const double Rail = 2.5 * (1 + 3.83);

    // IEC 60038 (1983 with its amendments, as quoted by installers): 230 V +-10 % at the supply terminals, 207 to 253 V; at an appliance 4 % less for the
    // drop within the building, 197.8 V.
    // ANSI C84.1, 120 V base, from memory: service voltage 114 to 126 V (range A) and 110 to 127 V (range B); at an appliance down to 108 V (A) and 104 V (B).
    // Limits: 5 % of each rail (common practice, no source).
    [Theory]
    [InlineData("proofer-230v.yaml", 197.8)]
    [InlineData("proofer-230v.yaml", 207)]
    [InlineData("proofer-230v.yaml", 253)]
    [InlineData("proofer-120v.yaml", 104)]
    [InlineData("proofer-120v.yaml", 108)]
    [InlineData("proofer-120v.yaml", 110)]
    [InlineData("proofer-120v.yaml", 114)]
    [InlineData("proofer-120v.yaml", 126)]
    [InlineData("proofer-120v.yaml", 127)]
    [InlineData("proofer-120v-doubler.yaml", 104)]
    [InlineData("proofer-120v-doubler.yaml", 127)]
    public void The_board_runs_at_both_ends_of_each_range(string file, double volts)
    {
        var design = BoardFile.Read(Path.Combine(Repository.Boards, file)).Make();
        design.Value("mains.line.voltage").Set(design, volts);
        var run = Bench.Run(design.Build(), 0, 1.6, 2e-3);
        var (rail, five) = (run.V("rail-12v").Slice(1.35, 1.6), run.V("rail-5v").Slice(1.35, 1.6));
        Assert.InRange(rail.Minimum().Value, 0.95 * 12, 1.05 * 12);
        Assert.InRange(rail.Maximum().Value, 0.95 * 12, 1.05 * 12);
        Assert.InRange(five.Minimum().Value, 0.95 * 5, 1.05 * 5);
        Assert.InRange(five.Maximum().Value, 0.95 * 5, 1.05 * 5);
        Assert.Equal(0, run.S("processor.reset-count").Maximum().Value);
        Assert.Equal(1, run.S("processor.running").Values[^1]);
        Assert.Equal(0, run.S("entry.fuse-open").Values[^1]);
    }

    // Ohm's law: before it starts, the controller takes 20 uA at 16 V and less in proportion, 800 kohm. Start resistor and these divide the bulk voltage: 16 V are
    // reached from 16 (330 + 800) / 800 = 22.6 V on.
    [Theory]
    [InlineData(22.6 * 0.97, false)]
    [InlineData(22.6 * 1.05, true)]
    public void It_starts_from_the_voltage_on_at_which_the_start_resistor_charges_it(double volts, bool starts)
    {
        var run = Bench.Run(new FlybackSupply { InputVoltage = volts }.Build(), 0, 30, 1e-3);
        Assert.Equal(starts, run.S("starts").Maximum().Value > 0.5);
    }

    // Continuous conduction at the largest duty, 0.72 (Erickson and Maksimovic, 2nd edition, section 6.3, with the drops of the windings added): the magnetising
    // current is 0.605 A / 8 / 0.28 = 0.27 A, which costs 0.79 V in 2.92 ohm; the secondary needs 12.08 V, 0.33 V of the rectifier and 0.09 V of its resistances, reflected
    // 100.0 V. Vin = (100.0 V 0.28 + 0.79 V 0.72) / 0.72 = 39.7 V is the least that 12.1 V at 20 ohm can be made from.
    [Theory]
    [InlineData(39.7 * 0.93, false)]
    [InlineData(39.7 * 1.07, true)]
    public void It_regulates_from_the_voltage_on_that_its_largest_duty_can_make_do_with(double volts, bool regulates)
    {
        var run = Bench.Run(new FlybackSupply { InputVoltage = volts, LoadResistance = 20, StartResistance = 33e3 }.Build(), 0, 1.2, 1e-3);
        var mean = run.V("rail").Slice(1.1, 1.2).Mean();
        Assert.Equal(regulates, Math.Abs(mean / Rail - 1) < 0.01);
        Assert.True(regulates || mean < 0.98 * Rail, $"{mean} V");
    }

    // A passive two-pole takes no energy out of an empty capacitor (definition of passivity, any textbook on circuits): a converter that goes on switching behind a pulled plug
    // empties its bulk capacitor and no further. The leads of the bench and the start resistor leave millivolts.
    [Fact]
    public void An_empty_bulk_capacitor_is_not_drawn_below_zero()
    {
        var design = BoardFile.Read(Path.Combine(Repository.Boards, "proofer-120v.yaml")).Make();
        design.Value("mains.unplug.at").Set(design, 1.1);
        var bulk = Bench.Run(design.Build(), 0, 1.5, 2e-3).V("bridge.bulk").Slice(1.1, 1.5);
        Assert.InRange(bulk.Minimum().Value, -0.05, 20);
        Assert.InRange(bulk.Maximum().Value, 140, 170);
    }
}
