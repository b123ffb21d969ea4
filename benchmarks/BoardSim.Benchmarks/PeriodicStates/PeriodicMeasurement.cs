using System.Globalization;
using BoardSim.Engine.Analyses.PeriodicStates;

namespace BoardSim.Benchmarks.PeriodicStates;

/// <summary>What searching and settling took.</summary>
/// <param name="Case">The board.</param>
/// <param name="Evidence">How the state was found.</param>
/// <param name="SearchSeconds">Seconds of processor time of search and one recorded period.</param>
/// <param name="Mean">Mean that was found, in volts.</param>
/// <param name="SettlingPeriods">Periods after which the mean of an ordinary run stays within a thousandth of it.</param>
/// <param name="SettlingSeconds">Seconds of processor time of these.</param>
internal sealed record PeriodicMeasurement(
    PeriodicCase Case, PeriodicEvidence Evidence, double SearchSeconds, double Mean, int SettlingPeriods, double SettlingSeconds)
{
    /// <summary>Names of the columns.</summary>
    public const string Head = "board,outcome,mean_v,slowest_periods,search_periods,search_ms,settling_periods,settling_ms,periods_ratio,time_ratio";

    /// <summary>One line of the table.</summary>
    public override string ToString()
    {
        var periods = Evidence.LeadPeriods + Evidence.SearchPeriods + Evidence.RecordPeriods;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{Case.Name},{Evidence.Outcome},{Mean:0.0000},{Evidence.SlowestTimeConstant / Evidence.Period:0.0},{periods},{SearchSeconds * 1e3:0.0},{SettlingPeriods},{SettlingSeconds * 1e3:0},{(double)SettlingPeriods / periods:0.0},{SettlingSeconds / SearchSeconds:0.0}");
    }
}
