using System.Globalization;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>
/// Where a search suspects a deviation that grows, it is put to the test: a search finds unstable states as well, and no
/// circuit stays in one.
/// </summary>
internal sealed class StabilityTest(PeriodMap map, BoundaryScale scale)
{
    /// <summary>Factor per period from which on a deviation is suspicious.</summary>
    private const double Suspicious = 1.02;

    /// <summary>Length of the deviation that is tried, relative to the peaks.</summary>
    private const double Deviation = 0.02;

    private const int Rounds = 4;

    /// <summary>Why the state is none that a circuit stays in, a sentence; null where it is.</summary>
    public string? Reason { get; private set; }

    /// <summary>True when deviations die away; false also when the run was interrupted.</summary>
    /// <param name="found">The state.</param>
    /// <param name="multiplier">Suspected factor per period, with or without its sign.</param>
    /// <param name="direction">The deviation that grows so, charges by row.</param>
    public bool Passes(PeriodBoundary found, double multiplier, double[] direction)
    {
        if (Math.Abs(multiplier) < Suspicious)
        {
            return true;
        }

        var away = (double[])found.Charge.Clone();
        var unit = scale.Largest(direction, new double[direction.Length]).Size;
        for (var k = 1; k < away.Length; k++)
        {
            away[k] += Deviation / unit * direction[k];
        }

        var at = found with { Charge = away };
        var first = SecantSpan.Norm(scale.Energetic(at.Charge, found.Charge));
        for (var round = 0; round < Rounds; round++)
        {
            if (map.Advance(at) is not { } end)
            {
                return false;
            }

            at = end;
        }

        var growth = Math.Pow(SecantSpan.Norm(scale.Energetic(at.Charge, found.Charge)) / first, 1.0 / Rounds);
        Reason = growth < 1
            ? null
            : string.Create(CultureInfo.InvariantCulture, $"the state that repeats is not stable: a deviation grows {growth:g3}-fold per period, and the circuit goes elsewhere");
        return growth < 1;
    }
}
