using BoardSim.Blocks.Transformers;
using BoardSim.Engine.Devices;
using BoardSim.Measurement;

namespace BoardSim.Tests.Blocks;

/// <summary>The transformer supply against curves and rules for linear supplies.</summary>
public class TransformerSupplyTests
{
    // Rectifier with a large capacitor, small-angle law tan a - a = pi Rs / (n RL) for n = 1 (half wave) and 2 (full wave), V = Vp cos a: the limit of Schade's curves (Proc. IRE 31
    // (1943) 341) to the right. Mean over peak at 1, 5 and 10 % of source to load resistance; and the RMS current of a bridge's winding over the load's;
    // with a centre tap each half carries every other pulse, 1/sqrt 2 of that.
    [Theory]
    [InlineData(TransformerRectifier.Bridge, 0.01, 0.93764, 2.306)]
    [InlineData(TransformerRectifier.Bridge, 0.05, 0.83221, 1.794)]
    [InlineData(TransformerRectifier.Bridge, 0.10, 0.75180, 1.622)]
    [InlineData(TransformerRectifier.CentreTap, 0.05, 0.83221, 1.2686)]
    [InlineData(TransformerRectifier.CentreTap, 0.10, 0.75180, 1.1469)]
    [InlineData(TransformerRectifier.HalfWave, 0.05, 0.75180, null)]
    [InlineData(TransformerRectifier.HalfWave, 0.10, 0.64546, null)]
    public void Output_lies_on_the_curves_for_linear_supplies(TransformerRectifier rectifier, double share, double meanOverPeak, double? formFactor)
    {
        const double load = 100;
        var block = Ideal(rectifier, share * load, load);
        var run = Run(block, 1.2);
        Near.Relative(meanOverPeak, run.V("unregulated").Mean() / (block.SecondaryVoltage * Math.Sqrt(2)), 0.005);
        if (formFactor is { } factor)
        {
            Near.Relative(factor, run.I("secondary").Rms() / run.I("load").Mean(), 0.01);
        }
    }

    // A transformer maker's design guide for rectifiers (bridge, capacitor input): load current 0.62 times the winding's RMS current, mean 0.90 times its RMS voltage under load. A rule of thumb: within a tenth
    // where source resistance is a tenth of the load's. Another maker's: 1.8 times the load's current at a stiffer source, 5 %.
    [Fact]
    public void Winding_is_loaded_as_the_makers_rules_of_thumb_say()
    {
        var soft = Run(Ideal(TransformerRectifier.Bridge, 10, 100), 1.2);
        Near.Relative(0.62, soft.I("load").Mean() / soft.I("secondary").Rms(), 0.1);
        var stiff = Run(Ideal(TransformerRectifier.Bridge, 5, 100), 1.2);
        Near.Relative(1.8, stiff.I("secondary").Rms() / stiff.I("load").Mean(), 0.1);
    }

    // Regulation, (V0 - V1) / V1 (textbooks on transformers): 11.8 V open are 16.69 V at the peak; with 5 % of source resistance 13.89 V are left, 20.2 %.
    [Fact]
    public void Regulation_of_a_worked_example()
    {
        var loaded = Ideal(TransformerRectifier.Bridge, 5, 100);
        var open = Ideal(TransformerRectifier.Bridge, 5, 1e6);
        loaded.SecondaryVoltage = open.SecondaryVoltage = 11.8;

        // Without a load the last tenths of a volt take their time.
        open.Capacitance = 100e-6;
        Share(loaded, 5);
        Share(open, 5);
        var (full, none) = (Run(loaded, 1.2).V("unregulated").Mean(), Run(open, 1.2).V("unregulated").Mean());
        Near.Relative(16.69, none, 0.005);
        Near.Relative(0.202, (none - full) / full, 0.03);
    }

