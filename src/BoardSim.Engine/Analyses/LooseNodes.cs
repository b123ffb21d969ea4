using BoardSim.Engine.Circuits;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Analyses;

/// <summary>
/// Nodes whose common voltage a short step leaves undetermined: in an ideal capacitor that floats, <c>C/h</c> stands beside the conductance that holds both its ends, which a number of
/// sixteen places no longer shows. The matrix is singular then, and says so with any unknown.
/// </summary>
internal static class LooseNodes
{
    /// <summary>Relative addition to the diagonal that makes the matrix regular again; what it leaves undetermined then answers with the reciprocal of this.</summary>
    private const double Nudge = 1e-8;

    private const double Least = 1e-2 / Nudge;

    /// <summary>The cause in words, and what to do; null when the equations of a step are not singular, or not for that reason.</summary>
    /// <param name="system">The circuit, at the last iterate of the step that failed.</param>
    /// <param name="h">Length of the step in seconds.</param>
    public static string? Tell(CircuitSystem system, double h)
    {
        if (Find(system, h) is not { Count: > 1 } loose)
        {
            return null;
        }

        var storing = system.Circuit.Devices.Where(d => StoresBetween(system, d, loose)).Select(d => d.Name).ToList();
        return storing.Count == 0
            ? null
            : $"in so short a step, what conducts from nodes {Listed(loose.Select(k => system.Unknowns[k - 1].Name).ToList())} to the rest of the circuit is below the last place of the charges between them (parts {Listed(storing)}), "
                + "and nothing tells their common voltage. Give such a part a series resistance (10 mohm, say), or the nodes a path of less resistance";
    }

    private static List<int> Find(CircuitSystem system, double h)
    {
        var l = system.Loads;
        var (rows, columns) = (system.Rows.ToArray(), system.Columns.ToArray());
        var matrix = new double[rows.Length];
        for (var s = 1; s < matrix.Length; s++)
        {
            matrix[s] = l.C[s] + h * l.G[s];
        }

        var lu = new SparseLu<double>(system.Pattern);
        if (lu.Factor(matrix))
        {
            return [];
        }

        var answer = new double[system.Size + 1];
        for (var s = 1; s < matrix.Length; s++)
        {
            if (rows[s] == columns[s])
            {
                answer[rows[s]] = Math.Abs(matrix[s]);
                matrix[s] *= 1 + Nudge;
            }
        }

        if (!lu.Factor(matrix))
        {
            return [];
        }

        lu.Solve(answer);
        var nodes = system.Unknowns.Where(u => u is { Kind: UnknownKind.Voltage, Owner: null }).Select(u => u.Index).ToList();
        var most = nodes.Select(k => Math.Abs(answer[k])).DefaultIfEmpty(0).Max();
        return most > Least ? nodes.FindAll(k => Math.Abs(answer[k]) > most / 2) : [];
    }

    /// <summary>True for a part with a charge that the voltage between two of the nodes makes.</summary>
    private static bool StoresBetween(CircuitSystem system, Device device, List<int> nodes)
    {
        var own = device.Nodes.Select(system.NodeIndex).Where(nodes.Contains).ToHashSet();
        if (own.Count < 2)
        {
            return false;
        }

        var loads = new Loads
        {
            X = [.. system.Loads.X],
            F = new double[system.Size + 1],
            Q = new double[system.Size + 1],
            G = new double[system.Rows.Length],
            C = new double[system.Rows.Length],
        };
        device.StampConstant(loads);
        if (device.IsNonlinear)
        {
            device.Evaluate(loads);
        }

        return Enumerable.Range(1, loads.C.Length - 1)
            .Any(s => loads.C[s] != 0 && system.Rows[s] != system.Columns[s] && own.Contains(system.Rows[s]) && own.Contains(system.Columns[s]));
    }

    private static string Listed(List<string> names) => string.Join(", ", names.Take(4)) + (names.Count > 4 ? ", ..." : "");
}
