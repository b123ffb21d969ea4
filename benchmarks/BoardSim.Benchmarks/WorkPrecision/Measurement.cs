using BoardSim.Engine.Analyses;
using BoardSim.Engine.Numerics;

namespace BoardSim.Benchmarks.WorkPrecision;

/// <summary>What one method did on one problem at one accuracy.</summary>
/// <param name="Problem">The problem.</param>
/// <param name="Method">The method.</param>
/// <param name="Accuracy">Relative accuracy asked.</param>
/// <param name="Evidence">The solver's counts.</param>
/// <param name="Seconds">Processor time of the run.</param>
/// <param name="Error">True error, relative to the signal's peak.</param>
internal sealed record Measurement(Problem Problem, StageMethod Method, double Accuracy, SolverEvidence Evidence, double Seconds, double Error);
