using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Converters;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>Solutions that are followed round a bend, where sources that only grow end.</summary>
public sealed class SourceArcTests
{
    // i = u^3 - 3 u + 2 with u = v - 2: from 0 V at 0 A up to 4 A at 1 V, there the path turns back, down to 0 A at 3 V, and up again. At 5 A, u^3 - 3 u = 3, by Cardano's formula.
    [Fact]
    public void Path_is_followed_back_to_where_it_goes_on()
    {
        var bend = new Conductor("bend", "a", "0", v => ((v - 2) * (v - 2) * (v - 2) - 3 * (v - 2) + 2, 3 * (v - 2) * (v - 2) - 3));
        var system = new CircuitSystem(Circuit(new CurrentSource("i", "0", "a", 5), bend, new Resistor("r", "a", "0", 1e12)));
        var counters = new SolverCounters();
        var before = 0.0;
        Assert.True(new SourceArc(system, counters).Follow(0, () => true, () =>
        {
            // No leap over the part where the current falls.
            Assert.InRange(system.Loads.X[1], before, before + 0.5);
            before = system.Loads.X[1];
        }));

        // It ends on the chord of the step within which the sources become full; Newton's method goes on from there.
        var root = Math.Sqrt(5);
        Near(2 + Math.Cbrt((3 + root) / 2) + Math.Cbrt((3 - root) / 2), system.Loads.X[1], 1e-2);
    }

    // Two of that kind in series, of straight lines: at each corner the path turns by more than a right angle, or nearly, at any length of step. The current rises to the lesser peak, falls to that part's valley, rises to the
    // other peak, falls to the other valley, and rises again to 5 A: to the last point of both.
    [Fact]
    public void Path_is_followed_round_corners()
    {
        var circuit = Circuit(
            new CurrentSource("i", "0", "a", 5),
            new Conductor("first", "a", "b", Lines((0.1, 4), (0.6, 1), (1.6, 5))),
            new Conductor("second", "b", "0", Lines((0.2, 4.5), (1.2, 2), (2.7, 5))),
            new Resistor("ra", "a", "0", 1e12),
            new Resistor("rb", "b", "0", 1e12));
        var system = new CircuitSystem(circuit);
        Assert.True(new SourceArc(system, new SolverCounters()).Follow(0, () => true, () => { }));
        Near(1.6 + 2.7, system.Loads.X[system.NodeIndex("a")], 1e-6);
        Near(2.7, system.Loads.X[system.NodeIndex("b")], 1e-6);
    }

    /// <summary>Straight lines from the origin through points of volts and amperes, the last one going on.</summary>
    private static Func<double, (double Current, double Slope)> Lines(params (double V, double I)[] points) => v =>
    {
        var ((v0, i0), k) = ((0.0, 0.0), 0);
        for (; k < points.Length - 1 && v > points[k].V; k++)
        {
            (v0, i0) = points[k];
        }

        var slope = (points[k].I - i0) / (points[k].V - v0);
        return (i0 + slope * (v - v0), slope);
    };

    // A closed loop at rest (flyback-supply, seed 401, case 4825, with a pin that stays alive): where the loop takes hold, the path turns back. The reference holds its pin at 2.5 V, and the
    // divider with the pin's own resistance tells the rail's voltage from that (definition of a shunt regulator), less what its gain leaves: millivolts at the pin.
    [Fact]
    public void Regulated_supply_is_found_where_its_loop_takes_hold_round_a_bend()
    {
        var circuit = Circuit(
            new Resistor("barrier", "return", "0", 1e9),
            new VoltageSource("bulk", "source", "return", 39.295),
            new Resistor("wire", "source", "bulk", 0.5),
            new Capacitor("input", "bulk", "return", 100e-9) { SeriesResistance = 0.2 },
            new Resistor("start", "bulk", "vcc", 46531),
            new Capacitor("pin", "vcc", "return", 64e-6) { SeriesResistance = 0.05 },
            new Capacitor("pin2", "vcc", "return", 64e-6) { SeriesResistance = 2.38 },
            new Capacitor("c1", "feedback", "return", 6.5e-9),
            new Resistor("clamp", "clamp", "bulk", 37115),
            new AveragedFlyback(
                "control", "vcc", "return", "feedback", "bulk", "rect", "0", "clamp",
                new ControllerParameters { StartVoltage = 18.2, StopVoltage = 0.1, RunCurrent = 6.8e-3, Frequency = 97e3, MaximumDuty = 0.9, SoftStart = 5.4e-3, Slope = 3498, OverloadDelay = 83e-3 },
                new FlybackStage
                {
                    PrimaryInductance = 639.6e-6,
                    LeakageInductance = 5.426e-6,
                    Ratio = 19.6756,
                    AuxiliaryRatio = 0.4095,
                    AuxiliaryResistance = 47.4,
                    PrimaryResistance = 0.8 + 0.78 + 0.4873,
                    SecondaryResistance = 0.04,
                    RectifierVoltage = 0.33,
                    AuxiliaryVoltage = 0.75,
                    SenseResistance = 0.4873,
                }),
            new Capacitor("out", "rect", "0", 836e-6) { SeriesResistance = 0.064 },
            new Capacitor("out2", "rect", "0", 836e-6) { SeriesResistance = 0.064 },
            new Inductor("post", "rect", "rail", 629e-9) { SeriesResistance = 0.01 },
            new Capacitor("filtered", "rail", "0", 41.6e-6) { SeriesResistance = 0.26 },
            new Resistor("load", "rail", "0", 29.63),
            new Resistor("led", "rail", "led", 1500),
            new Resistor("bias", "led", "cathode", 2200),
            new OptoCoupler("opto", "led", "cathode", "feedback", "return", 0.4892),
            new ShuntReference("reference", "ref", "0", "cathode", 2.5),
            new Resistor("upper", "rail", "ref", 94861),
            new Resistor("lower", "ref", "0", 90595),
            new Resistor("compensation", "cathode", "comp", 508.6),
            new Capacitor("c2", "comp", "ref", 31.4e-9));
        var solution = Solve(circuit);
        Near(2.5 * (1 + 94861 * (1 / 90595.0 + 1 / 1.2e6)), solution.Voltage("rail"), 4e-3);
        Assert.Equal("source stepping round a bend", solution.Evidence.Start);
    }
}
