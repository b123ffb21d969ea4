using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Converters;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>The averaged converter while it runs; what it gives is tested where it is a part of a supply.</summary>
public sealed class AveragedFlybackTests
{
    // Calculus is the outside source: currents and their derivatives, in discontinuous and continuous conduction and at the duty limit.
    [Theory]
    [InlineData(-1, 12)]
    [InlineData(5, 60)]
    [InlineData(0, 3)]
    public void Derivatives_agree_with_differences(double low, double high)
    {
        var parameters = new ControllerParameters { SoftStart = 1e-9, FeedbackOffset = 0.1, FeedbackDivider = 1, FeedbackSupply = 5 };
        var converter = new AveragedFlyback("u", "v", "r", "f", "i", "o", "g", "c", parameters, new FlybackStage());

        // The first guard is the start voltage; it started long ago.
        converter.Cross(0, -1, []);
        var probe = new DeviceProbe(converter, 320);
        var random = new Random(7);
        for (var point = 0; point < 300; point++)
        {
            probe.Scatter(random, low, high);
            probe.AssertDerivatives(2e-5, 2e-5, 1e-7, 1e-18, $"point {point} ({string.Join(", ", probe.Loads.X.Skip(1))})");
        }
    }

    // Discontinuous and continuous conduction agree where both just fit (Erickson and Maksimovic, as below): the mean currents do not jump there, nor where the duty limit begins. Between two points the half
    // with the larger change is kept until what is left of the way is less than any slope could make more than a nanoampere of.
    [Fact]
    public void Mean_currents_do_not_jump()
    {
        var parameters = new ControllerParameters { SoftStart = 1e-9, FeedbackOffset = 0.1, FeedbackDivider = 1, FeedbackSupply = 5, Slope = 3500, MaximumDuty = 0.9 };
        var converter = new AveragedFlyback("u", "v", "r", "f", "i", "o", "g", "c", parameters, new FlybackStage { Ratio = 20, SenseResistance = 0.5 });
        converter.Cross(0, -1, []);
        var probe = new DeviceProbe(converter, 320);
        var random = new Random(11);
        for (var way = 0; way < 500; way++)
        {
            var ends = new (double[] X, double[] F)[2];
            for (var e = 0; e < 2; e++)
            {
                probe.Set("r", 0).Set("g", 0).Set("v", 0.5).Set("c", 90);
                foreach (var (node, from, to) in new[] { ("i", 6.0, 15.0), ("o", 0.5, 4.0), ("f", 0.1, 0.3) })
                {
                    probe.Set(node, from + (to - from) * random.NextDouble());
                }

                ends[e] = Point();
            }

            for (var halving = 0; halving < 45; halving++)
            {
                for (var k = 1; k < probe.Loads.X.Length; k++)
                {
                    probe.Loads.X[k] = 0.5 * (ends[0].X[k] + ends[1].X[k]);
                }

                var middle = Point();
                ends[Change(ends[0].F, middle.F) > Change(middle.F, ends[1].F) ? 1 : 0] = middle;
            }

            Assert.InRange(Change(ends[0].F, ends[1].F), 0, 1e-9);
        }

        (double[] X, double[] F) Point() => ([.. probe.Loads.X], [.. probe.Evaluate().Loads.F]);

        static double Change(double[] one, double[] other) => one.Zip(other, (a, b) => Math.Abs(a - b)).Max();
    }

    // At the duty limit the core is empty long before the period is over, however much current is asked for: Ip = D Vin / (L f), D2 = L f Ip / (n Vo) (Erickson and
    // Maksimovic, Fundamentals of Power Electronics, 2nd edition, chapter 5; from memory). The auxiliary winding conducts no longer than the output's does.
    [Fact]
    public void Auxiliary_winding_conducts_until_the_core_is_empty_at_the_duty_limit()
    {
        const double peak = 0.1 * 60 / (600e-6 * 65e3);
        const double share = 600e-6 * 65e3 * peak / (8 * 12);
        Bench.Near(share * (1.1 * 12 - 10) / 22, SupplyCurrent(0.01) - SupplyCurrent(1.1), 0.01);
    }

