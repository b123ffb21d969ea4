namespace BoardSim.Engine.Analyses;

/// <summary>
/// Books the energy of a run step by step (Tellegen's theorem, integrated): what sources deliver, less what is turned into
/// heat, less what is stored, should be nothing.
/// </summary>
internal sealed class EnergyBook(double[] powerSign)
{
    /// <summary>Rounding of a charge's energy, some units in the last place for the stages of a step.</summary>
    private const double RoundingMargin = 1e-14;

    /// <summary>Mean energy in joules of the thermal noise of a capacitor or an inductor at room temperature, kT/2 (equipartition; H. Nyquist, Phys. Rev. 32, 1928; from memory): less than that is not missed by anybody,
    /// and where all is zero the last places of another island's volts are all that there is.</summary>
    private const double ThermalNoise = 2e-21;

    private const double UnitInLastPlace = 2.220446049250313e-16;

    private double absorbed;
    private double stored;
    private double turnover;
    private double delivered;
    private double rounded;
    private (double Missed, double Turnover, double Delivered, double Rounded) page;

    /// <summary>Energy in joules that independent sources have delivered on this page.</summary>
    public double Delivered => delivered - page.Delivered;

    /// <summary>
    /// What the balance of this page misses, relative to the energy turned over. The last places of what is stored are no miss: a step that ends within them of where it should
    /// has ended there, and where much more is stored than is turned over (a capacitor that leaks through gigohms only), they are all that is left.
    /// </summary>
    public double Imbalance =>
        turnover > page.Turnover ? Math.Max(0, Math.Abs(absorbed + stored - page.Missed) - (rounded - page.Rounded)) / (turnover - page.Turnover) : 0;

    /// <summary>Begins a page: a balance of its own. What a step may miss goes by the whole book.</summary>
    public void TurnPage() => page = (absorbed + stored, turnover, delivered, rounded);

    /// <summary>
    /// True when a step misses the balance by more than the accuracy: it went across a relaxation that it does not resolve. Both ends
    /// may be right all the same, for the method damps what is much faster than the step; what was dissipated meanwhile is not.
    /// </summary>
    /// <param name="step">The step just solved.</param>
    /// <param name="accuracy">Relative accuracy asked.</param>
    public bool Misses(StageSolver step, double accuracy) => Missed(step, accuracy) > 0;

    /// <summary>Energy in joules that it misses the balance by; 0 when that is within the accuracy.</summary>
    /// <param name="step">The step just solved.</param>
    /// <param name="accuracy">Relative accuracy asked.</param>
    public double Missed(StageSolver step, double accuracy)
    {
        var growth = Growth(step);
        var missed = Math.Abs(step.AbsorbedEnergy + growth);
        return missed > accuracy * (turnover + Turnover(step.SourceEnergy, growth)) && missed > RoundingMargin * Held(step) && missed > ThermalNoise ? missed : 0;
    }

    /// <summary>The same for a step whose energies are known, where rounding plays no part.</summary>
    /// <param name="absorption">See <see cref="Book(double, double, double)"/>.</param>
    /// <param name="delivery">See there.</param>
    /// <param name="growth">See there.</param>
    /// <param name="accuracy">Relative accuracy asked.</param>
    public bool Misses(double absorption, double delivery, double growth, double accuracy) =>
        Math.Abs(absorption + growth) > accuracy * (turnover + Turnover(delivery, growth));

    /// <summary>Books an accepted step.</summary>
    /// <param name="step">The step just solved.</param>
    public void Book(StageSolver step)
    {
        Book(step.AbsorbedEnergy, step.SourceEnergy, Growth(step));

        // Half a unit for the unknown that a charge follows from, half a unit for the charge.
        rounded += UnitInLastPlace * Held(step);
    }

    /// <summary>Books an accepted step whose energies are known.</summary>
    /// <param name="absorption">Energy in joules that all parts but those that store it absorbed, sources counted negative.</param>
    /// <param name="delivery">Energy in joules that sources delivered.</param>
    /// <param name="growth">Growth of the stored energy in joules.</param>
    public void Book(double absorption, double delivery, double growth)
    {
        absorbed += absorption;
        delivered += delivery;
        stored += growth;
        turnover += Turnover(delivery, growth);
    }

    /// <summary>Sum of all charges times their voltages and fluxes times their currents at the end of a step, in joules: what rounding is a part of.</summary>
    private double Held(StageSolver step)
    {
        var x = step.Values[^1];
        var joules = 0.0;
        for (var k = 1; k < x.Length; k++)
        {
            joules += Math.Abs(powerSign[k] * x[k] * step.EndCharge[k]);
        }

        return joules;
    }

    private static double Turnover(double delivery, double growth) => Math.Max(Math.Abs(delivery), Math.Abs(growth));

    /// <summary>
    /// Growth of what is stored, the integral of x dQ. Over parabolas through the step's ends and its inner stage, with bends <c>X</c> and <c>Y</c> in <c>x = x0 + s dx + s (1 - s) X</c>
    /// and likewise Q, that is <c>(x0 + x1) dQ / 2 + (X dQ - Y dx) / 6</c>. Charges that are linear have <c>Y = C X</c>, with a symmetric C, so the second term is nothing for them and their rounding does not enter;
    /// where a flux turns in a loop, as with a core's loss or shorted turns in one law with the inductance, the first alone misses one part in twelve of the square of the angle that a step makes.
    /// </summary>
    private double Growth(StageSolver step)
    {
        var (x0, x1) = (step.Values[0], step.Values[^1]);
        var (q0, q1) = (step.StartCharge, step.EndCharge);
        var (x, q, c) = (step.InnerValues, step.InnerCharge, step.InnerNode);
        var bend = c > 0 ? 1 / (6 * c * (1 - c)) : 0;
        var growth = 0.0;
        for (var k = 1; k < x0.Length; k++)
        {
            var (dx, dq) = (x1[k] - x0[k], q1[k] - q0[k]);
            growth += powerSign[k] * (0.5 * (x0[k] + x1[k]) * dq + bend * ((x[k] - x0[k]) * dq - (q[k] - q0[k]) * dx));
        }

        return growth;
    }
}
