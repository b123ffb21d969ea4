using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Tests.Analyses.TestSet;

/// <summary>
/// Bulk junction of the NAND gate in the Test Set for IVP Solvers: conducts in reverse only, 1e-14 A (exp(v / 25.85) - 1), with
/// a depletion capacitance of 2.4e-5 F / sqrt(1 - v / 0.87) that goes on in a straight line when forward biased.
/// </summary>
internal sealed class TestJunction(string name, string bulk, string terminal) : Device(name, bulk, terminal)
{
    private const double Zero = 2.4e-5;
    private const double Potential = 0.87;
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
        var e = v <= 0 ? 1e-14 * Math.Exp(v / 25.85) : 1e-14;
        var root = Math.Sqrt(1 - Math.Min(v, 0) / Potential);
        var capacitance = v <= 0 ? Zero / root : Zero * (1 + v / (2 * Potential));
        var charge = v <= 0 ? 2 * Potential * Zero * (1 - root) : Zero * v * (1 + v / (4 * Potential));
        Pair(loads.F, e - 1e-14);
        Pair(loads.Q, charge);
        Square(loads.G, v <= 0 ? e / 25.85 : 0);
        Square(loads.C, capacitance);
    }

    private void Pair(double[] vector, double value)
    {
        vector[a] += value;
        vector[b] -= value;
    }

    private void Square(double[] matrix, double value)
    {
        matrix[aa] += value;
        matrix[ab] -= value;
        matrix[ba] -= value;
        matrix[bb] += value;
    }
}
