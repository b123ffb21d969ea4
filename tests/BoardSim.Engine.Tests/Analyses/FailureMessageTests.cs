namespace BoardSim.Engine.Tests.Analyses;

/// <summary>The exact words that a user gets for each broken circuit: where, when, which node and part, and what to try.</summary>
public sealed class FailureMessageTests
{
    [Theory]
    [MemberData(nameof(Told))]
    public void Message_is_told_word_for_word(string circuit, string message) => Assert.Equal(message, BrokenCircuits.Message(circuit));

    [Fact]
    public void Every_broken_circuit_is_in_the_table() =>
        Assert.Equal(BrokenCircuits.Names.Order(StringComparer.Ordinal), Told.Select(row => (string)row[0]).Order(StringComparer.Ordinal));

    // Kirchhoff's voltage law: with the series resistance that the message asks for, both gigohms halve the 10 V, within the accuracy asked.
    [Fact]
    public void Capacitor_on_gigohms_is_computed_with_what_the_message_asks_for()
    {
        var run = BrokenCircuits.Floating(seriesResistance: 10e-3);
        Assert.Equal(5, run.Values(0)[^1], 5e-4);
        Assert.Equal(5, run.Values(1)[^1], 5e-4);
    }

    public static TheoryData<string, string> Told { get; } = new()
    {
        {
            "part of the circuit hangs on capacitors",
            "Nodes b, c (parts C1, R2, C2) have no conducting path to the ground (node 0); add one, for example a 1 Gohm resistor from b to 0."
        },
        {
            "node between two capacitors",
            "Node mid (parts C1, C2) has no conducting path to the ground (node 0); add one, for example a 1 Gohm resistor from mid to 0."
        },
        {
            "island without any path",
            "Nodes x, y (parts R2, R3) have no path at all to the ground (node 0); add one, for example a 1 Gohm resistor from x to 0."
        },
        {
            "two sources in parallel",
            "V1, V2 form a loop of voltage sources at nodes a, 0, which contradict each other; take one out, or add a series resistance (1 mohm, say) to "
                + "V2."
        },
        {
            "controlled source across a source",
            "E1, V1 form a loop of voltage sources at nodes a, 0, which contradict each other; take one out, or add a series resistance (1 mohm, say) to "
                + "V1."
        },
        {
            "source across a coil",
            "V1, L1 form a loop of voltage sources and inductors at nodes a, 0, whose direct current has no limit; add a series resistance (1 mohm, say) "
                + "to L1."
        },
        {
            "coils in parallel",
            "L1, L2 form a loop of voltage sources and inductors at nodes a, b, whose direct current has no limit; add a series resistance (1 mohm, say) "
                + "to L2."
        },
        {
            "current source into a capacitor",
            "Node a (parts I1, C1) has no conducting path to the ground (node 0), and the current of I1 has nowhere to go; add a resistor from a to 0."
        },
        {
            "current sources in series",
            "Node a (parts I1, I2) has no conducting path to the ground (node 0), and the current of I1, I2 has nowhere to go; add a resistor from a to "
                + "0."
        },
        {
            "control of a source left open",
            "Node sense is sensed by E1, and nothing drives it; connect it, or correct its name."
        },
        {
            "short-circuited source",
            "V1 is connected to node a at both ends; connect it across two nodes."
        },
        {
            "model that is missing",
            "board.cir:3:8: There is no model dfast; state it with .model dfast D(...)."
        },
        {
            "coil that is missing",
            "board.cir:5:7: K1 refers to L2, which is no part (did you mean L1?)."
        },
        {
            "capacitance below zero",
            "board.cir:4:1: C1: capacitance -1E-06 F; it must be zero or more and finite."
        },
        {
            "inductance of zero",
            "board.cir:4:1: L1: inductance 0 H; it must be positive and finite."
        },
        {
            "resistance that is no number",
            "board.cir:3:8: 'nan' is neither a number nor the name of a model. Here stands the resistance in ohms."
        },
        {
            "coupling above one",
            "board.cir:7:1: K1: coupling coefficient 1.2; it must lie from -1 to 1."
        },
        {
            "conductances that cancel out",
            "Operating point: the equations are singular at node a (parts I1, R1, G1); what conducts there adds up to nothing: give the node another "
                + "conducting path to the ground, or look for a controlled source of the wrong sign."
        },
        {
            "switch that shorts its own control",
            "Operating point: the states of S1 keep changing; the circuit has no stable state at direct current. Start the run from initial conditions "
                + "(UIC) instead."
        },
        {
            "resonance without loss",
            "AC analysis at 0.159154943 Hz: the equations are singular at the current of L1 (nodes b, a); look there for a resonance without loss, and "
                + "give it some (1 mohm, say)."
        },
        {
            "switch without hysteresis",
            "Transient at t = 1.4e-06 s: S1 changes its state again and again without time passing. Give its thresholds some hysteresis, or its control "
                + "node some capacitance."
        },
        {
            "switch at its threshold from the start",
            "Transient at t = 0 s: the state of S1 keeps changing under the initial conditions. Give its thresholds some hysteresis, or its control node "
                + "some capacitance."
        },
        {
            "parameter set to no number",
            "r2: resistance NaN ohm; it must be finite and not zero (take 1 mohm for a link)."
        },
        {
            "several parameters out of range",
            "r2: resistance 0 ohm; it must be finite and not zero (take 1 mohm for a link).\nc1: capacitance Infinity F; it must be zero or more and "
                + "finite."
        },
        {
            "square law without a solution",
            "Operating point: Newton, gmin stepping, source stepping and pseudo-transient all failed; the worst unknown is node a (parts r1, square). "
                + "Check the part values there, or start the run from initial conditions (UIC)."
        },
        {
            "load beyond what the source can give",
            "Operating point: Newton, gmin stepping, source stepping and pseudo-transient all failed; the worst unknown is the current of v1 (nodes in, "
                + "0). Check the part values there, or start the run from initial conditions (UIC)."
        },
        {
            "load beyond what the source can give, in a sweep",
            "DC sweep at value 8 (point 5 of 6): Operating point: Newton, gmin stepping, source stepping and pseudo-transient all failed; the worst "
                + "unknown is the current of v1 (nodes in, 0). Check the part values there, or start the run from initial conditions (UIC)."
        },
        {
            "constant-power load through a sag",
            "Transient at t = 0.00226974 s with a step of 3e-17 s: Newton did not converge; the worst unknown is the current of v1 (nodes in, 0). Look "
                + "there for a jump that nothing limits (add a small resistance or capacitance), or ask for less accuracy."
        },
        {
            "growth beyond all bounds",
            "Transient at t = 1 s with a step of 1e-14 s: the error estimate stays too large; the worst unknown is node hot (parts c1, runaway). Look "
                + "there for a jump that nothing limits (add a small resistance or capacitance), or ask for less accuracy."
        },
        {
            "start that contradicts a part",
            "Transient at t = 0 s with a step of 7e-22 s: the initial conditions admit no solution that Newton could find; the worst unknown is node a "
                + "(parts r1, square). Look there for a jump that nothing limits (add a small resistance or capacitance), or ask for less accuracy."
        },
        {
            "converter that its start resistor cannot feed",
            "Operating point: the states of u1 keep changing; the circuit has no stable state at direct current. Start the run from initial conditions "
                + "(UIC) instead."
        },
        {
            "heating element that gives its heat to nothing",
            "Node chamber is sensed by element, and nothing drives it; connect it, or correct its name."
        },
        {
            "contact of a relay that is missing",
            "contact refers to k1, which is not in the circuit; add it, or correct the name."
        },
        {
            "tachometer of a motor that is missing",
            "tacho refers to m1, which is not in the circuit; add it, or correct the name."
        },
        {
            "rectifier without its capacitor",
            "bridge refers to c_bulk, which is not in the circuit; add it, or correct the name."
        },
        {
            "fuse for no current and a joint of no resistance",
            "f1: melting I2t 0; it must be positive.\njoint: resistance at 20 degC 0; it must be positive."
        },
        {
            "capacitor on gigohms in steps of picoseconds",
            "Transient at t = 0.001 s with a step of 4e-12 s: in so short a step, what conducts from nodes a, b to the rest of the circuit is below the last place "
                + "of the charges between them (parts c1), and nothing tells their common voltage. Give such a part a series resistance (10 mohm, say), or the nodes a path of less resistance."
        },
        {
            "opto-coupler with nothing on its light's side",
            "Nodes led, cathode (parts u2) have no conducting path to the ground (node 0); add one, for example a 1 Gohm resistor from led to 0."
        },
    };
}
