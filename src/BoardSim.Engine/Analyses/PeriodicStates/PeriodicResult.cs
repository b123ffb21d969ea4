namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>Recorded periods of a periodic steady state.</summary>
/// <param name="Waveforms">The periods; time is counted from the start of the first.</param>
/// <param name="Evidence">How the state was found.</param>
public sealed record PeriodicResult(TransientResult Waveforms, PeriodicEvidence Evidence);
