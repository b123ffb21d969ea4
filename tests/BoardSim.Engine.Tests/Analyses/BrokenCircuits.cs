using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Converters;
using BoardSim.Engine.Netlists;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>Circuits that cannot be computed, each broken in one way.</summary>
internal static class BrokenCircuits
{
    private static readonly Dictionary<string, string> Netlists = new(StringComparer.Ordinal)
    {
        // Structure.
        ["part of the circuit hangs on capacitors"] = "V1 in 0 5|R1 in a 1k|C1 a b 1u|R2 b c 1k|C2 c 0 1u|.op",
        ["node between two capacitors"] = "V1 in 0 5|C1 in mid 1u|C2 mid 0 1u|.op",
        ["island without any path"] = "V1 in 0 5|R1 in 0 1k|R2 x y 1k|R3 x y 2k|.tran 1u 1m uic",
        ["two sources in parallel"] = "V1 a 0 5|V2 a 0 6|R1 a 0 1k|.op",
        ["controlled source across a source"] = "E1 a 0 b 0 2|V1 a 0 1|R1 b 0 1|R2 a b 1|.op",
        ["source across a coil"] = "V1 a 0 5|L1 a 0 1m|.op",
        ["coils in parallel"] = "I1 0 a 1|L1 a b 1m|L2 a b 2m|R1 b 0 1|.op",
        ["current source into a capacitor"] = "I1 0 a 1m|C1 a 0 1u|.op",
        ["current sources in series"] = "I1 0 a 1m|I2 a 0 2m|.op",
        ["control of a source left open"] = "V1 in 0 5|R1 in 0 1k|E1 out 0 sense 0 10|R2 out 0 1k|.op",
        ["short-circuited source"] = "V1 a a 5|R1 a 0 1k|.op",

        // References and parameters.
        ["model that is missing"] = "V1 a 0 5|D1 a b dfast|R1 b 0 1k|.op",
        ["coil that is missing"] = "V1 a 0 5|L1 a b 1m|R1 b 0 1|K1 L1 L2 0.9|.op",
        ["capacitance below zero"] = "V1 a 0 5|R1 a b 1k|C1 b 0 -1u|.op",
        ["inductance of zero"] = "V1 a 0 5|R1 a b 1|L1 b 0 0|.op",
        ["resistance that is no number"] = "V1 a 0 5|R1 a 0 nan|.op",
        ["coupling above one"] = "V1 a 0 5|R1 a b 1|L1 b 0 1m|L2 c 0 1m|R2 c 0 1|K1 L1 L2 1.2|.op",

        // Operating point.
        ["conductances that cancel out"] = "I1 0 a 1m|R1 a 0 1k|G1 0 a a 0 1m|.op",
        ["switch that shorts its own control"] = "V1 s 0 5|R1 s a 1k|S1 a 0 a 0 m|.model m SW(RON=1 VT=2 VH=1)|.op",

        // Small signal.
        ["resonance without loss"] = "V1 a 0 0|I1 0 b 0 AC 1|L1 b a 1|C1 b 0 1|.ac lin 1 0.15915494309189535 0.15915494309189535",

        // Transient.
        ["switch without hysteresis"] = "V1 s 0 PULSE(0 5 1u 1u 1u 1 2)|R1 s a 1k|S1 a 0 a 0 m|.model m SW(RON=1 ROFF=1MEG VT=2 VH=0)|.tran 1u 1m",
        ["switch at its threshold from the start"] = "V1 s 0 5|R1 s a 1k|S1 a 0 a 0 m|.model m SW(RON=1 ROFF=1MEG VT=2 VH=0)|.tran 1u 1m uic",
    };

