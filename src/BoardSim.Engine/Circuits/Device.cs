namespace BoardSim.Engine.Circuits;

/// <summary>
/// The device contract. A device tells its currents and charges (or fluxes) at given unknowns, and their derivatives;
/// it never differentiates in time and never knows the integrator. The circuit's equations are
/// <c>d/dt Q(x) + F(x, t) = 0</c>, one row per unknown: for a node the sum of the currents that leave it, for a branch
/// unknown the branch's own law.
/// <list type="number">
/// <item><see cref="Bind"/> names the unknowns and matrix entries that the device touches; it is called once per compilation.</item>
/// <item><see cref="StampConstant"/> writes derivatives that do not depend on the unknowns. The engine multiplies them out
/// itself, so a linear device writes nothing else. Called again when a parameter or a discrete state changed.</item>
/// <item><see cref="Excite"/> adds terms of F that depend on time alone (independent sources).</item>
/// <item><see cref="Evaluate"/> adds the nonlinear remainder of F and Q and its derivatives; called once per Newton iteration.</item>
/// </list>
/// A device with known corners in time, with discrete states or with a start value implements
/// <see cref="ITimed"/>, <see cref="IDiscrete"/> or <see cref="IInitial"/> as well. Parameters are plain properties; a
/// device serves one compiled system at a time, so a parallel run compiles a clone.
/// </summary>
public abstract class Device
{
    private string[] nodes;

    /// <summary>Creates a device between named nodes.</summary>
    /// <param name="name">Unique within the circuit, case-insensitive, not empty.</param>
    /// <param name="nodes">Node names in the device's terminal order; <c>0</c> is the ground.</param>
    /// <exception cref="ArgumentException">The name or a node name is empty.</exception>
    protected Device(string name, params string[] nodes)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        ArgumentNullException.ThrowIfNull(nodes);
        foreach (var node in nodes)
        {
            ArgumentException.ThrowIfNullOrWhiteSpace(node, nameof(nodes));
        }

        Name = name;
        this.nodes = [.. nodes];
    }

    /// <summary>Name, unique within its circuit (case-insensitive).</summary>
    public string Name { get; private set; }

    /// <summary>Names of the nodes that the terminals are connected to, in terminal order.</summary>
    public IReadOnlyList<string> Nodes => nodes;

    /// <summary>True when <see cref="Evaluate"/> has to be called: part of the device's law is not linear.</summary>
    public virtual bool IsNonlinear => false;

    /// <summary>True when the nonlinear part depends on differences of node voltages only and its currents and charges sum to zero
    /// over these nodes: what is true of every part that has no hidden connection to the ground.</summary>
    public virtual bool IsFloating => false;

    /// <summary>Indices of the unknowns that <see cref="Evaluate"/> reads and whose rows it adds to, known once the device is bound; a
    /// test holds the devices of this library to that. Null when the device does not tell: its circuit then gets no steps of high order.</summary>
    public virtual IReadOnlyList<int>? NonlinearUnknowns => null;

    /// <summary>True when <see cref="Excite"/> has to be called: part of the law depends on time alone.</summary>
    public virtual bool IsExcited => false;

    /// <summary>Indices of the rows that <see cref="Excite"/> adds to, known once the device is bound. Null when the device does not
    /// tell: its circuit then gets no steps of high order.</summary>
    public virtual IReadOnlyList<int>? ExcitedRows => null;

    /// <summary>Terminals that lie in a thermal equivalent circuit, from 0: what flows there is heat, in watts, and no current.</summary>
    public virtual IReadOnlyList<int> HeatTerminals => [];

    /// <summary>What the structural check may assume between pairs of terminals, at direct current.</summary>
    public abstract IEnumerable<Link> Links { get; }

    /// <summary>Declares unknowns and matrix entries and keeps the returned indices for the stamps.</summary>
    /// <param name="binder">Hands out indices; index and slot 0 stand for the ground and may be written to freely.</param>
    public abstract void Bind(Binder binder);

    /// <summary>Adds derivatives that are constant until the next change of a parameter or a discrete state.</summary>
    /// <param name="loads">Receiver; only its G and C arrays are to be written.</param>
    public virtual void StampConstant(Loads loads)
    {
    }

    /// <summary>Adds the terms of F that depend on time alone; only F is to be written.</summary>
    /// <param name="loads">Receiver; <see cref="Loads.Time"/> and <see cref="Loads.SourceScale"/> apply.</param>
    public virtual void Excite(Loads loads)
    {
    }

    /// <summary>Adds the nonlinear part of F and Q and its derivatives at <see cref="Loads.X"/>.</summary>
    /// <param name="loads">Iterate and receiver.</param>
    public virtual void Evaluate(Loads loads)
    {
    }

    /// <summary>Checks the parameters; each problem is one sentence that names the parameter, its value and the legal range.</summary>
    public virtual IEnumerable<string> Problems() => [];

    /// <summary>Connects a terminal to another node. The circuit must be compiled again to take notice.</summary>
    /// <param name="terminal">Terminal number, from 0.</param>
    /// <param name="node">Name of the node.</param>
    public void Rewire(int terminal, string node)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(node);
        nodes[terminal] = node;
    }

    /// <summary>Copies the device, parameters included, so that another circuit can change and compile it.</summary>
    public Device Clone() => CopyWith(Name, nodes);

    /// <summary>Copies the device under another name and onto other nodes (subcircuits, prefixes).</summary>
    /// <param name="name">Name of the copy.</param>
    /// <param name="nodes">Node names of the copy, as many as the original has.</param>
    public Device CopyWith(string name, IReadOnlyList<string> nodes)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        ArgumentNullException.ThrowIfNull(nodes);
        var copy = (Device)MemberwiseClone();
        copy.Name = name;
        copy.AdoptNodes(nodes);
        copy.Detach();
        return copy;
    }

    /// <summary>Renames the devices that this one refers to by name (coupled windings, the coil of a contact), when it is copied into a circuit
    /// where they have other names.</summary>
    /// <param name="nameOf">Gives the new name for a name.</param>
    public virtual void RenameOthers(Func<string, string> nameOf)
    {
    }

    /// <summary>Called on a fresh copy: replaces arrays and other references that the copy must not share.</summary>
    protected virtual void Detach()
    {
    }

    private void AdoptNodes(IReadOnlyList<string> names)
    {
        if (names.Count != nodes.Length)
        {
            throw new ArgumentException($"{Name} has {nodes.Length} terminals, not {names.Count}.", nameof(names));
        }

        // The copy still shares the original's array here, so it gets one of its own.
        nodes = [.. names];
    }
}
