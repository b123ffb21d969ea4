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
        var root = new int[system.Size + 1];
        for (var i = 0; i < root.Length; i++)
        {
            root[i] = i;
        }

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
                    root[Root(from)] = Root(to);
                }
            }
        }

        foreach (var device in system.Circuit.Devices)
        {
            foreach (var link in device.Links)
            {
                var (from, to) = (system.NodeIndex(device.Nodes[link.From]), system.NodeIndex(device.Nodes[link.To]));
                if (link.Kind == LinkKind.Inductive)
                {
                    marked[from] |= !holds[from];
                    marked[to] |= !holds[to];
                }

                if (link.Kind == LinkKind.VoltageDefined && system.BranchIndex(device.Name) is var branch and > 0)
                {
                    // A second source across the same capacitors closes the same loop, so sources join what they span.
                    marked[branch] = Root(from) == Root(to);
                    root[Root(from)] = Root(to);
                }
            }
        }

        marked[0] = false;
        return marked;

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
