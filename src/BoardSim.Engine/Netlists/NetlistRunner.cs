using System.Diagnostics;
using System.Numerics;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Netlists;

/// <summary>Runs the analyses that a netlist asks for.</summary>
public static class NetlistRunner
{
    /// <summary>Runs one analysis.</summary>
    /// <param name="netlist">The netlist; its circuit is compiled anew and left as it was.</param>
    /// <param name="card">One of its analyses, or another that fits its circuit.</param>
    /// <param name="options">Settings; defaults when null.</param>
    /// <returns>The variables that <c>.print</c> cards name for this kind of analysis; without one, the voltage of each node and
    /// the current of each voltage source and inductor. A whole phasor gives two columns, magnitude and phase in degrees.</returns>
    /// <exception cref="CircuitException">The circuit's structure is unsound.</exception>
    /// <exception cref="SolverException">The solver gave up.</exception>
    /// <exception cref="OperationCanceledException">The analysis was cancelled before anything was computed.</exception>
    public static AnalysisTable Run(Netlist netlist, AnalysisCard card, NetlistRunOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(netlist);
        ArgumentNullException.ThrowIfNull(card);
        options ??= new NetlistRunOptions();
        options.Cancellation.ThrowIfCancellationRequested();
        var system = new CircuitSystem(netlist.Circuit);
        var variables = Variables(netlist, card.Kind, system);
        var probes = variables.Select(ToProbe).ToList();
        var limits = new RunLimits { WallClock = options.TimeLimit, Cancellation = options.Cancellation, MostValues = options.MostValues };
        return card switch
        {
            OperatingPointCard => OperatingPointOf(system, card, variables, probes, limits),
            DcSweepCard sweep => SweepOf(system, sweep, variables, probes, limits),
            AcCard ac => SmallSignalOf(system, ac, variables, probes, limits),
            TransientCard transient => TransientOf(system, transient, variables, probes, options),
            _ => throw new ArgumentException($"There is no way to run a {card.GetType().Name}.", nameof(card)),
        };
    }

    private static List<OutputVariable> Variables(Netlist netlist, AnalysisKind kind, CircuitSystem system)
    {
        var printed = netlist.Prints.Where(p => p.Kind == kind).SelectMany(p => p.Variables).Distinct().ToList();
        return printed.Count > 0
            ? printed
            :
            [
                .. system.NodeNames.Select(n => new OutputVariable(false, n)),
                .. netlist.Circuit.Devices.Where(d => d is VoltageSource or Inductor).Select(d => new OutputVariable(true, d.Name)),
            ];
    }

    private static Probe ToProbe(OutputVariable variable) =>
        variable.IsCurrent ? Probe.Current(variable.First) : Probe.Voltage(variable.First, variable.Second ?? Circuit.Ground);

    private static string UnitOf(OutputVariable variable) => variable.IsCurrent ? "A" : "V";

    private static AnalysisTable OperatingPointOf(CircuitSystem system, AnalysisCard card, List<OutputVariable> variables, List<Probe> probes, RunLimits limits)
    {
        var solution = OperatingPoint.Solve(system, new OperatingPointOptions { Limits = limits });
        var columns = variables.Zip(probes, (v, p) => new AnalysisColumn(v.ToString(), UnitOf(v), [p.Bind(system).Value(0, solution.X)]));
        return new AnalysisTable(card, 0, [.. columns], solution.Evidence, []);
    }

