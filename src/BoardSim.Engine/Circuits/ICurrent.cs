namespace BoardSim.Engine.Circuits;

/// <summary>A device whose current follows from the unknowns alone, so that it can be recorded without a probe in series.</summary>
public interface ICurrent
{
    /// <summary>Current in amperes into the first terminal and out of the second.</summary>
    /// <param name="x">The unknowns, element 0 is the ground.</param>
    double Current(ReadOnlySpan<double> x);
}
