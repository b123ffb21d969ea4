using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses;

/// <summary>
/// The short Euler step that leads into a smooth stretch after a discontinuity: longer than it need be where rounding would drown it, shorter where Newton fails or the power balance is
/// missed.
/// </summary>
internal sealed class EulerStepIn(CircuitSystem system, StageSolver stages, EnergyBook energy, ErrorScale scale, NoiseLimit noise, SolverCounters counters, TransientOptions options)
{
    /// <summary>Its length, relative to the step that is hoped for afterwards.</summary>
    public const double Share = 1e-5;

    /// <summary>The longest that it may be, relative to the run: the value after a jump is recorded at its end.</summary>
    private const double Longest = 5e-7;

    /// <summary>Length, relative to the run, below which it is not made shorter for the sake of the power balance.</summary>
    private const double BalanceShare = 1e-12;

    /// <summary>The longest that rounding may make it, relative to the step that is hoped for afterwards.</summary>
    private const double NoisyShare = 0.01;

    /// <summary>Least and most that it is lengthened by at once.</summary>
    private const double ShortestLeap = 2;
    private const double LongestLeap = 1e4;

    /// <summary>Attempts that are made shorter where Newton fails, and of these those for the power balance.</summary>
    private const int MostAttempts = 9;

    private const int BalanceAttempts = 4;

    /// <summary>Growth of the energy that is missed, from one attempt to a shorter one, that only rounding makes.</summary>
    private const double Worse = 1.5;

    /// <summary>Solves it.</summary>
    /// <param name="time">Instant of the discontinuity in seconds.</param>
    /// <param name="hoped">Step that is hoped for afterwards, in seconds.</param>
    /// <param name="slack">Multiple of its length by which time is made to pass.</param>
    /// <param name="smallest">Smallest step that time can be told by, in seconds.</param>
    /// <returns>Its length in seconds.</returns>
    /// <exception cref="SolverException">Newton does not converge at any length.</exception>
    public double Take(double time, double hoped, double slack, double smallest)
    {
        var h = Math.Max(Math.Min(slack * Math.Max(Share * hoped, smallest), Longest * options.Stop), smallest);
        var length = h;
        var (first, longest, noisy, shortening) = (h, NoisyShare * hoped, 0.0, true);
        var (before, missed) = (0.0, 0.0);
        for (var attempt = 0; ; attempt++)
        {
            var solved = stages.TryEuler(time, h, scale.Weight, out var worst);
            var misses = solved ? energy.Missed(stages, options.Accuracy) : 0;
            if (solved && shortening && before > 0 && misses > Worse * missed)
            {
                // Shorter it misses more: that is rounding, no relaxation.
                (h, before, shortening) = (before, 0, false);
            }
            else if (solved && shortening && misses > 0 && attempt < BalanceAttempts && h > BalanceShare * options.Stop)
            {
                (before, missed, h) = (h, misses, Math.Max(0.05 * h, smallest));
            }
            else if (solved && noisy > 0 && longest > 0 && misses > missed)
            {
                // A longer one has less noise and goes across a relaxation: what has just been switched on charges within.
                (h, longest) = (noisy, 0);
            }
            else if (solved && h < longest && noise.OfEuler is var tooMuch && !(tooMuch <= 1))
            {
                (noisy, missed, shortening) = (h, misses, false);
                h = Math.Min(h * Math.Clamp(double.IsFinite(tooMuch) ? tooMuch : LongestLeap, ShortestLeap, LongestLeap), longest);
            }
            else if (solved)
            {
                return h;
            }
            else if (noisy > 0 && longest > 0)
            {
                // Then the noisy one, rather than none; once, for what was solved before need not be solved again.
                (h, longest) = (noisy, 0);
            }
            else if (attempt < MostAttempts && h > smallest)
            {
                h *= 0.05;
            }
            else if (20 * first < hoped)
            {
                // So short a step is nothing but rounding, perhaps.
                (h, first) = (20 * first, 20 * first);
            }
            else if (stages.TryJump(time, length, scale.Weight))
            {
                return length;
            }
            else
            {
                throw StuckRun.At(system, time, h, worst, "Newton did not converge right after a discontinuity");
            }

            counters.Rejected++;
        }
    }
}
