using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>Magnetic coupling of two inductors: the mutual inductance is <c>k sqrt(L1 L2)</c>, dots at their first terminals.</summary>
public sealed class Coupling : Device
{
    private int ij, ji;
    private Inductor? first, second;

    /// <summary>Creates a coupling.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="firstInductor">Name of one inductor.</param>
    /// <param name="secondInductor">Name of the other.</param>
    /// <param name="coefficient">Coupling coefficient from -1 to 1; at 1 there is no leakage and the windings' voltages stand in a fixed ratio.</param>
    public Coupling(string name, string firstInductor, string secondInductor, double coefficient)
        : base(name)
    {
        First = firstInductor;
        Second = secondInductor;
        Coefficient = coefficient;
    }

    /// <summary>Name of one inductor.</summary>
    public string First { get; set; }

    /// <summary>Name of the other inductor.</summary>
    public string Second { get; set; }

    /// <summary>Coupling coefficient from -1 to 1.</summary>
    public double Coefficient { get; set; }

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [];

    /// <inheritdoc/>
    public override void RenameOthers(Func<string, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(nameOf);
        (First, Second) = (nameOf(First), nameOf(Second));
    }

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        first = binder.Other<Inductor>(First);
        second = binder.Other<Inductor>(Second);
        var i = binder.BranchOf(First);
        var j = binder.BranchOf(Second);
        (ij, ji) = (binder.Slot(i, j), binder.Slot(j, i));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        var mutual = Coefficient * Math.Sqrt(first!.Inductance * second!.Inductance);
        loads.C[ij] -= mutual;
        loads.C[ji] -= mutual;
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        if (!(Math.Abs(Coefficient) <= 1))
        {
            yield return $"{Name}: coupling coefficient {Coefficient}; it must lie from -1 to 1.";
        }
    }
}
