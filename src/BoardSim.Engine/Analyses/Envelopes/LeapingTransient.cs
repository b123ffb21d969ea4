using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.Envelopes;

/// <summary>A transient that leaps wherever all that happens at known instants repeats with one period often enough, and steps elsewhere.</summary>
internal sealed class LeapingTransient
{
    /// <summary>Fewest periods of a stretch that leaps are tried in.</summary>
    private const int FewestPeriods = 40;

    /// <summary>Loosest accuracy that leaps are held to: what is off after one stays, and what steps leave of noise in a period's increment, a leap multiplies.</summary>
    private const double LoosestAccuracy = 2e-3;

    /// <summary>The scales that tolerances are relative to fade by this many e-folds over the run, as in <see cref="TransientRun"/>.</summary>
    private const double FadeRate = 5;

    private readonly CircuitSystem system;
    private readonly TransientOptions options;
    private readonly IReadOnlyList<Probe> probes;
    private readonly Action<double>? progress;
    private readonly TransientRun run;
    private readonly Recorder recorder;
    private readonly SourceCorners corners;
    private readonly EnvelopeBook book;
    private long points;
    private readonly long mostSamples;
    private int computed;

    public LeapingTransient(CircuitSystem system, TransientOptions options, IReadOnlyList<Probe> probes, Action<double>? progress, TransientRun run)
    {
        (this.system, this.options, this.probes, this.progress, this.run) = (system, options, probes, progress, run);
        recorder = new Recorder(system, probes, options with { Start = 0 });
        corners = new SourceCorners(system.Timed);
        mostSamples = new RunLimits { MostValues = options.MostValues }.MostSamples(probes.Count);
        book = new EnvelopeBook(probes.Count, options.Accuracy);
    }

    /// <summary>True when some source repeats often enough in the end; all else shows on the way.</summary>
    public static bool MayLeap(CircuitSystem system, TransientOptions options) =>
        system.Timed.Any(d => d.RepetitionAt(options.Stop).Period is > 0 and var period && options.Stop / period >= FewestPeriods);

    /// <summary>Runs to the end.</summary>
    public TransientResult Run()
    {
        recorder.Begin(run);
        var seen = 0;
        while (run.Status == RunStatus.Running && !IsFull)
        {
            var period = SharedPeriod.Find(system.Timed, run.Time, out var until);
            var end = Math.Min(until, options.Stop);
            if (period is { } length && (end - run.Time) / length >= FewestPeriods)
            {
                // Where the run stands then is a step in behind an edge; periods are counted from the edge itself.
                var origin = SharedPeriod.CalmInstant(system.Timed, corners, run.Time, length);
                Step(origin);
                Note(ref seen);
                Follow(origin, length, end);
                seen = run.Events.Count;
            }

            // Whatever made leaps impossible may change at a corner of a source or with the state of a device that has a clock, not before.
            Step(Math.Min(corners.Next(run.Time, out _), options.Stop), untilEvent: true);
        }

        Note(ref seen);
        var events = new List<CircuitEvent>();
        var record = book.Finish(options.Start, options.Resolution, events);
        var evidence = run.Evidence with { PeriodsComputed = computed, PeriodsInterpolated = book.Interpolated };
        var store = Store(record, out var full);
        return new TransientResult(probes, store, evidence, events, full ? RunStatus.RecordFull : run.Status);
    }

    private bool IsFull => book.Count + recorder.Samples.Count >= mostSamples;

    private SampleStore Store(RecordPiece record, out bool full)
    {
        var store = new SampleStore(probes.Count + 1);
        full = IsFull || record.Times.Length > mostSamples;
        for (var k = 0; k < Math.Min(record.Times.Length, mostSamples); k++)
        {
            var row = store.Add();
            row[0] = record.Times[k];
            for (var p = 0; p < probes.Count; p++)
            {
                row[p + 1] = record.Values[p][k];
            }
        }

        return store;
    }

    private void Note(ref int seen)
    {
        book.Add(recorder.Take(), run.Events.Skip(seen));
        seen = run.Events.Count;
    }

    private void Follow(double origin, double length, double end)
    {
        var total = (int)Math.Floor((end - origin) / length * (1 + 1e-12));
        if (run.Status != RunStatus.Running || total < FewestPeriods)
        {
            return;
        }

        var cuts = new CutCharges(system);
        var scale = new ChargeScale(system, cuts);
        var stepper = new PeriodStepper(system, run, recorder, scale, cuts, origin, length, Math.Exp(-FadeRate * length / options.Stop));
        var envelope = new Envelope(system, run, stepper, scale, cuts, Math.Min(options.Accuracy, LoosestAccuracy));
        var whole = false;
        for (var number = 0; number < total && !IsFull;)
        {
            if (SharedPeriod.Find(system.Timed, run.Time, out var until) is null)
            {
                whole = true;
                break;
            }

            // A clock that runs may have been given a deadline meanwhile, which no leap may pass.
            total = Math.Min(total, (int)Math.Floor((Math.Min(until, options.Stop) - origin) / length * (1 + 1e-12)));
            if (number >= total)
            {
                whole = true;
                break;
            }

            if (envelope.Next(number, total, Accepted) is not { } period)
            {
                break;
            }

            book.Add(period, origin, length);
            number = period.Number + 1;

            // A clock that has stopped lands on no edge; what follows is no period.
            whole = number == total || run.Time > stepper.Instant(number) + PeriodStepper.Near * length;
            if (whole)
            {
                break;
            }
        }

        computed += envelope.Computed;
        if (!whole)
        {
            // Cut short within a period that may have been a trial: what stands is what was kept before it.
            recorder.Take();
        }
    }

    private void Step(double until, bool untilEvent = false)
    {
        var events = run.Events.Count;
        while (run.Time < until && !IsFull && run.Advance())
        {
            recorder.Record(run);
            Accepted();
            if (untilEvent && run.Events.Count != events)
            {
                return;
            }
        }
    }

    private void Accepted()
    {
        if ((++points & 255) == 0)
        {
            progress?.Invoke(run.Time / options.Stop);
        }
    }
}
