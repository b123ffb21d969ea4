using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Numerics;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>
/// Error against step length, measured with equal steps: it must fall with the power that the method's order promises
/// (Hairer, Norsett and Wanner, Solving Ordinary Differential Equations I, 2nd ed. 1993, theorem II.3.4).
/// </summary>
public sealed class ConvergenceTests
{
    public static TheoryData<string> Names => new(StageMethod.All.Select(m => m.Name));

    // C v' = -k v^3 has the closed form v = v0 / sqrt(1 + 2 k v0^2 t / C) (separation of variables).
    [Theory]
    [MemberData(nameof(Names))]
    public void Cubic_discharge_converges_with_the_nominal_order(string name)
    {
        AssertOrder(name, Error, 64);

        double Error(StageMethod method, int steps)
        {
            var circuit = Circuit(
                new Capacitor("c", "a", "0", 1) { InitialVoltage = 2 },
                new Conductor("g", "a", "0", v => (v * v * v, 3 * v * v)));
            return Math.Abs(End(circuit, method, 1, steps, "a") - 2 / Math.Sqrt(1 + 8));
        }
    }

    // The charge bends instead of the current: a nonlinear capacitance, and a node that follows algebraically (index 1). With
    // q = v + v^3 / 3 and i = v: (1 + v^2) v' = -v, so ln v + v^2 / 2 = ln v0 + v0^2 / 2 - t.
    [Theory]
    [MemberData(nameof(Names))]
    public void Bent_charge_behind_a_divider_converges_with_the_nominal_order(string name)
    {
        AssertOrder(name, Error, 8);

        double Error(StageMethod method, int steps)
        {
            var circuit = Circuit(
                new BentCapacitor("c", "a", "0"),
                new Resistor("r1", "a", "half", 0.5),
                new Resistor("r2", "half", "0", 0.5));
            circuit.InitialVoltages["a"] = 1.5;
            var (low, high) = (0.1, 1.5);
            for (var k = 0; k < 60; k++)
            {
                var v = (low + high) / 2;
                (low, high) = Math.Log(v) + v * v / 2 > Math.Log(1.5) + 1.125 - 1 ? (low, v) : (v, high);
            }

            return Math.Abs(2 * End(circuit, method, 1, steps, "half") - low);
        }
    }

    // Driven oscillation, v' = -w + v - v^3 / 3 + sin t, w' = v, as in van der Pol's triode circuit
    // (Phil. Mag. 2 (1926) 978); no closed form, so the classical explicit method of Runge and Kutta with steps of 1e-4
    // (error about 1e-15) stands in.
    [Theory]
    [MemberData(nameof(Names))]
    public void Driven_oscillator_converges_with_the_nominal_order(string name)
    {
        var (v, w) = (1.0, 0.5);
        const int count = 20000;
        const double h = 2.0 / count;
        for (var k = 0; k < count; k++)
        {
            var t = k * h;
            var (a1, b1) = Slope(t, v, w);
            var (a2, b2) = Slope(t + h / 2, v + h / 2 * a1, w + h / 2 * b1);
            var (a3, b3) = Slope(t + h / 2, v + h / 2 * a2, w + h / 2 * b2);
            var (a4, b4) = Slope(t + h, v + h * a3, w + h * b3);
            v += h / 6 * (a1 + 2 * a2 + 2 * a3 + a4);
            w += h / 6 * (b1 + 2 * b2 + 2 * b3 + b4);
        }

        AssertOrder(name, (method, steps) => Math.Abs(End(Oscillator(), method, 2, steps, "a") - v), 16);

        static (double, double) Slope(double t, double v, double w) => (-w - v * v * v / 3 + v + Math.Sin(t), v);

        // The current of the inductor, 0.5 A at first, is w.
        static Circuit Oscillator() => Circuit(
            new Capacitor("c", "a", "0", 1) { InitialVoltage = 1 },
            new Inductor("l", "a", "0", 1) { InitialCurrent = 0.5 },
            new Conductor("g", "a", "0", u => (u * u * u / 3 - u, u * u - 1)),
            new CurrentSource("i", "0", "a", new SineWaveform { Amplitude = 1, Frequency = 1 / (2 * Math.PI) }));
    }

    // The local error estimate falls with the order of the worse solution plus one, which is what the step control reckons with.
    [Theory]
    [MemberData(nameof(Names))]
    public void Error_estimate_falls_with_the_order_that_step_control_reckons_with(string name)
    {
        var method = StageMethod.All.Single(m => m.Name == name);
        Assert.InRange(Math.Log2(Estimate(0.02) / Estimate(0.01)), method.EstimateOrder + 0.75, method.EstimateOrder + 1.25);

        double Estimate(double h)
        {
            var circuit = Circuit(new Capacitor("c", "a", "0", 1) { InitialVoltage = 1 }, new Conductor("g", "a", "0", v => (v * v * v, 3 * v * v)));
            var (_, stages, tight) = SingleSteps.Prepare(circuit, method);
            Assert.True(stages.TryStep(SingleSteps.Entry, h, tight, out var size, out _));
            return size;
        }
    }

    private static void AssertOrder(string name, Func<StageMethod, int, double> error, int steps)
    {
        var method = StageMethod.All.Single(m => m.Name == name);

        var slope = Math.Log2(error(method, steps) / error(method, 2 * steps));
        Assert.InRange(slope, method.Order - 0.25, method.Order + 0.25);
    }

    private static double End(Circuit circuit, StageMethod method, double stop, int steps, string node)
    {
        var (system, stages, tight) = SingleSteps.Prepare(circuit, method);
        var h = (stop - SingleSteps.Entry) / steps;
        for (var k = 0; k < steps; k++)
        {
            Assert.True(stages.TryStep(SingleSteps.Entry + k * h, h, tight, out _, out _));
            stages.Advance(smooth: true);
        }

        return stages.Values[0][system.NodeIndex(node)];
    }

    /// <summary>Capacitance of 1 F (1 + v^2): q = v + v^3 / 3.</summary>
    private sealed class BentCapacitor(string name, string from, string to) : Device(name, from, to)
    {
        private int a, b, aa, ab, ba, bb;

        public override bool IsNonlinear => true;

        public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Capacitive)];

        public override void Bind(Binder binder)
        {
            (a, b) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]));
            (aa, ab, ba, bb) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(b, a), binder.Slot(b, b));
        }

        public override void Evaluate(Loads loads)
        {
            var v = loads.X[a] - loads.X[b];
            var (charge, capacitance) = (v + v * v * v / 3, 1 + v * v);
            loads.Q[a] += charge;
            loads.Q[b] -= charge;
            loads.C[aa] += capacitance;
            loads.C[ab] -= capacitance;
            loads.C[ba] -= capacitance;
            loads.C[bb] += capacitance;
        }
    }
}
