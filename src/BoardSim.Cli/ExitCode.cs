namespace BoardSim.Cli;

/// <summary>What the process tells its caller.</summary>
internal static class ExitCode
{
    /// <summary>Done, and every expectation holds.</summary>
    public const int Done = 0;

    /// <summary>Done, but an expectation of the scenario does not hold.</summary>
    public const int ExpectationFailed = 1;

    /// <summary>The arguments or a file are wrong; nothing was written.</summary>
    public const int BadInput = 2;

    /// <summary>The solver gave up.</summary>
    public const int SolverGaveUp = 3;

    /// <summary>A fault of this program (EX_SOFTWARE of BSD's sysexits.h).</summary>
    public const int InternalError = 70;

    /// <summary>Cancelled by the user (128 + SIGINT, as shells report it).</summary>
    public const int Cancelled = 130;
}
