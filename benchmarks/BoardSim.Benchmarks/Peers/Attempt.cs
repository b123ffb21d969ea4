namespace BoardSim.Benchmarks.Peers;

/// <summary>One program on one circuit at one setting, timed several times.</summary>
/// <param name="Setting">Relative accuracy or tolerance asked.</param>
/// <param name="Leaps">True when it leaps over periods that are alike.</param>
internal sealed record Attempt(double Setting, bool Leaps = false)
{
    private readonly List<double> milliseconds = [];

    /// <summary>Relative error of the main metric.</summary>
    public double MainError { get; set; } = double.NaN;

    /// <summary>Largest relative error of all metrics.</summary>
    public double WorstError { get; set; } = double.NaN;

    /// <summary>Largest error of the main metric at this setting and all tighter ones: a lucky hit does not count.</summary>
    public double SureMainError { get; set; } = double.NaN;

    /// <summary>The same of all metrics.</summary>
    public double SureWorstError { get; set; } = double.NaN;

    /// <summary>Why there is no result, or null.</summary>
    public string? Failure { get; set; }

    /// <summary>True when there is a result.</summary>
    public bool Ok => Failure is null && milliseconds.Count > 0;

    /// <summary>Median of the times in milliseconds.</summary>
    public double Median => Ok ? milliseconds.Order().ElementAt(milliseconds.Count / 2) : double.NaN;

    /// <summary>Shortest time in milliseconds.</summary>
    public double Best => Ok ? milliseconds.Min() : double.NaN;

    /// <summary>Adds a time in milliseconds.</summary>
    public void Add(double time) => milliseconds.Add(time);

    /// <summary>Fills in the sure errors of attempts; those with leaps are a ladder of their own.</summary>
    /// <param name="attempts">Attempts of one program on one circuit.</param>
    public static void FindSureErrors(IEnumerable<Attempt> attempts)
    {
        foreach (var ladder in attempts.Where(a => a.Ok).GroupBy(a => a.Leaps))
        {
            var (main, worst) = (0.0, 0.0);
            foreach (var attempt in ladder.OrderBy(a => a.Setting))
            {
                attempt.SureMainError = main = Math.Max(main, attempt.MainError);
                attempt.SureWorstError = worst = Math.Max(worst, attempt.WorstError);
            }
        }
    }
}
