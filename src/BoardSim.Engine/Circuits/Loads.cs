namespace BoardSim.Engine.Circuits;

/// <summary>
/// Work arrays that devices read and add to. Index 0 of every array is the ground: it reads as zero and takes writes that
/// nobody looks at, so stamps need no branches. Fields, not properties, because each is touched hundreds of times per step.
/// </summary>
public sealed class Loads
{
    /// <summary>The unknowns at which to evaluate; length unknowns + 1, element 0 is zero.</summary>
    public double[] X = [];

    /// <summary>Sum of currents that leave each node, or residual of each branch law, without time derivatives.</summary>
    public double[] F = [];

    /// <summary>Charge (or flux) of each row, to be differentiated in time by the integrator.</summary>
    public double[] Q = [];

    /// <summary>dF/dx by slot (see <see cref="Binder.Slot"/>).</summary>
    public double[] G = [];

    /// <summary>dQ/dx by slot.</summary>
    public double[] C = [];

    /// <summary>Time in seconds; 0 for an operating point.</summary>
    public double Time;

    /// <summary>True during operating point and DC sweep: a source uses its DC value, where it has one.</summary>
    public bool IsStatic;

    /// <summary>True while an operating point is searched, the one that a transient starts from included: what takes time has long been over.</summary>
    public bool IsAtRest;

    /// <summary>Factor on all independent sources, 0..1; below 1 only while an operating point is stepped up.</summary>
    public double SourceScale = 1;

    /// <summary>Conductance in siemens that every junction adds in parallel, so that an off junction leaves no node floating.</summary>
    public double Gmin = 1e-12;

    /// <summary>True while Newton iterates: a device may evaluate itself at a limited junction voltage near the iterate's.</summary>
    public bool Limiting;

    /// <summary>True on the first iteration of a solve: limiting starts afresh from the iterate.</summary>
    public bool Fresh;

    /// <summary>Set by a device that did evaluate at a limited voltage; Newton then does not accept the iterate.</summary>
    public bool Limited;
}
