using System.Numerics;

namespace BoardSim.Engine.Circuits;

/// <summary>A source that drives the small-signal (AC) analysis.</summary>
public interface ISmallSignal
{
    /// <summary>True when its small signal is not zero.</summary>
    bool IsActive { get; }

    /// <summary>Adds the phasor to the excitation's rows, with the sign it has in F.</summary>
    /// <param name="f">Excitation by row, element 0 is the ground.</param>
    void ExciteSmallSignal(Span<Complex> f);
}
