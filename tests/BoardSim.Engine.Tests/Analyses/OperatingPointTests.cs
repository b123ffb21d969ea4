using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>Circuits that plain Newton from zero does not solve, or that have more than one solution.</summary>
public sealed class OperatingPointTests
{
    // n equal junctions in series carry one current: V = I R + n Vt ln(I / Is + 1) with Vt = k T / q at 300 K = 25.851999786 mV
    // (CODATA 2018), with the 1e-12 S that the engine adds across each junction; solved here by bisection on its voltage.
    [Theory]
    [InlineData(1, 1000)]
    [InlineData(20, 1000)]
    [InlineData(60, 3000)]
    [InlineData(60, 20)]
    public void Chain_of_diodes_from_a_high_voltage(int count, double volts)
    {
        var circuit = Circuit(new VoltageSource("v", "n0", "0", volts), new Resistor("r", "n0", "n1", 1e3));
        circuit.Temperature = 300;
        for (var k = 1; k <= count; k++)
        {
            circuit.Add(new Diode($"d{k}", $"n{k}", k < count ? $"n{k + 1}" : "0", new DiodeModel { SaturationCurrent = 1e-14, NominalTemperature = 300 }));
        }

        double Current(double v) => 1e-14 * (Math.Exp(v / 25.851999786e-3) - 1) + 1e-12 * v;
        var (low, high) = (0.0, 1.0);
        for (var k = 0; k < 200; k++)
        {
            var v = (low + high) / 2;
            (low, high) = Current(v) * 1e3 + count * v > volts ? (low, v) : (v, high);
        }

        var solution = Solve(circuit);
        Near(Current(low), -solution.Current("v"), 1e-7);
        Assert.InRange(solution.Evidence.PowerBalance, 0, 1e-9);
    }

    // V = Vt ln(I / Is + 1) at 300 K as above: nothing but the junction takes the current, so Newton comes from billions of volts.
    [Theory]
    [InlineData(1e-4)]
    [InlineData(1e-3)]
    [InlineData(0.1)]
    [InlineData(10)]
    public void Junction_fed_by_a_current_source(double amperes)
    {
        var circuit = Circuit(new CurrentSource("i", "0", "a", amperes), new Diode("d", "a", "0", new DiodeModel { SaturationCurrent = 1e-14, NominalTemperature = 300 }));
        circuit.Temperature = 300;
        var solution = Solve(circuit);
        Near(25.851999786e-3 * Math.Log(amperes / 1e-14 + 1), solution.Voltage("a"), 1e-9);
        Assert.InRange(solution.Evidence.WorstKclResidual, 0, 1e-9 * amperes);
    }

    // At direct current nothing flows through the capacitor, so that its far side is at the potential behind its lead. Rounding of what the ohms of its series resistance would
    // carry moves that side by millivolts, through two rows whose errors cancel where they have one sign: it has to be known for rounding wherever the part stands in the order of unknowns.
    [Fact]
    public void Capacitor_that_hangs_on_gigohms_rests_wherever_it_stands_in_the_matrix()
    {
        for (var between = 0; between < 16; between++)
        {
            var circuit = Circuit();
            circuit.Temperature = 300;
            circuit.Add(new VoltageSource("v", "supply", "0", 325));
            circuit.Add(new Resistor("r", "supply", "a", 0.4));
            circuit.Add(new Capacitor("c", "a", "lead", 330e-9) { SeriesResistance = 0.1 });
            circuit.Add(new Resistor("opened", "lead", "n", 8e9));
            circuit.Add(new Varistor("d", "a", "n", 36.3, 1e-3, 53.5));
            circuit.Add(new Resistor("neutral", "n", "0", 0.16));
            for (var k = 0; k < between; k++)
            {
                circuit.Add(new Resistor($"pad{k}", $"pad{k}", "0", 1));
            }

            var solution = Solve(circuit);
            var amperes = -solution.Current("v");

            // I = K V^alpha held by the point 36.3 V, 1 mA (Harris/Littelfuse application note AN9768, 1998).
            Near(325, 0.56 * amperes + 36.3 * Math.Pow(amperes / 1e-3, 1 / 53.5), 1e-9);
            Near(0.16 * amperes, solution.Voltage("lead"), 1e-3);
        }
    }

