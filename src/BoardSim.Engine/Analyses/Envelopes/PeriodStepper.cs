using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.Envelopes;

/// <summary>Computes whole periods of a run one at a time, and records them.</summary>
internal sealed class PeriodStepper(CircuitSystem system, TransientRun run, Recorder recorder, ChargeScale scale, CutCharges cuts, double origin, double period, double forgetting)
{
    /// <summary>The end of a period counts as reached when it is nearer than this part of a period: a corner is landed on but for rounding.</summary>
    public const double Near = 1e-7;

    /// <summary>Points after a leap that are not recorded: the step in, and the first one that damps what is stiff.</summary>
    private const int SettlingPoints = 2;

    private readonly SourceCorners corners = new(system.Timed);

    /// <summary>Start of a period in seconds.</summary>
    public double Instant(int number) => origin + number * period;

    /// <summary>Computes a period from its start, where the run stands.</summary>
    /// <param name="number">Number of the period.</param>
    /// <param name="leapt">True when the run was put there: the first point then only makes the unknowns fit the charges.</param>
    /// <param name="accepted">Told after each accepted point.</param>
    /// <returns>The period; null when the run ended within it.</returns>
    public ComputedPeriod? Compute(int number, bool leapt, Action accepted)
    {
        var (start, end) = (Instant(number), Instant(number + 1));
        if (leapt && !Settle(number))
        {
            return null;
        }

        var settling = leapt ? SettlingPoints : 0;

        var charge = cuts.Enter(run.Charges.ToArray());
        var seen = run.Events.Count;
        recorder.Take();
        scale.Begin(forgetting);
        while (run.Time < end - Near * period)
        {
            if (!run.Advance())
            {
                return null;
            }

            if (settling > 0)
            {
                // Currents that make the last of the charges fit are nothing to look at.
                if (--settling == 0)
                {
                    recorder.Resume(run);
                }
            }
            else
            {
                recorder.Record(run);
            }

            scale.Take(run.Charges);
            accepted();
        }

        scale.Update();
        var record = recorder.Take();
        for (var k = 0; k < record.Times.Length; k++)
        {
            record.Times[k] -= start;
        }

        var events = run.Events.Skip(seen).ToList();
        return new ComputedPeriod
        {
            Number = number,
            StartCharge = charge,
            EndCharge = cuts.Enter(run.Charges.ToArray()),
            EndState = [.. run.State],
            EventTimes = [.. events.Select(e => e.Time - start)],
            Breaks = Breaks(start, end, events),
            Happened = [.. events.Select(e => (e.Part, e.State))],
            ArmedAfter = run.ArmedGuards,
            Record = record,
        };
    }

    /// <summary>Makes charges that a leap has put there fit the circuit: a point is computed, and the period begun anew from its charges.</summary>
    /// <param name="number">Number of the period.</param>
    /// <returns>False when the run ended.</returns>
    public bool Settle(int number)
    {
        double[] guess = [.. run.State];
        object[] discrete = [.. system.Discrete.Select(d => d.Memory)];
        if (!run.Advance())
        {
            return false;
        }

        // What changes its state right at the start does so again, and then belongs to the period.
        for (var d = 0; d < discrete.Length; d++)
        {
            system.Discrete[d].Memory = discrete[d];
        }

        system.Restamp();
        run.Jump(Instant(number), run.Charges.ToArray(), guess);
        return true;
    }

    private double[] Breaks(double start, double end, List<CircuitEvent> events)
    {
        var breaks = events.Select(e => e.Time - start).ToList();
        for (var at = corners.Next(start, out _); at < end - Near * period; at = corners.Next(at, out _))
        {
            breaks.Add(at - start);
        }

        breaks.Sort();
        return [.. breaks];
    }
}
