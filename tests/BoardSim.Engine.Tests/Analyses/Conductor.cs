using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>Two-terminal conductor with any law i(v), for circuits whose solution is known in closed form.</summary>
internal sealed class Conductor(string name, string from, string to, Func<double, (double Current, double Slope)> law) : Device(name, from, to)
{
    private int a, b, aa, ab, ba, bb;

    public override bool IsNonlinear => true;

    public override IReadOnlyList<int>? NonlinearUnknowns => [a, b];

    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    public override void Bind(Binder binder)
    {
        (a, b) = (binder.Node(Nodes[0]), binder.Node(Nodes[1]));
        (aa, ab, ba, bb) = (binder.Slot(a, a), binder.Slot(a, b), binder.Slot(b, a), binder.Slot(b, b));
    }

    public override void Evaluate(Loads loads)
    {
        var (current, slope) = law(loads.X[a] - loads.X[b]);
        loads.F[a] += current;
        loads.F[b] -= current;
        loads.G[aa] += slope;
        loads.G[ab] -= slope;
        loads.G[ba] -= slope;
        loads.G[bb] += slope;
    }
}
