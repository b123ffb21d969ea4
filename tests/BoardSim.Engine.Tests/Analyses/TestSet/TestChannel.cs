using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Tests.Analyses.TestSet;

/// <summary>
/// Channel of the NAND gate's transistors in the Test Set for IVP Solvers (Shichman and Hodges' equations); terminals: inner
/// drain, inner source, gate, bulk node and outer terminal on the source's side, the same on the drain's side.
/// </summary>
internal sealed class TestChannel(
    string name, string drain, string source, string gate, string bulkSource, string outerSource, string bulkDrain, string outerDrain, TestChannel.Model model)
    : Device(name, drain, source, gate, bulkSource, outerSource, bulkDrain, outerDrain)
{
    private const double Modulation = 0.02;
    private readonly int[] node = new int[7];
    private readonly int[] drainSlot = new int[7];
    private readonly int[] sourceSlot = new int[7];

    public override bool IsNonlinear => true;

    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    public override void Bind(Binder binder)
    {
        for (var k = 0; k < 7; k++)
        {
            node[k] = binder.Node(Nodes[k]);
        }

        for (var k = 0; k < 7; k++)
        {
            drainSlot[k] = binder.Slot(node[0], node[k]);
            sourceSlot[k] = binder.Slot(node[1], node[k]);
        }
    }

    public override void Evaluate(Loads loads)
    {
        var x = loads.X;
        var vds = x[node[0]] - x[node[1]];
        var forward = vds >= 0;

        // The end that acts as the source, and the bulk voltage there.
        var (end, bulk, outer) = forward ? (1, 3, 4) : (0, 5, 6);
        Current(
            forward ? model.Forward : model.Reverse,
            Math.Abs(vds),
            x[node[2]] - x[node[end]],
            x[node[bulk]] - x[node[outer]],
            out var i,
            out var byDrain,
            out var byGate,
            out var byBulk);
        var sign = forward ? 1 : -1;
        loads.F[node[0]] += sign * i;
        loads.F[node[1]] -= sign * i;
        Add(1 - end, sign * byDrain);
        Add(end, -sign * (byDrain + byGate));
        Add(2, sign * byGate);
        Add(bulk, sign * byBulk);
        Add(outer, -sign * byBulk);

        void Add(int terminal, double slope)
        {
            loads.G[drainSlot[terminal]] += slope;
            loads.G[sourceSlot[terminal]] -= slope;
        }
    }

    private void Current(double beta, double vd, double vg, double vb, out double i, out double byDrain, out double byGate, out double byBulk)
    {
        var root = Math.Sqrt(model.Surface - vb);
        var over = vg - (model.Threshold + model.BodyEffect * (root - Math.Sqrt(model.Surface)));
        (i, byDrain, byGate, byBulk) = (0, 0, 0, 0);
        if (over <= 0)
        {
            return;
        }

        var length = 1 + Modulation * vd;
        if (over <= vd)
        {
            i = beta * over * over * length;
            byGate = 2 * beta * over * length;
            byDrain = beta * over * over * Modulation;
        }
        else
        {
            var shape = vd * (2 * over - vd);
            i = beta * shape * length;
            byGate = 2 * beta * vd * length;
            byDrain = beta * (2 * (over - vd) * length + shape * Modulation);
        }

        // The threshold falls as the bulk rises.
        byBulk = byGate * model.BodyEffect / (2 * root);
    }

    /// <summary>Parameters in volts and A/V^2; the reverse conductance parameter holds when the drain lies below the source.</summary>
    internal sealed record Model(double Threshold, double BodyEffect, double Surface, double Forward, double Reverse);
}