    // Peak inverse voltage of ideal diodes (handbooks): the secondary's peak in a bridge, twice the peak of half a winding with a centre tap, twice the peak with half a wave and a capacitor.
    [Theory]
    [InlineData(TransformerRectifier.Bridge, 1)]
    [InlineData(TransformerRectifier.CentreTap, 2)]
    [InlineData(TransformerRectifier.HalfWave, 2)]
    public void Peak_inverse_voltage_is_that_of_the_handbooks(TransformerRectifier rectifier, double peaks)
    {
        var run = Run(Ideal(rectifier, 0.1, 10e3), 0.4);
        Near.Relative(peaks * 90 * Math.Sqrt(2), run.V("d1-reverse").Maximum().Value, 0.02);
    }

    // Ripple of a stiff source, I / (2 f C) (Sedra and Smith, peak rectifier; Hart gives the same): 0.1 A, 60 Hz and 1000 uF make 0.833 V, on the safe side by up to a quarter (the conduction time is left out).
    [Fact]
    public void Ripple_follows_load_frequency_and_capacitance()
    {
        var block = Ideal(TransformerRectifier.Bridge, 0.05, 1260);
        block.Capacitance = 1000e-6;
        var run = Run(block, 0.3);
        Assert.InRange(run.V("unregulated").PeakToPeak() / (run.I("load").Mean() / (2 * 60 * 1000e-6)), 0.75, 1);
    }

    // Ripple factor of a full-wave rectifier with a capacitor, 1 / (4 sqrt 3 f C R) (Millman and Halkias, Integrated Electronics, McGraw-Hill 1972, chapter 4, from memory): a saw-tooth that falls all of
    // the time, so on the safe side by the share of the time in which it rises. 60 Hz, 200 uF and 1 kohm make 1.20 %, 500 uF 0.48 %.
    [Theory]
    [InlineData(200e-6, 0.01203)]
    [InlineData(500e-6, 0.00481)]
    public void Ripple_factor_of_the_handbooks(double capacitance, double factor)
    {
        var block = Ideal(TransformerRectifier.Bridge, 0.05, 1000);
        block.Capacitance = capacitance;
        var output = Run(block, 0.4).V("unregulated");
        Assert.InRange(output.AcRms() / output.Mean() / factor, 0.85, 1);
    }

    [Fact]
    public void Each_supply_gives_the_same_secondary_from_its_own_line()
    {
        var (low, high) = (new TransformerSupply(), new TransformerSupply { Supply = BoardSim.Blocks.Rectifiers.MainsSupply.Mains230V });
        var (a, b) = (Bench.Run(low.Build()).V("unregulated").Mean(), Bench.Run(high.Build()).V("unregulated").Mean());

        // The windings' resistances are designed for the same loss; 50 Hz leaves a little more time to fall.
        Near.Relative(a, b, 0.03);
    }

    private static TransformerSupply Ideal(TransformerRectifier rectifier, double source, double load)
    {
        var block = new TransformerSupply
        {
            Rectifier = rectifier,

            // High, so that what even these diodes drop does not show.
            SecondaryVoltage = 90,
            LineResistance = 0.01,
            LeakageInductance = 1e-9,
            MagnetisingCurrent = 1e-4,
            CoreLoss = 1e-3,
            Capacitance = 4e-3,
            Esr = 1e-3,
            LoadResistance = load,
        };
        Share(block, source);
        return block;
    }

    // Half of the source's resistance in either winding; with half a wave, whose direct current would magnetise the core through the primary's
    // resistance, all of it in the secondary.
    private static void Share(TransformerSupply block, double source)
    {
        var share = block.Rectifier == TransformerRectifier.HalfWave ? 0 : 0.5;
        block.SecondaryResistance = (1 - share) * source;
        block.PrimaryResistance = Math.Max(1e-3, share * source * Math.Pow(120 / block.SecondaryVoltage, 2));
    }

    private static Bench Run(TransformerSupply block, double stop)
    {
        var board = block.Build();
        foreach (var diode in board.Circuit.Devices.OfType<Diode>().ToList())
        {
            board.Circuit.Replace(new Diode(diode.Name, diode.Nodes[0], diode.Nodes[1], IdealParts.Diode));
        }

        return Bench.Run(board, stop - 4 / 60.0, stop);
    }
}