    // Two transistors, each holding the other's base down: the one whose collector is guessed high stays off. The bistable
    // pair of Eccles and Jordan (Radio Review 1 (1919) 143) has two stable states.
    [Theory]
    [InlineData("c1", "c2")]
    [InlineData("c2", "c1")]
    public void Latch_stays_on_the_side_that_was_guessed(string high, string low)
    {
        var latch = Circuit(
            new VoltageSource("vcc", "vcc", "0", 12),
            new Resistor("rc1", "vcc", "c1", 1e3),
            new Resistor("rc2", "vcc", "c2", 1e3),
            new Resistor("r12", "c1", "b2", 10e3),
            new Resistor("r21", "c2", "b1", 10e3),
            new BipolarTransistor("q1", "c1", "b1", "0", new BipolarModel { ForwardBeta = 100 }),
            new BipolarTransistor("q2", "c2", "b2", "0", new BipolarModel { ForwardBeta = 100 }));
        var guess = new Dictionary<string, double> { [high] = 12, [low] = 0, [high == "c1" ? "b2" : "b1"] = 0.8 };
        var solution = OperatingPoint.Solve(new CircuitSystem(latch), new OperatingPointOptions { Guess = guess });

        // The off collector hangs on 1 k, loaded by 10 k into a base at some 0.75 V: 12 - (12 - 0.75) / 11 = 10.98 V.
        Near(10.98, solution.Voltage(high), 0.01);
        Assert.InRange(solution.Voltage(low), 0, 0.2);
    }

    // Emitter-coupled trigger (O. H. Schmitt, J. Sci. Instrum. 15 (1938) 24). With Q1 off, the base of Q2 lies at the divider's
    // 12 V 10 / (1 + 5 + 10) = 7.5 V, which Q1's base must reach; with Q2 off, I = (V - 0.7) / Re through Q1 pulls that base to
    // (12 - Rc1 I) 10 / 16, which meets V at 7.7187 / 1.3125 + ... = 5.99 V for Re = 1 k, Rc1 = 1 k. Exact equality of the two
    // emitter currents at the point of switching is worth some tens of millivolts, and base currents as much again.
    [Fact]
    public void Schmitt_trigger_switches_at_its_two_levels_in_a_sweep()
    {
        var input = new VoltageSource("vin", "in", "0", 0);
        var trigger = Circuit(
            new VoltageSource("vcc", "vcc", "0", 12),
            input,
            new Resistor("rc1", "vcc", "c1", 1e3),
            new Resistor("r1", "c1", "b2", 5e3),
            new Resistor("r2", "b2", "0", 10e3),
            new Resistor("rc2", "vcc", "out", 200),
            new Resistor("re", "e", "0", 1e3),
            new BipolarTransistor("q1", "c1", "in", "e", new BipolarModel { ForwardBeta = 500 }),
            new BipolarTransistor("q2", "out", "b2", "e", new BipolarModel { ForwardBeta = 500 }));
        var up = Enumerable.Range(0, 91).Select(k => k * 0.1).ToArray();
        double[] sweep = [.. up, .. up.Reverse()];
        var output = Sweep(trigger, sweep, v => input.Waveform = new DcWaveform(v), Probe.Voltage("out"));
        var rise = sweep[Array.FindIndex(output, v => v > 11.9)];
        var fall = sweep[Array.FindIndex(output, up.Length, v => v < 11.9)];
        Assert.InRange(rise, 7.5 - 0.25, 7.5 + 0.25);

        // V = (12 - (V - 0.7)) 10 / 16 gives V = 7.9375 / 1.625 = 4.885 V for Q1 in its active region.
        Assert.InRange(fall, 4.885 - 0.25, 4.885 + 0.25);

        // Between the two levels both outputs belong to the same input.
        Assert.True(Math.Abs(output[60] - output[^61]) > 0.5, $"at 6 V: {output[60]:g4} V going up, {output[^61]:g4} V going down");
    }

    // An N-shaped law, i = 1 mA (v^3 - 6 v^2 + 9.5 v) with v in volts, on 5 V behind 500 ohm: the load line 10 mA - 2 mA v meets
    // it where v^3 - 6 v^2 + 11.5 v - 10 = 0, which has one real root (Cardano); tabulated below by bisection.
    [Fact]
    public void Negative_resistance_is_followed_round_its_bend()
    {
        var circuit = Circuit(
            new VoltageSource("v", "a", "0", 5),
            new Resistor("r", "a", "b", 500),
            new Conductor("n", "b", "0", v => (1e-3 * (((v - 6) * v + 9.5) * v), 1e-3 * ((3 * v - 12) * v + 9.5))));
        var (low, high) = (0.0, 5.0);
        for (var k = 0; k < 60; k++)
        {
            var v = (low + high) / 2;
            (low, high) = ((v - 6) * v + 11.5) * v - 10 > 0 ? (low, v) : (v, high);
        }

        Near(low, Solve(circuit).Voltage("b"), 1e-9);
    }

    // Newton from zero overshoots on a law that saturates: |v| > 1.39 diverges for the arc tangent (Dennis and Schnabel,
    // Numerical Methods for Unconstrained Optimization, 1983, section 2.4). i = atan(v - 8) + v / 1000 = 0 has its root near 8.
    [Fact]
    public void Saturating_law_needs_more_than_newton_from_zero()
    {
        var circuit = Circuit(
            new Conductor("g", "a", "0", v => (Math.Atan(v - 8), 1 / (1 + (v - 8) * (v - 8)))),
            new Resistor("r", "a", "0", 1e3));
        var solution = Solve(circuit);
        Assert.NotEqual("newton", solution.Evidence.Start);
        var v = solution.Voltage("a");
        Assert.Equal(0, Math.Atan(v - 8) + v / 1000, 1e-9);
    }

