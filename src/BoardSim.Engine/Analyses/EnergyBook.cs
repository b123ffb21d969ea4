namespace BoardSim.Engine.Analyses;

/// <summary>
/// Books the energy of a run step by step (Tellegen's theorem, integrated): what sources deliver, less what is turned into
/// heat, less what is stored, should be nothing.
/// </summary>
internal sealed class EnergyBook(double[] powerSign)
{
    private double absorbed;
    private double stored;
    private double turnover;

    /// <summary>Energy in joules that independent sources have delivered.</summary>
    public double Delivered { get; private set; }

    /// <summary>What the balance misses, relative to the energy turned over.</summary>
    public double Imbalance => turnover > 0 ? Math.Abs(absorbed + stored) / turnover : 0;

    /// <summary>Books an accepted step.</summary>
    /// <param name="step">The step just solved.</param>
    public void Book(StageSolver step)
    {
        var (x0, x1) = (step.Values[0], step.Values[^1]);
        var growth = 0.0;
        for (var k = 1; k < x0.Length; k++)
        {
            // Exact for linear capacitors and inductors; second order for charges that bend.
            growth += 0.5 * powerSign[k] * (x0[k] + x1[k]) * (step.EndCharge[k] - step.StartCharge[k]);
        }

        Book(step.AbsorbedEnergy, step.SourceEnergy, growth);
    }

    /// <summary>Books an accepted step whose energies are known.</summary>
    /// <param name="absorption">Energy in joules that all parts but those that store it absorbed, sources counted negative.</param>
    /// <param name="delivery">Energy in joules that sources delivered.</param>
    /// <param name="growth">Growth of the stored energy in joules.</param>
    public void Book(double absorption, double delivery, double growth)
    {
        absorbed += absorption;
        Delivered += delivery;
        stored += growth;
        turnover += Math.Max(Math.Abs(delivery), Math.Abs(growth));
    }
}
