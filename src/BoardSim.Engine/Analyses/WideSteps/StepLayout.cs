using BoardSim.Engine.Circuits;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Analyses.WideSteps;

/// <summary>Sizes and places of the arrays of a wide step.</summary>
internal sealed class StepLayout
{
    public StepLayout(CircuitSystem system, int stages, int ports)
    {
        Stages = stages;
        Stride = DenseVector.Padded(system.Size + 1);
        StateRows = stages * Stride;
        PortRows = DenseVector.Padded(Math.Max(1, stages * ports));
        ExcitedRows = [.. system.ExcitedRows()];
        FirstExcitation = system.Size;
        FirstPort = FirstExcitation + stages * ExcitedRows.Length;
        Columns = FirstPort + stages * ports;
    }

    /// <summary>Number of stages.</summary>
    public int Stages { get; }

    /// <summary>Elements of one stage's unknowns, the ground first, rounded up.</summary>
    public int Stride { get; }

    /// <summary>Elements of all stages' unknowns.</summary>
    public int StateRows { get; }

    /// <summary>Elements of all stages' port voltages, rounded up.</summary>
    public int PortRows { get; }

    /// <summary>Rows that sources write to.</summary>
    public int[] ExcitedRows { get; }

    /// <summary>Column of the first change of a source's value; the columns before it belong to the rows of the circuit.</summary>
    public int FirstExcitation { get; }

    /// <summary>Column of the first port current.</summary>
    public int FirstPort { get; }

    /// <summary>Number of columns.</summary>
    public int Columns { get; }
}