    // A conductor that draws at least an ampere at any voltage has no operating point at all: v^2 + 1 + v / 1000 has no real root.
    [Fact]
    public void Circuit_without_solution_is_refused_with_the_node()
    {
        var circuit = Circuit(
            new Conductor("hungry", "feed", "0", v => (1 + v * v, 2 * v)),
            new Resistor("r", "feed", "0", 1e3));
        var problem = Assert.Throws<SolverException>(() => Solve(circuit));
        Assert.Contains("Newton, gmin stepping, source stepping and pseudo-transient all failed", problem.Message, StringComparison.Ordinal);
        Assert.Contains("node feed (parts hungry, r)", problem.Message, StringComparison.Ordinal);
    }

    // Found by a table of broken circuits: on its way the iterate went to gigavolts and came back, which looked like convergence
    // at 1e-11, and 8 V at 1 ohm was said to feed 20 W. It can give 8^2 / 4 = 16 W (maximum power theorem); 9 V gives 20.25 W, at
    // 9 / 2 + sqrt(81 / 4 - 20) = 5 V.
    [Fact]
    public void An_iterate_that_comes_back_from_far_away_is_no_solution()
    {
        var circuit = Circuit(
            new VoltageSource("v", "in", "0", 0),
            new Resistor("r", "in", "a", 1),
            new Conductor("load", "a", "0", v => (20 / v, -20 / (v * v))));
        var guess = new OperatingPointOptions { Guess = new Dictionary<string, double> { ["a"] = 11 } };
        var sweep = DcSweep.Run(new CircuitSystem(circuit), [12, 11, 10, 9], Set, [Probe.Voltage("a")], guess);
        Assert.Equal(5, sweep.Values(0)[^1], 1e-6);
        var problem = Assert.Throws<SolverException>(() => DcSweep.Run(new CircuitSystem(circuit), [12, 11, 10, 9, 8], Set, [Probe.Voltage("a")], guess));
        Assert.StartsWith("DC sweep at value 8 (point 5 of 5)", problem.Message, StringComparison.Ordinal);

        void Set(double volts) => circuit.Get<VoltageSource>("v").Waveform = new DcWaveform(volts);
    }

    // A source that is controlled by its own output with a gain of one says nothing about it.
    [Fact]
    public void Singular_equations_are_refused_with_the_part()
    {
        var circuit = Circuit(
            new VoltageControlledVoltageSource("e", "out", "0", "out", "0", 1),
            new Resistor("r", "out", "0", 1e3),
            new CurrentSource("i", "0", "out", 1e-3));
        var problem = Assert.Throws<SolverException>(() => Solve(circuit));
        Assert.Contains("singular", problem.Message, StringComparison.Ordinal);
        Assert.True(
            problem.Message.Contains("the current of e (nodes out, 0);", StringComparison.Ordinal) || problem.Message.Contains("node out (parts e, r, i)", StringComparison.Ordinal),
            problem.Message);
    }

    // Thevenin of a bridge, textbook: 10 V, arms 1 k / 2 k and 3 k / 1 k give 6.667 V and 2.5 V.
    [Fact]
    public void Linear_circuit_takes_newton_one_step()
    {
        var solution = Solve(
            new VoltageSource("v", "a", "0", 10),
            new Resistor("r1", "a", "l", 1e3),
            new Resistor("r2", "l", "0", 2e3),
            new Resistor("r3", "a", "r", 3e3),
            new Resistor("r4", "r", "0", 1e3));
        Near(10 * 2.0 / 3 - 2.5, solution.Voltage("l", "r"), 1e-14);
        Assert.Equal("newton", solution.Evidence.Start);
        Assert.Equal(1, solution.Evidence.NewtonIterations);
        Assert.InRange(solution.Evidence.WorstKclResidual, 0, 1e-15);
    }

    [Fact]
    public void Sweep_tells_at_which_value_it_failed()
    {
        // v^2 - v - i = 0 at 1 S has real roots up to a draw of a quarter of an ampere: the fold of a constant load.
        var load = new CurrentSource("i", "a", "0", 0);
        var circuit = Circuit(load, new Conductor("g", "a", "0", v => (v * v - v, 2 * v - 1)));
        var problem = Assert.Throws<SolverException>(
            () => Sweep(circuit, [0.1, 0.2, 0.24, 0.26], a => load.Waveform = new DcWaveform(a), Probe.Voltage("a")));
        Assert.Contains("DC sweep at value 0.26 (point 4 of 4)", problem.Message, StringComparison.Ordinal);
    }
}
