namespace BoardSim.Engine.Circuits;

/// <summary>
/// The nonlinear devices of a circuit as laws between port voltages and port currents and charges, so that everything linear
/// can be worked out beforehand. A port is the voltage between two unknowns, or an unknown by itself where a device has a
/// hidden connection to the ground. All laws are asked for at several instants at once; values stand port by port, those of
/// one port one after the other.
/// </summary>
internal sealed class PortSet
{
    private readonly CircuitSystem system;
    private readonly Member[] members;
    private readonly int instants;

    /// <summary>Finds the ports.</summary>
    /// <param name="system">The circuit.</param>
    /// <param name="instants">Number of instants that the laws are asked for at.</param>
    public PortSet(CircuitSystem system, int instants)
    {
        (this.system, this.instants) = (system, instants);
        var (plus, minus, blocks) = (new List<int>(), new List<int>(), 0);
        var list = new List<Member>();
        foreach (var device in system.Circuit.Devices.Where(d => d.IsNonlinear))
        {
            var member = device is IOnePort port ? One(device, port) : Several(device, system);
            member.First = plus.Count;
            member.Block = blocks;
            plus.AddRange(member.Plus);
            minus.AddRange(member.Plus.Select(_ => member.Reference));
            blocks += member.Plus.Length * member.Plus.Length;
            if (member.Plus.Length > 0)
            {
                list.Add(member);
            }
        }

        members = [.. list];
        (Plus, Minus, Blocks) = ([.. plus], [.. minus], blocks);
        IsDiagonal = blocks == Plus.Length;
        Groups = [.. members.Select(m => (m.First, m.Plus.Length, m.Block))];
    }

    /// <summary>Number of ports.</summary>
    public int Count => Plus.Length;

    /// <summary>Index of the unknown at each port's positive side; its row receives the port's current.</summary>
    public int[] Plus { get; }

    /// <summary>Index of the unknown at each port's negative side, 0 for none.</summary>
    public int[] Minus { get; }

    /// <summary>Elements that the slopes of all devices take at one instant, one square block after the other, row by row.</summary>
    public int Blocks { get; }

    /// <summary>True when no device has more than one port.</summary>
    public bool IsDiagonal { get; }

    /// <summary>The ports of each device: first port, number of ports, first element of its block of slopes.</summary>
    public (int First, int Count, int Block)[] Groups { get; }

    /// <summary>Evaluates all laws, without limiting.</summary>
    /// <param name="times">The instants in seconds.</param>
    /// <param name="v">Port voltages: port by port, instant by instant.</param>
    /// <param name="law">Receives currents and charges in the same order; slopes block element by element, instant by instant.</param>
    public void Evaluate(ReadOnlySpan<double> times, ReadOnlySpan<double> v, PortLaws law)
    {
        var loads = system.Loads;
        var limiting = loads.Limiting;
        loads.Limiting = false;
        foreach (var member in members)
        {
            if (member.Port is { } port)
            {
                EvaluateOne(member, port, v, loads.Gmin, law);
                continue;
            }

            for (var i = 0; i < instants; i++)
            {
                loads.Time = times[i];
                EvaluateSeveral(member, loads, i, v, law);
            }
        }

        loads.Limiting = limiting;
    }

    private void EvaluateOne(Member member, IOnePort port, ReadOnlySpan<double> v, double gmin, PortLaws law)
    {
        var (at, block) = (member.First * instants, member.Block * instants);
        var mine = new PortLaws(
            law.Current.Slice(at, instants), law.Conductance.Slice(block, instants), law.Charge.Slice(at, instants), law.Capacitance.Slice(block, instants));
        if (port.Direction > 0)
        {
            port.Law(v.Slice(at, instants), gmin, mine);
            return;
        }

        Span<double> turned = stackalloc double[instants];
        for (var i = 0; i < instants; i++)
        {
            turned[i] = -v[at + i];
        }

        port.Law(turned, gmin, mine);
        for (var i = 0; i < instants; i++)
        {
            (mine.Current[i], mine.Charge[i]) = (-mine.Current[i], -mine.Charge[i]);
        }
    }

    private void EvaluateSeveral(Member member, Loads loads, int instant, ReadOnlySpan<double> v, PortLaws law)
    {
        var (plus, slots) = (member.Plus, member.Slots);
        foreach (var u in member.Touched)
        {
            (loads.X[u], loads.F[u], loads.Q[u]) = (0, 0, 0);
        }

        for (var a = 0; a < plus.Length; a++)
        {
            loads.X[plus[a]] = v[(member.First + a) * instants + instant];
        }

        foreach (var s in member.AllSlots)
        {
            (loads.G[s], loads.C[s]) = (0, 0);
        }

        loads.X[0] = 0;
        member.Device.Evaluate(loads);
        for (var a = 0; a < plus.Length; a++)
        {
            var at = (member.First + a) * instants + instant;
            (law.Current[at], law.Charge[at]) = (loads.F[plus[a]], loads.Q[plus[a]]);
            for (var b = 0; b < plus.Length; b++)
            {
                var element = (member.Block + a * plus.Length + b) * instants + instant;
                var s = slots[a, b];
                (law.Conductance[element], law.Capacitance[element]) = s == 0 ? (0, 0) : (loads.G[s], loads.C[s]);
            }
        }
    }

    /// <summary>A junction from ground to ground has no port at all.</summary>
    private static Member One(Device device, IOnePort port) => new(device, port, port.Positive == 0 ? [] : [port.Positive], port.Negative);

    private static Member Several(Device device, CircuitSystem system)
    {
        var touched = device.NonlinearUnknowns!.Distinct().ToArray();
        var ownReference = device.IsFloating && !touched.Contains(0);
        var reference = ownReference ? touched[^1] : 0;
        var plus = touched.Where(u => u != 0 && (!ownReference || u != reference)).ToArray();
        var member = new Member(device, null, plus, reference) { Touched = touched, Slots = new int[plus.Length, plus.Length] };
        var all = new List<int>();
        foreach (var row in touched)
        {
            foreach (var column in touched)
            {
                var slot = system.SlotOf(row, column);
                all.Add(slot);
                var (a, b) = (Array.IndexOf(plus, row), Array.IndexOf(plus, column));
                if (a >= 0 && b >= 0)
                {
                    member.Slots[a, b] = slot;
                }
            }
        }

        member.AllSlots = [.. all.Where(s => s != 0).Distinct()];
        return member;
    }

    private sealed class Member(Device device, IOnePort? port, int[] plus, int reference)
    {
        public Device Device { get; } = device;

        public IOnePort? Port { get; } = port;

        public int[] Plus { get; } = plus;

        public int Reference { get; } = reference;

        public int First { get; set; }

        public int Block { get; set; }

        public int[] Touched { get; init; } = [];

        public int[] AllSlots { get; set; } = [];

        public int[,] Slots { get; init; } = new int[0, 0];
    }
}
