namespace BoardSim.Engine.Analyses;

/// <summary>
/// Says when rounding would make too much of a shorter step: then what is wrong with this one is the lesser evil. It is asked for those unknowns only that something is wrong with: an
/// island that hangs on an opened lead may be as noisy as it likes, a converter's rail beside it is still to be computed as accurately as was asked.
/// </summary>
internal sealed class NoiseLimit(StageSolver stages, ErrorScale scale, TransientOptions options, double localAccuracy)
{
    /// <summary>
    /// Share of what an unknown has shown of late that rounding may make of it within a step. Where charges are carried past each other on an island that hangs on an opened lead, or windings are coupled
    /// perfectly, that grows with the reciprocal of the step: the last place of a charge over so short a time is a current, that by the leak's ohms is volts, whose own last place is more than the charge's.
    /// </summary>
    private const double Share = 1.5e-3;

    /// <summary>Longest step, relative to the run, that an error estimate is overruled for on that account.</summary>
    private const double LongestStep = 1e-6;

    private double noise;

    /// <summary>Noise of an Euler step just solved, in multiples of what is too much; a longer one has less.</summary>
    public double OfEuler => stages.ChargeNoise(scale.Weight) * localAccuracy / Share;

    /// <summary>True when the step just solved must not be made shorter for the sake of any unknown.</summary>
    /// <param name="h">Its length in seconds.</param>
    public bool Forbids(double h) => h <= LongestStep * options.Stop && IsTooMuch(stages.ChargeNoise(scale.Weight));

    /// <summary>True when it must not be made shorter for the sake of those unknowns with which something is wrong.</summary>
    /// <param name="h">Its length in seconds.</param>
    /// <param name="wrong">How wrong each unknown is.</param>
    /// <param name="limit">What is too much of that.</param>
    public bool Forbids(double h, double[] wrong, double limit) => h <= LongestStep * options.Stop && IsTooMuch(stages.Noise(h, scale.Weight, wrong, limit));

    /// <summary>Length of the next attempt, in lengths of this one: no shorter than rounding allows, where that is known.</summary>
    /// <param name="factor">What it would be without.</param>
    public double Shorter(double factor)
    {
        var allowed = Math.Max(factor, Math.Min(noise, 0.8));
        noise = 0;
        return allowed;
    }

    private bool IsTooMuch(double tolerances)
    {
        noise = tolerances * localAccuracy / Share;
        if (noise <= 1)
        {
            return false;
        }

        // A noise that is no number is the largest there is.
        noise = 0;
        return true;
    }
}
