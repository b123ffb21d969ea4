using System.Diagnostics.CodeAnalysis;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Circuits;

/// <summary>
/// A compiled circuit: its unknowns, the pattern of its matrices and the devices sorted by what they have to be asked for.
/// Serves one run at a time; a parallel run compiles a clone of the circuit.
/// </summary>
public sealed class CircuitSystem
{
    /// <summary>Conductance in siemens that holds a node at its initial voltage: a microvolt off at a current of an ampere.</summary>
    private const double HoldConductance = 1e6;

    private Device[] devices;
    private Device[] nonlinear;
    private Device[] excited;
    private IDrift[] drifting;
    private readonly IReadOnlyDictionary<string, int> nodes;
    private readonly IReadOnlyDictionary<string, int> branches;
    private readonly IReadOnlyDictionary<(int Row, int Column), int> slots;
    private readonly double[] constantG;
    private readonly double[] constantC;
    private readonly int[] rows;
    private readonly int[] columns;
    private readonly int[] inTurns;
    private (int Slot, int Node, double Volts)[] holds;
    private bool holding;
    private readonly ConstantProduct productG;
    private readonly ConstantProduct productC;
    private readonly double[] scratch;
    private readonly bool[] holdsCharge;

    /// <summary>Compiles a circuit after checking parameters and structure.</summary>
    /// <param name="circuit">The circuit; it keeps its devices, which are bound to this system from now on.</param>
    /// <exception cref="CircuitException">Parameters or structure are wrong; the message names nodes and parts.</exception>
    public CircuitSystem(Circuit circuit)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        Circuit = circuit;
        var binder = Bind(circuit);
        holds = BindHolds(circuit, binder);
        Sort(circuit);
        nodes = binder.Nodes;
        branches = binder.Branches;
        slots = binder.Slots;
        Unknowns = binder.Unknowns;
        rows = [.. binder.Entries.Select(e => e.Row)];
        columns = [.. binder.Entries.Select(e => e.Column)];
        constantG = new double[rows.Length];
        constantC = new double[rows.Length];
        inTurns = InTurns(rows);
        productG = new ConstantProduct(rows, columns, inTurns);
        productC = new ConstantProduct(rows, columns, inTurns);
        PowerSign = new double[Size + 1];
        foreach (var unknown in Unknowns)
        {
            PowerSign[unknown.Index] = unknown.Kind switch { UnknownKind.Voltage => 1, UnknownKind.Current => -1, _ => 0 };
        }

