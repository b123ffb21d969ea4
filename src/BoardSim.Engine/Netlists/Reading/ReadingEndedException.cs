namespace BoardSim.Engine.Netlists.Reading;

/// <summary>Leaves the reading once it is known that nothing good will come of it; the reasons are among the findings.</summary>
internal sealed class ReadingEndedException : Exception;
