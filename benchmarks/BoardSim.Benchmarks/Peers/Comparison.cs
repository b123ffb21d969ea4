using BoardSim.Benchmarks.Boards;

namespace BoardSim.Benchmarks.Peers;

/// <summary>Both programs' attempts at one circuit.</summary>
/// <param name="Board">The circuit.</param>
/// <param name="Ours">Attempts of this engine, compiled beforehand.</param>
/// <param name="Compiled">The same, the compilation timed as well.</param>
/// <param name="Ida">Attempts of the comparison program; empty without it.</param>
/// <param name="ColdMilliseconds">The first run of a process at 1e-3, compilation included.</param>
internal sealed record Comparison(Board Board, IReadOnlyList<Attempt> Ours, IReadOnlyList<Attempt> Compiled, IReadOnlyList<Attempt> Ida, double ColdMilliseconds)
{
    /// <summary>How well the reference of the main metric is known, relative to it: errors below say nothing.</summary>
    public double MainFloor => Board.References[Board.Metrics.First(m => m.IsMain).Name].Relative;

    /// <summary>The same for the metric that is known least.</summary>
    public double WorstFloor => Board.Metrics.Max(m => Board.References[m.Name].Relative);

    /// <summary>The quickest attempt whose main metric is off by no more than a level, or than the reference itself may be; null when there is none.</summary>
    /// <param name="level">Relative error.</param>
    /// <param name="attempts">Attempts of one program.</param>
    public Attempt? Within(double level, IReadOnlyList<Attempt> attempts) =>
        attempts.Where(a => a.Ok && a.SureMainError <= Math.Max(level, MainFloor)).MinBy(a => a.Median);

    /// <summary>The quickest of our attempts whose main metric is at least as good.</summary>
    public Attempt? AsGood(Attempt ida, IReadOnlyList<Attempt> ours) =>
        ours.Where(a => a.Ok && a.SureMainError <= Math.Max(ida.SureMainError, MainFloor)).MinBy(a => a.Median);

    /// <summary>The quickest of our attempts that is at least as good in the main metric and in the worst of all.</summary>
    public Attempt? AsGoodInAll(Attempt ida, IReadOnlyList<Attempt> ours) =>
        ours.Where(a => a.Ok && a.SureMainError <= Math.Max(ida.SureMainError, MainFloor) && a.SureWorstError <= Math.Max(ida.SureWorstError, WorstFloor))
            .MinBy(a => a.Median);

    /// <summary>Our time without leaps at an error of the main metric, by straight lines through the logarithms; not a number outside of what was measured.</summary>
    public double Interpolated(double error)
    {
        var known = Ours.Where(a => a.Ok && !a.Leaps && a.SureMainError > 0).OrderBy(a => a.SureMainError).ToList();
        for (var k = 1; k < known.Count; k++)
        {
            var (a, b) = (known[k - 1], known[k]);
            if (a.SureMainError <= error && error <= b.SureMainError && a.SureMainError < b.SureMainError)
            {
                var share = Math.Log(error / a.SureMainError) / Math.Log(b.SureMainError / a.SureMainError);
                return a.Median * Math.Pow(b.Median / a.Median, share);
            }
        }

        return double.NaN;
    }
}
