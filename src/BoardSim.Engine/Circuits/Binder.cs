namespace BoardSim.Engine.Circuits;

/// <summary>Hands out the indices of unknowns and the slots of matrix entries while a circuit is compiled.</summary>
public sealed class Binder
{
    private readonly Dictionary<string, int> nodes = new(StringComparer.OrdinalIgnoreCase) { [Circuit.Ground] = 0 };
    private readonly Dictionary<string, int> branches = new(StringComparer.OrdinalIgnoreCase);
    private readonly Dictionary<string, int> ahead = new(StringComparer.Ordinal);
    private readonly Dictionary<string, Device> devices;
    private readonly List<Unknown> unknowns = [];
    private readonly Dictionary<(int Row, int Column), int> slots = [];
    private readonly List<(int Row, int Column)> entries = [(0, 0)];
    private Device? current;

    internal Binder(Circuit circuit)
    {
        Circuit = circuit;
        devices = circuit.Devices.ToDictionary(d => d.Name, StringComparer.OrdinalIgnoreCase);
    }

    /// <summary>The circuit that is being compiled (for its temperature).</summary>
    public Circuit Circuit { get; }

    internal IReadOnlyList<Unknown> Unknowns => unknowns;

    /// <summary>Row and column of each slot; slot 0 is the ground's dummy entry.</summary>
    internal IReadOnlyList<(int Row, int Column)> Entries => entries;

    internal IReadOnlyDictionary<(int Row, int Column), int> Slots => slots;

    internal IReadOnlyDictionary<string, int> Nodes => nodes;

    /// <summary>Index of the branch current of each device that has one, by device name.</summary>
    internal IReadOnlyDictionary<string, int> Branches => branches;

    /// <summary>Index of a node's voltage; 0 for the ground.</summary>
    /// <param name="name">Name of the node.</param>
    public int Node(string name)
    {
        if (!nodes.TryGetValue(name, out var index))
        {
            index = Declare(name, UnknownKind.Voltage, null);
            nodes[name] = index;
        }

        return index;
    }

    /// <summary>Declares an unknown of the device that is being bound.</summary>
    /// <param name="suffix">What it is, in a word; its full name is the device's name, <c>#</c> and this.</param>
    /// <param name="kind">Its physical quantity.</param>
    public int Internal(string suffix, UnknownKind kind)
    {
        var name = $"{current!.Name}#{suffix}";
        return ahead.TryGetValue(name, out var index) ? index : Declare(name, kind, current.Name);
    }

    /// <summary>The same of another device that the current one follows, which may be bound later.</summary>
    /// <param name="other">The other device.</param>
    /// <param name="suffix">Suffix that the other device declares it by.</param>
    /// <param name="kind">Its quantity.</param>
    internal int InternalOf(Device other, string suffix, UnknownKind kind)
    {
        var name = $"{other.Name}#{suffix}";
        if (unknowns.FirstOrDefault(u => u.Name == name) is { } declared)
        {
            return declared.Index;
        }

        return ahead[name] = Declare(name, kind, other.Name);
    }

    /// <summary>Declares the current of a voltage-defined branch or inductor, in amperes from first to second terminal, and
    /// makes it known to controlled sources by the device's name.</summary>
    public int Branch()
    {
        // A current-controlled device that is bound earlier may have asked for it already.
        if (!branches.TryGetValue(current!.Name, out var index))
        {
            index = Internal("i", UnknownKind.Current);
            branches[current.Name] = index;
        }

        return index;
    }

    /// <summary>Index of the branch current of another device, for current-controlled devices and coupled windings.</summary>
    /// <param name="device">Name of a device that declares a branch (voltage source, inductor).</param>
    /// <exception cref="CircuitException">There is no such device, or it has no branch current.</exception>
    public int BranchOf(string device)
    {
        if (branches.TryGetValue(device, out var index))
        {
            return index;
        }

        if (!devices.TryGetValue(device, out var owner))
        {
            throw new CircuitException($"{current!.Name} refers to {device}, which is not in the circuit; add it, or correct the name.");
        }

        if (owner is not IBranch)
        {
            throw new CircuitException(
                $"{current!.Name} refers to the current of {device}, which has none of its own; put a 0 V source in series with {device} and refer to that.");
        }

        index = Declare($"{owner.Name}#i", UnknownKind.Current, owner.Name);
        branches[owner.Name] = index;
        return index;
    }

    /// <summary>The device of that name and type, for devices that act on others (coupling on inductors).</summary>
    /// <typeparam name="T">Type that is needed.</typeparam>
    /// <param name="device">Name of the other device.</param>
    /// <exception cref="CircuitException">There is no such device, or it is of another type.</exception>
    public T Other<T>(string device)
        where T : Device =>
        devices.TryGetValue(device, out var found)
            ? found as T ?? throw new CircuitException($"{current!.Name} needs {device} to be a {typeof(T).Name}, but it is a {found.GetType().Name}.")
            : throw new CircuitException($"{current!.Name} refers to {device}, which is not in the circuit; add it, or correct the name.");

    /// <summary>Slot of a matrix entry in <see cref="Loads.G"/> and <see cref="Loads.C"/>; the same pair gets the same slot. 0 when
    /// row or column is the ground.</summary>
    /// <param name="row">Index of the equation.</param>
    /// <param name="column">Index of the unknown.</param>
    public int Slot(int row, int column)
    {
        if (row == 0 || column == 0)
        {
            return 0;
        }

        if (!slots.TryGetValue((row, column), out var slot))
        {
            slot = entries.Count;
            entries.Add((row, column));
            slots[(row, column)] = slot;
        }

        return slot;
    }

    internal void Begin(Device device) => current = device;

    private int Declare(string name, UnknownKind kind, string? owner)
    {
        var index = unknowns.Count + 1;
        unknowns.Add(new Unknown(index, name, kind, owner));
        return index;
    }
}

/// <summary>Marks a device whose <see cref="Device.Bind"/> declares a branch current.</summary>
public interface IBranch;