    /// <summary>Current that the controller draws from 10 V with the duty at its limit, less what the auxiliary winding gives.</summary>
    private static double SupplyCurrent(double auxiliaryRatio)
    {
        var parameters = new ControllerParameters { Slope = 0, SoftStart = 1e-9, SenseLimit = 1, FeedbackOffset = 0, FeedbackDivider = 1, StartVoltage = 9, StopVoltage = 4, MaximumDuty = 0.1 };
        var stage = new FlybackStage
        {
            LeakageInductance = 0,
            PrimaryResistance = 0,
            SecondaryResistance = 0,
            RectifierVoltage = 0,
            AuxiliaryVoltage = 0,
            AuxiliaryRatio = auxiliaryRatio,
            AuxiliaryResistance = 22,
            SenseResistance = 0.1,
        };
        var run = Bench.Run(
            Bench.Circuit(
                new VoltageSource("V_in", "in", "0", 60),
                new VoltageSource("V_out", "out", "0", 12),
                new VoltageSource("V_cc", "vcc", "0", 10),
                new VoltageSource("V_fb", "fb", "0", 0.4),
                new Resistor("R_clamp", "clamp", "in", 1e6),
                new AveragedFlyback("U1", "vcc", "0", "fb", "in", "out", "0", "clamp", parameters, stage)),
            new TransientOptions { Stop = 1e-3, UseInitialConditions = true },
            Probe.Current("V_cc"));
        return -run.Values(0)[^1];
    }

    // Kirchhoff: a start resistor that cannot feed a running controller may feed one that an overload has stopped, which draws less. Running, the pin falls below the stop
    // voltage; off, it rises past the start voltage; stopped it stays. Only an overload that lasts leads there, so that no switching of states from power-up finds it.
    [Fact]
    public void Stopped_for_good_is_an_operating_point()
    {
        var circuit = Starved(60e3, feedback: 1, auxiliaryRatio: 0.01);
        var rest = OperatingPoint.Solve(new CircuitSystem(circuit));
        Assert.Equal("stopped", ((AveragedFlyback)circuit.Find("U1")!).StateName);
        Assert.Contains("U1 stopped", rest.Evidence.Start, StringComparison.Ordinal);
        Assert.InRange(rest.Voltage("vcc"), 9.5, 16);

        // Every microampere through the resistor is drawn by the pin: constant for the pull-up, the rest in proportion to the voltage.
        var through = (100 - rest.Voltage("vcc")) / 60e3;
        Bench.Near(0.3 * 3e-3 / 16 * rest.Voltage("vcc") + 5 / 8e3, through, 1e-3);
    }

    // With a resistor that feeds neither and an overload that lasts, there is no rest. The zener diode at the pin conducts while the auxiliary winding drives it, but it has no
    // say in it: only who remembers is named.
    [Fact]
    public void Without_any_rest_only_the_controller_is_named()
    {
        var lost = Assert.Throws<SolverException>(() => OperatingPoint.Solve(new CircuitSystem(Starved(120e3, feedback: 5, auxiliaryRatio: 5))));
        Assert.Contains("the states of U1 keep changing", lost.Message, StringComparison.Ordinal);
    }

    private static Circuit Starved(double startResistance, double feedback, double auxiliaryRatio) => Bench.Circuit(
        new VoltageSource("V_in", "in", "0", 100),
        new Resistor("R_start", "in", "vcc", startResistance),
        new Rectifier("Z_vcc", "vcc", "0", 30, 5) { BlockingResistance = 1e9 },
        new VoltageSource("V_fb", "fb", "0", feedback),
        new Resistor("R_load", "out", "0", 10),
        new Resistor("R_clamp", "clamp", "in", 1e5),
        new AveragedFlyback("U1", "vcc", "0", "fb", "in", "out", "0", "clamp", new ControllerParameters(), new FlybackStage { AuxiliaryRatio = auxiliaryRatio }));
}
