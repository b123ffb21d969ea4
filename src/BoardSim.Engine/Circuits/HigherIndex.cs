namespace BoardSim.Engine.Circuits;

/// <summary>
/// Finds unknowns that follow from rates of change of others: the voltage of a node where only inductors meet (L di/dt), the
/// current of a voltage source that closes a loop with capacitors (C dv/dt). Their error does not shrink with the step while
/// those others are held to the accuracy, so the step control leaves them out. (Estevez Schwarz and Tischendorf, Int. J.
/// Circuit Theory Appl. 28 (2000) 131: index 2 means L-I cut-sets and C-V loops; from memory.)
/// </summary>
internal static class HigherIndex
{
    /// <summary>Marks these unknowns by index.</summary>
    public static bool[] Find(CircuitSystem system)
    {
        var marked = new bool[system.Size + 1];
        var holds = new bool[system.Size + 1];
        var (capacitors, sources) = (new List<(int From, int To)>(), new List<(int From, int To, int Branch)>());
        foreach (var device in system.Circuit.Devices)
        {
            foreach (var link in device.Links)
            {
                var (from, to) = (system.NodeIndex(device.Nodes[link.From]), system.NodeIndex(device.Nodes[link.To]));
                if (link.Kind is LinkKind.Conductive or LinkKind.Capacitive or LinkKind.VoltageDefined)
                {
                    holds[from] = holds[to] = true;
                }

                if (link.Kind == LinkKind.Capacitive)
                {
                    capacitors.Add((from, to));
                }
                else if (link.Kind == LinkKind.VoltageDefined)
                {
                    sources.Add((from, to, Math.Max(0, system.BranchIndex(device.Name))));
                }
            }
        }

        foreach (var device in system.Circuit.Devices)
        {
            foreach (var link in device.Links.Where(l => l.Kind == LinkKind.Inductive))
            {
                var (from, to) = (system.NodeIndex(device.Nodes[link.From]), system.NodeIndex(device.Nodes[link.To]));
                marked[from] |= !holds[from];
                marked[to] |= !holds[to];
            }
        }

        // Every source of a loop carries the capacitors' current, also one that has another in series.
        for (var k = 0; k < sources.Count; k++)
        {
            marked[sources[k].Branch] |= IsJoinedByOthers(system, capacitors, sources, k);
        }

        marked[0] = false;
        return marked;
    }

    /// <summary>True when capacitors and the other sources join the ends of a source.</summary>
    private static bool IsJoinedByOthers(CircuitSystem system, List<(int From, int To)> capacitors, List<(int From, int To, int Branch)> sources, int source)
    {
        var root = new int[system.Size + 1];
        for (var i = 0; i < root.Length; i++)
        {
            root[i] = i;
        }

        foreach (var (from, to) in capacitors)
        {
            root[Root(from)] = Root(to);
        }

        for (var k = 0; k < sources.Count; k++)
        {
            if (k != source)
            {
                root[Root(sources[k].From)] = Root(sources[k].To);
            }
        }

        return Root(sources[source].From) == Root(sources[source].To);

        int Root(int i)
        {
            while (root[i] != i)
            {
                i = root[i] = root[root[i]];
            }

            return i;
        }
    }
}
