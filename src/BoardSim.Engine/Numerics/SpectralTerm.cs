using System.Numerics;

namespace BoardSim.Engine.Numerics;

/// <summary>One eigenvalue of the derivative matrix with its share in what the stages make of each other: the real part of right times left'.</summary>
/// <param name="Value">The eigenvalue, not below the real axis.</param>
/// <param name="Right">Right eigenvector, one element a stage.</param>
/// <param name="Left">Left eigenvector, scaled so that it stands for the conjugate eigenvalue as well.</param>
internal sealed record SpectralTerm(Complex Value, Complex[] Right, Complex[] Left);