    private static AnalysisTable SweepOf(
        CircuitSystem system, DcSweepCard card, List<OutputVariable> variables, List<Probe> probes, RunLimits limits)
    {
        var inner = new SweptSource(system.Circuit, card.Inner.Source);
        var outer = card.Outer is null ? null : new SweptSource(system.Circuit, card.Outer.Source);
        var results = new List<DcSweepResult>();
        var outerValues = card.Outer?.Values() ?? [0];
        var (watch, rows) = (Stopwatch.StartNew(), 0L);
        try
        {
            foreach (var value in outerValues)
            {
                outer?.Set(value);
                var left = limits with
                {
                    WallClock = limits.WallClock - watch.Elapsed,
                    MostValues = limits.MostValues - rows * probes.Count,
                };
                results.Add(DcSweep.Run(system, card.Inner.Values(), inner.Set, probes, limits: left));
                rows += results[^1].Swept.Length;
                if (results[^1].Status != RunStatus.Completed)
                {
                    break;
                }
            }
        }
        finally
        {
            inner.Restore();
            outer?.Restore();
        }

        var columns = new List<AnalysisColumn> { new(card.Inner.Source, inner.Unit, [.. results.SelectMany(r => r.Swept)]) };
        if (outer is not null)
        {
            columns.Add(new AnalysisColumn(card.Outer!.Source, outer.Unit, [.. results.Zip(outerValues).SelectMany(r => r.First.Swept.Select(_ => r.Second))]));
        }

        columns.AddRange(variables.Select((v, k) => new AnalysisColumn(v.ToString(), UnitOf(v), [.. results.SelectMany(r => r.Values(k))])));
        return new AnalysisTable(card, outer is null ? 1 : 2, columns, SolverEvidence.Total([.. results.Select(r => r.Evidence)]), [])
        {
            Status = results[^1].Status,
        };
    }

    private static AnalysisTable SmallSignalOf(
        CircuitSystem system, AcCard card, List<OutputVariable> variables, List<Probe> probes, RunLimits limits)
    {
        var result = AcAnalysis.Run(system, card.Frequencies(), probes, limits);
        var columns = new List<AnalysisColumn> { new("frequency", "Hz", result.Frequencies) };
        for (var k = 0; k < variables.Count; k++)
        {
            var v = variables[k];
            PhasorPart[] parts = v.Part is PhasorPart.Whole ? [PhasorPart.Magnitude, PhasorPart.Phase] : [v.Part];
            columns.AddRange(parts.Select(part => ColumnOf(v, part, result.Values(k))));
        }

        return new AnalysisTable(card, 1, columns, result.Evidence, []) { Status = result.Status };
    }

    private static AnalysisColumn ColumnOf(OutputVariable variable, PhasorPart part, Complex[] values)
    {
        (string unit, Func<Complex, double> value) = part switch
        {
            PhasorPart.Real => (UnitOf(variable), z => z.Real),
            PhasorPart.Imaginary => (UnitOf(variable), z => z.Imaginary),
            PhasorPart.Phase => ("deg", z => z.Phase * (180 / Math.PI)),
            PhasorPart.Decibels => ("dB", z => 20 * Math.Log10(z.Magnitude)),
            _ => (UnitOf(variable), (Func<Complex, double>)(z => z.Magnitude)),
        };
        return new AnalysisColumn(variable.Text(part), unit, [.. values.Select(value)]);
    }

    private static AnalysisTable TransientOf(
        CircuitSystem system, TransientCard card, List<OutputVariable> variables, List<Probe> probes, NetlistRunOptions options)
    {
        var settings = new TransientOptions
        {
            Stop = card.Stop,
            Start = card.Start,
            MaxStep = card.MaxStep ?? double.PositiveInfinity,
            Accuracy = options.Accuracy,
            Leaps = options.Leaps,
            Resolution = card.Step,
            UseInitialConditions = card.UseInitialConditions,
            MostValues = options.MostValues,
            WallClockLimit = options.TimeLimit,
            Cancellation = options.Cancellation,
        };
        var result = Transient.Run(system, settings, probes, options.Progress);
        return new AnalysisTable(
            card,
            1,
            [new AnalysisColumn("time", "s", result.Times), .. variables.Select((v, k) => new AnalysisColumn(v.ToString(), UnitOf(v), result.Values(k)))],
            result.Evidence,
            result.Events)
        {
            Status = result.Status,
        };
    }

    /// <summary>An independent source whose direct value is swept and put back afterwards.</summary>
    private sealed class SweptSource
    {
        private readonly double? before;
        private readonly Action<double?> set;

        public SweptSource(Circuit circuit, string name)
        {
            switch (circuit.Find(name))
            {
                case VoltageSource v:
                    (before, set, Unit) = (v.DcValue, x => v.DcValue = x, "V");
                    break;
                case CurrentSource i:
                    (before, set, Unit) = (i.DcValue, x => i.DcValue = x, "A");
                    break;
                default:
                    throw new CircuitException($"A DC sweep needs an independent source, and {name} is none of the circuit.");
            }
        }

        public string Unit { get; }

        public void Set(double value) => set(value);

        public void Restore() => set(before);
    }
}
