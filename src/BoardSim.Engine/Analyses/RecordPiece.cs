namespace BoardSim.Engine.Analyses;

/// <summary>Samples of a stretch of a run.</summary>
/// <param name="Times">Instants in seconds, rising.</param>
/// <param name="Values">Samples of each probe.</param>
internal sealed record RecordPiece(double[] Times, double[][] Values);