        IsHeat = HeatNodes(circuit);
        EnergySign = FindEnergySigns();
        scratch = new double[Size + 1];
        holdsCharge = new bool[Size + 1];
        Loads = NewLoads();
        Pattern = new SparsePattern(Size, rows, columns);
        Restamp();
    }

    /// <summary>The circuit that was compiled, or the one that took its place.</summary>
    public Circuit Circuit { get; private set; }

    /// <summary>Number of unknowns; vectors have one element more, element 0 being the ground.</summary>
    public int Size => Unknowns.Count;

    /// <summary>The unknowns in the order of their index (first has index 1).</summary>
    public IReadOnlyList<Unknown> Unknowns { get; }

    /// <summary>True when no device has a nonlinear law: Newton then needs one iteration.</summary>
    public bool IsLinear => nonlinear.Length == 0;

    /// <summary>Row of each slot of the matrices (slot 0: dummy).</summary>
    public ReadOnlySpan<int> Rows => rows;

    /// <summary>Column of each slot of the matrices (slot 0: dummy).</summary>
    public ReadOnlySpan<int> Columns => columns;

    internal SparsePattern Pattern { get; }

    internal ITimed[] Timed { get; private set; }

    internal IDiscrete[] Discrete { get; private set; }

    internal Loads Loads { get; private set; }

    internal double[] ConstantG => constantG;

    internal double[] ConstantC => constantC;

    /// <summary>Index of a node's voltage in the solution vector, 0 for the ground.</summary>
    /// <param name="node">Name of the node.</param>
    /// <exception cref="KeyNotFoundException">The circuit has no such node.</exception>
    public int NodeIndex(string node) =>
        nodes.TryGetValue(node, out var index) ? index : throw new KeyNotFoundException($"The circuit has no node named {node}.");

    /// <summary>Index of a device's branch current, or 0 when it has none.</summary>
    /// <param name="device">Name of the device.</param>
    public int BranchIndex(string device) => branches.GetValueOrDefault(device);

    /// <summary>Slot of a matrix entry, 0 where there is none.</summary>
    internal int SlotOf(int row, int column) => slots.GetValueOrDefault((row, column));

    /// <summary>Adds the products of the constant parts of the matrices with a vector to two others.</summary>
    internal void AddLinear(double[] x, double[] f, double[] q)
    {
        productG.AddTo(f, x);
        productC.AddTo(q, x);
        f[0] = q[0] = 0;
    }

    /// <summary>Rows that sources write to.</summary>
    internal IEnumerable<int> ExcitedRows() => excited.SelectMany(d => d.ExcitedRows!).Where(r => r != 0).Distinct().Order();

    /// <summary>True when all devices tell which unknowns and rows their nonlinear and time-dependent parts reach.</summary>
    internal bool TellsItsPorts => nonlinear.All(d => d.NonlinearUnknowns is not null) && excited.All(d => d.ExcitedRows is not null);

    /// <summary>True when no source changes between two instants that have no corner between them.</summary>
    internal bool IsSteady(double from, double to)
    {
        foreach (var device in excited)
        {
            if (device is not ITimed timed || !timed.IsSteady(from, to))
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Names of all nodes but the ground, in order of their index.</summary>
    public IEnumerable<string> NodeNames => nodes.Where(n => n.Value != 0).OrderBy(n => n.Value).Select(n => n.Key);

    /// <summary>
    /// Puts another circuit in the place of the compiled one when it has parts of the same names and types and the same matrix entries,
    /// whatever their values: the analysis of the matrix is kept, and the next run gives what a system compiled afresh would give, to the last bit. That is how
    /// sweeps and tolerance runs go from case to case. No run of this system may be under way.
    /// </summary>
    /// <param name="circuit">The circuit; its devices are bound to this system from now on, those of the former circuit no longer.</param>
    /// <returns>False when its structure is another one (a part more, an inner node less); the system then stays as it was, and the circuit has
    /// to be compiled.</returns>
    /// <exception cref="CircuitException">Parameters are wrong; the message names parts.</exception>
    public bool TryRebind(Circuit circuit)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        var binder = Bind(circuit);
        var held = BindHolds(circuit, binder);
        if (!HasStructureOf(circuit, binder))
        {
            return false;
        }

        Circuit = circuit;
        holds = held;
        holding = false;
        Sort(circuit);

        // Where an earlier run left its iterates must not show in the next one.
        Loads = NewLoads();
        Restamp();
        return true;
    }

    /// <summary>Takes changed parameters and discrete states into the constant part of the matrices. Pattern and indices stay.</summary>
    public void Restamp()
    {
        Array.Clear(constantG);
        Array.Clear(constantC);
        var (g, c) = (Loads.G, Loads.C);
        (Loads.G, Loads.C) = (constantG, constantC);
        foreach (var device in devices)
        {
            device.StampConstant(Loads);
        }

        foreach (var (slot, _, _) in holding ? holds : [])
        {
            constantG[slot] += HoldConductance;
        }

        constantG[0] = constantC[0] = 0;
        productG.Take(constantG);
        productC.Take(constantC);
        (Loads.G, Loads.C) = (g, c);
    }

    /// <summary>+1 for node equations, -1 for branch equations, 0 for what is not electrical: the signs with which the products
    /// of equations and unknowns add up to the power that all parts absorb.</summary>
    internal double[] PowerSign { get; }

    /// <summary>
    /// <see cref="PowerSign"/> where an unknown times its equation is a power, zero in a thermal equivalent circuit: there a node's equation is in watts already, and kelvins times watts belong into no book of energy.
    /// (A room at 25 degC that takes up a heater's kilowatt would count as 25 kJ a second.)
    /// </summary>
    internal double[] EnergySign { get; }

    /// <summary>An unknown in words, for messages: its name and the parts connected to it.</summary>
    internal string Describe(int index)
    {
        if (index < 1)
        {
            return "no single unknown";
        }

        var unknown = Unknowns[index - 1];
        if (unknown.Owner is { } owner)
        {
            var nodes = string.Join(", ", Circuit.Find(owner)?.Nodes.Distinct(StringComparer.OrdinalIgnoreCase) ?? []);
            var what = unknown.Kind == UnknownKind.Current && unknown.Name == $"{owner}#i" ? $"the current of {owner}" : $"{unknown.Name} of part {owner}";
            return nodes.Length > 0 ? $"{what} (nodes {nodes})" : what;
        }

        var parts = Circuit.Devices.Where(d => d.Nodes.Contains(unknown.Name, StringComparer.OrdinalIgnoreCase)).Select(d => d.Name).ToList();
        var listed = string.Join(", ", parts.Take(4)) + (parts.Count > 4 ? ", ..." : "");
        return $"node {unknown.Name} (parts {listed})";
    }

    /// <summary>Which unknowns are temperatures of a thermal equivalent circuit: nodes whose equation is a balance of watts.</summary>
    internal bool[] IsHeat { get; }

    private double[] FindEnergySigns()
    {
        var signs = (double[])PowerSign.Clone();
        foreach (var unknown in Unknowns)
        {
            var isOfHeat = unknown.Kind == UnknownKind.Current && unknown.Owner is { } owner && IsBetweenHeat(Circuit[owner]);
            signs[unknown.Index] = IsHeat[unknown.Index] || isOfHeat ? 0 : signs[unknown.Index];
        }

        return signs;
    }

    /// <summary>True for a part, such as the source that stands for a room's temperature, all of whose nodes are of heat; the ground is everybody's.</summary>
    private bool IsBetweenHeat(Device device) =>
        device.Nodes.Select(NodeIndex).Where(n => n > 0).ToList() is { Count: > 0 } nodes && nodes.TrueForAll(n => IsHeat[n]);

    private bool[] HeatNodes(Circuit circuit)
    {
        var heat = new bool[Size + 1];
        foreach (var node in HeatNet.Of(circuit))
        {
            heat[NodeIndex(node)] = true;
        }

        return heat;
    }

    /// <summary>Largest absolute residual among the node equations, in amperes, or in watts among those of heat.</summary>
    internal double WorstNodeResidual(ReadOnlySpan<double> residual, bool ofHeat = false)
    {
        var worst = 0.0;
        for (var i = 1; i < residual.Length; i++)
        {
            if (PowerSign[i] > 0 && IsHeat[i] == ofHeat)
            {
                worst = Math.Max(worst, Math.Abs(residual[i]));
            }
        }

        return worst;
    }

    /// <summary>Puts discrete devices into their state before power-up.</summary>
    internal void ResetDiscrete()
    {
        foreach (var device in Discrete)
        {
            device.Reset();
        }

        Restamp();
    }

    /// <summary>True when a device keeps a clock of its own, hundreds of whose periods may be alike.</summary>
    public bool HasClock => Timed.Any(d => double.IsFinite(d.RepetitionAt(0).Edge));

    /// <summary>Moves the clocks of devices that have one of their own.</summary>
    internal void Shift(double seconds)
    {
        foreach (var device in Timed)
        {
            device.Shift(seconds);
        }
    }

    /// <summary>True when the circuit has initial node voltages.</summary>
    internal bool HasHolds => holds.Length > 0;

    /// <summary>Holds the nodes that have an initial voltage at it, or lets them go again.</summary>
    internal void Hold(bool hold)
    {
        holding = hold;
        Restamp();
    }

    /// <summary>Adds the time-dependent terms to a cleared vector.</summary>
    internal void Excite(double time, double[] e)
    {
        Array.Clear(e);
        var f = Loads.F;
        Loads.F = e;
        Loads.Time = time;
        foreach (var device in excited)
        {
            device.Excite(Loads);
        }

        foreach (var (_, node, volts) in holding ? holds : [])
        {
            e[node] -= HoldConductance * Loads.SourceScale * volts;
        }

        Loads.F = f;
        e[0] = 0;
    }

    /// <summary>Adds to rates of change of the excitation what laws with time in them change by themselves, at the iterate in <see cref="Loads"/>.</summary>
    internal void AddDrift(double time, double[] rate)
    {
        foreach (var device in drifting)
        {
            device.AddDrift(time, Loads.X, rate);
        }

        rate[0] = 0;
    }

    /// <summary>Evaluates F (with the excitation given), Q, G and C at the iterate in <see cref="Loads"/>.</summary>
    internal void Evaluate(double[] excitation)
    {
        var l = Loads;
        constantG.CopyTo(l.G, 0);
        constantC.CopyTo(l.C, 0);
        excitation.CopyTo(l.F, 0);
        Array.Clear(l.Q);
        productG.AddTo(l.F, l.X);
        productC.AddTo(l.Q, l.X);
        l.Limited = false;
        foreach (var device in nonlinear)
        {
            device.Evaluate(l);
        }

        l.F[0] = l.Q[0] = 0;
        l.Fresh = false;
    }

    /// <summary>Checks the parameters and hands out indices.</summary>
    private static Binder Bind(Circuit circuit)
    {
        var problems = circuit.Devices.SelectMany(d => d.Problems()).ToList();
        if (problems.Count > 0)
        {
            throw new CircuitException(problems);
        }

        var binder = new Binder(circuit);

        // Nodes first, so that their indices do not depend on what a device needs inside.
        foreach (var device in circuit.Devices)
        {
            foreach (var node in device.Nodes)
            {
                binder.Node(node);
            }
        }

        foreach (var device in circuit.Devices)
        {
            binder.Begin(device);
            device.Bind(binder);
        }

        return binder;
    }

    [MemberNotNull(nameof(devices), nameof(nonlinear), nameof(excited), nameof(drifting), nameof(Timed), nameof(Discrete))]
    private void Sort(Circuit circuit)
    {
        devices = [.. circuit.Devices];
        nonlinear = [.. devices.Where(d => d.IsNonlinear)];
        excited = [.. devices.Where(d => d.IsExcited)];
        drifting = [.. devices.OfType<IDrift>()];
        Timed = [.. devices.OfType<ITimed>()];
        Discrete = [.. devices.OfType<IDiscrete>()];
    }

    /// <summary>True when a circuit that has just been bound got the very indices that this system was compiled with.</summary>
    private bool HasStructureOf(Circuit circuit, Binder binder)
    {
        if (circuit.Devices.Count != devices.Length || binder.Entries.Count != rows.Length || !binder.Unknowns.SequenceEqual(Unknowns))
        {
            return false;
        }

        for (var k = 0; k < devices.Length; k++)
        {
            if (devices[k].GetType() != circuit.Devices[k].GetType() || devices[k].Name != circuit.Devices[k].Name)
            {
                return false;
            }
        }

        for (var s = 0; s < rows.Length; s++)
        {
            if (binder.Entries[s] != (rows[s], columns[s]))
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Slots in an order that takes an entry of each row in turn: no sum then waits for the one before it. Within a row the order stays.</summary>
    private static int[] InTurns(int[] rows)
    {
        var seen = new Dictionary<int, int>();
        var turn = new int[rows.Length];
        for (var s = 1; s < rows.Length; s++)
        {
            turn[s] = seen.GetValueOrDefault(rows[s]);
            seen[rows[s]] = turn[s] + 1;
        }

        return [.. Enumerable.Range(1, rows.Length - 1).OrderBy(s => turn[s]).ThenBy(s => rows[s])];
    }

    private static (int Slot, int Node, double Volts)[] BindHolds(Circuit circuit, Binder binder)
    {
        var missing = circuit.InitialVoltages.Keys.Where(n => !binder.Nodes.ContainsKey(n)).ToList();
        if (missing.Count > 0)
        {
            throw new CircuitException([.. missing.Select(n => $"Node {n} has an initial voltage, but no part connects to it.")]);
        }

        return [.. circuit.InitialVoltages.Select(v => (binder.Slot(binder.Node(v.Key), binder.Node(v.Key)), binder.Node(v.Key), v.Value))];
    }

    /// <summary>
    /// By how much guessed rates of change miss the differentiated equations at the point in <see cref="Loads"/>: -F - C x' in
    /// rows that hold charge, -a (G x' + e') in those that do not.
    /// </summary>
    internal void RateDefect(double[] rate, double[] f, double[] excitationRate, double a, double[] defect)
    {
        var (g, c) = (Loads.G, Loads.C);
        Array.Clear(defect);
        Array.Clear(scratch);
        Array.Clear(holdsCharge);
        foreach (var s in inTurns)
        {
            var (row, r) = (rows[s], rate[columns[s]]);
            defect[row] -= g[s] * r;
            if (c[s] != 0)
            {
                scratch[row] += c[s] * r;
                holdsCharge[row] = true;
            }
        }

        for (var k = 1; k < defect.Length; k++)
        {
            defect[k] = holdsCharge[k] ? -f[k] - scratch[k] : a * (defect[k] - excitationRate[k]);
        }
    }

    private Loads NewLoads() => new()
    {
        X = new double[Size + 1],
        F = new double[Size + 1],
        Q = new double[Size + 1],
        G = new double[rows.Length],
        C = new double[rows.Length],
    };
}