    private static readonly Dictionary<string, Action> Built = new(StringComparer.Ordinal)
    {
        ["parameter set to no number"] = () => _ = new CircuitSystem(Fed(new Resistor("r2", "a", "0", double.NaN))),
        ["several parameters out of range"] = () => _ = new CircuitSystem(Fed(new Resistor("r2", "a", "0", 0), new Capacitor("c1", "a", "0", double.PositiveInfinity))),

        // v^2 + 1 mA = 0 has no real solution.
        ["square law without a solution"] = () => OperatingPoint.Solve(new CircuitSystem(Devices.Bench.Circuit(
            new Resistor("r1", "a", "0", 1e9), new Conductor("square", "a", "0", v => (v * v + 1e-3, 2 * v))))),

        // A source of 10 V behind 1 ohm gives at most 10^2 / 4 = 25 W (maximum power theorem).
        ["load beyond what the source can give"] = () => OperatingPoint.Solve(
            new CircuitSystem(Fed(ConstantPower(30)))),
        ["load beyond what the source can give, in a sweep"] = () =>
        {
            // 9^2 / 4 = 20.25 W is enough for 20 W, 8^2 / 4 = 16 W is not.
            var circuit = Fed(ConstantPower(20));
            DcSweep.Run(
                new CircuitSystem(circuit),
                [12, 11, 10, 9, 8, 7],
                v => circuit.Get<VoltageSource>("v1").Waveform = new DcWaveform(v),
                []);
        },

        // The source sags to 3 V, and the capacitor feeds the load until nothing is left. From the 10 V before it that takes the integral of
        // C v dv / (P - (3 V - v) v / R) from 0 to 10 V; with the first microsecond, by Simpson's rule, the end is at 2.26974 ms.
        ["constant-power load through a sag"] = () => Transient.Run(
            new CircuitSystem(Devices.Bench.Circuit(
                new VoltageSource("v1", "in", "0", new PulseWaveform { Low = 12, High = 3, Delay = 1e-3, Rise = 1e-6, Fall = 1e-6, Width = 1, Period = 2 }),
                new Resistor("r1", "in", "a", 1),
                new Capacitor("c1", "a", "0", 1e-3),
                ConstantPower(20))),
            new TransientOptions { Stop = 20e-3, Accuracy = 1e-6 },
            []),

        // Ten millifarads in steps of picoseconds are 1e10 siemens and more, whose last place is 1e-6: nothing is left of the gigohms.
        ["capacitor on gigohms in steps of picoseconds"] = () => Floating(seriesResistance: 0),

        // v' = v^2 from 1 V is 1 / (1 - t): it passes all bounds at one second.
        ["growth beyond all bounds"] = () => Transient.Run(
            new CircuitSystem(Devices.Bench.Circuit(new Capacitor("c1", "hot", "0", 1) { InitialVoltage = 1 }, new Conductor("runaway", "hot", "0", v => (-v * v, -2 * v)))),
            new TransientOptions { Stop = 2, UseInitialConditions = true, Accuracy = 1e-6 },
            []),

        // Parts of the boards' blocks. A tenth of a milliampere starts the controller and does not feed it (it runs on milliamperes): it starts, falls out and starts again.
        ["converter that its start resistor cannot feed"] = () => OperatingPoint.Solve(new CircuitSystem(Devices.Bench.Circuit(
            new VoltageSource("v1", "bulk", "0", 300), new Resistor("r_start", "bulk", "vcc", 3e6), new Capacitor("c_vcc", "vcc", "0", 22e-6), new Resistor("r_feedback", "fb", "0", 1e4),
            new Resistor("r_sense", "sense", "0", 1), new Resistor("r_gate", "gate", "0", 1e4), new CurrentModeController("u1", "vcc", "0", "fb", "sense", "gate", new ControllerParameters())))),
        ["heating element that gives its heat to nothing"] = () => OperatingPoint.Solve(new CircuitSystem(Fed(new HeatingElement("element", "a", "0", "chamber", 14)))),
        ["contact of a relay that is missing"] = () => _ = new CircuitSystem(Fed(new RelayContact("contact", "a", "0", "k1"))),
        ["tachometer of a motor that is missing"] = () => _ = new CircuitSystem(Fed(new Tachometer("tacho", "a", "0", "m1"))),
        ["rectifier without its capacitor"] = () => _ = new CircuitSystem(Fed(new MeanRectifier("bridge", "a", "0", "plus", "minus", "c_bulk"))),
        ["fuse for no current and a joint of no resistance"] = () => _ = new CircuitSystem(Fed(new Fuse("f1", "a", "b", 0.05, 0, 3), new ThermalJoint("joint", "b", "0", 0))),
        ["opto-coupler with nothing on its light's side"] = () => OperatingPoint.Solve(new CircuitSystem(Fed(new OptoCoupler("u2", "led", "cathode", "a", "0", 1)))),

        // The charge says that the capacitor is at 1 V, and the part beside it takes what no voltage can give.
        ["start that contradicts a part"] = () => Transient.Run(
            new CircuitSystem(Devices.Bench.Circuit(
                new Resistor("r1", "a", "0", 1e9), new Resistor("r2", "b", "0", 1), new Capacitor("c1", "b", "0", 1e-6), new Conductor("square", "a", "0", v => (v * v + 1e-3, 2 * v)))),
            new TransientOptions { Stop = 1e-3, UseInitialConditions = true },
            []),
    };

    public static IEnumerable<string> Names => [.. Netlists.Keys, .. Built.Keys];

    /// <summary>What a user is told of a circuit.</summary>
    public static string Message(string name)
    {
        try
        {
            if (Built.TryGetValue(name, out var run))
            {
                run();
            }
            else
            {
                var netlist = NetlistReader.Read($"{name}\n{Netlists[name].Replace('|', '\n')}\n.end\n", "board.cir");
                NetlistRunner.Run(netlist, netlist.Analyses[0]);
            }
        }
        catch (Exception told) when (told is NetlistException or CircuitException or SolverException)
        {
            return told.Message.ReplaceLineEndings("\n");
        }

        return "(it was computed)";
    }

    /// <summary>A capacitor of 10 mF whose two ends hang on a gigohm each, and 10 V that are switched on within a nanosecond.</summary>
    public static TransientResult Floating(double seriesResistance) => Transient.Run(
        new CircuitSystem(Devices.Bench.Circuit(
            new VoltageSource("v1", "in", "0", new PiecewiseLinearWaveform([0, 1e-3, 1e-3 + 1e-9], [0, 0, 10])),
            new Resistor("r1", "in", "a", 1e9), new Resistor("r2", "b", "0", 1e9), new Resistor("r3", "a", "b", 100), new Capacitor("c1", "a", "b", 10e-3) { SeriesResistance = seriesResistance })),
        new TransientOptions { Stop = 4e-3, Accuracy = 1e-4 },
        [Probe.Voltage("a"), Probe.Voltage("b")]);

    /// <summary>A load that takes its power at any voltage but zero, where the search begins.</summary>
    private static Conductor ConstantPower(double watts) => new("load", "a", "0", v => v == 0 ? (0, 0) : (watts / v, -watts / (v * v)));

    private static Circuit Fed(params Device[] parts) =>
        Devices.Bench.Circuit([new VoltageSource("v1", "in", "0", 10), new Resistor("r1", "in", "a", 1), .. parts]);
}
