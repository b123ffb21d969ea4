using BoardSim.Measurement;
using BoardSim.Quantities;
using BoardSim.Scenarios.Cases;

namespace BoardSim.Scenarios.Running;

/// <summary>The computations of a tolerance run and how they make up its result: every board under every condition, boards drawn at random
/// first, then the corners.</summary>
internal sealed class TolerancePlan : CasePlan
{
    private readonly ToleranceSpec spec;
    private readonly IReadOnlyList<ConditionSpec> conditions;
    private readonly Unit[] units;

    /// <summary>Nominal value by condition and value.</summary>
    private readonly double[][] nominal;

    public TolerancePlan(Scenario scenario, ToleranceSpec spec)
        : base(scenario, spec.Record)
    {
        this.spec = spec;
        conditions = [.. scenario.Conditions.Where(c => spec.Conditions.Contains(c.Name))];
        var blocks = conditions.Select(c => BoardOf.Block(scenario.NewBlock, scenario.Values, c)).ToList();
        nominal = [.. blocks.Select(block => spec.Values.Select(v => block.Value(v.Key).Get(block) as double?
            ?? throw new ArgumentException($"{v.Key} has no value that a tolerance could go from; set it.", nameof(spec))).ToArray())];
        units = [.. spec.Values.Select(v => Unit.Find(blocks[0].Value(v.Key).Unit)!)];
    }

    public override int Count => Boards * conditions.Count;

    private int Boards => spec.Samples + spec.CornerCount;

    public override ConditionJob Job(int number)
    {
        var (board, at) = (number / conditions.Count, number % conditions.Count);
        var name = board < spec.Samples ? $"{conditions[at].Name}, board {board}" : $"{conditions[at].Name}, corner {board - spec.Samples}";
        return new ConditionJob(Scenario, conditions[at], [.. spec.Values.Select((v, j) => new ValueSetting(v.Key, Value(at, j, board), v.Text))], name, Needed) { Deviates = true };
    }

    public ToleranceResult Result(IReadOnlyList<CaseRecord> records, IReadOnlyList<ConditionResult> results) => new()
    {
        Inputs = [.. spec.Values.SelectMany((_, j) => Inputs(j))],
        Samples = spec.Samples,
        Corners = spec.CornerCount,
        Seed = spec.Seed,
        Series = [.. conditions.SelectMany((condition, c) => spec.Record.Select((name, at) =>
        {
            var (label, unit) = Heading(results, condition.Name, name);
            double[] all = [.. Enumerable.Range(0, Boards).Select(board => records[board * conditions.Count + c].Value(at))];
            return new ToleranceSeries
            {
                Condition = condition.Name,
                Name = name,
                Label = label,
                Unit = unit,
                Values = all[..spec.Samples],
                CornerValues = all[spec.Samples..],
            };
        }))],
        Evidence = Total(records),
        Cases = Cases(records),
    };

    private IEnumerable<ToleranceInput> Inputs(int j)
    {
        var tolerance = spec.Values[j];
        var text = tolerance.Distribution == Scatter.Normal
            ? $"{tolerance.Text}, normal, cut off at {CaseRandom.Sigmas} standard deviations"
            : $"{tolerance.Text}, uniform";
        return conditions.Select((c, at) => (Condition: c.Name, At: at)).GroupBy(c => nominal[c.At][j]).Select(group => new ToleranceInput(
            tolerance.Key,
            [.. group.Select(c => c.Condition)],
            units[j].Symbol,
            units[j].Shown(group.Key),
            text,
            [.. Enumerable.Range(0, Boards).Select(board => units[j].Shown(Value(group.First().At, j, board)))]));
    }

    private double Value(int condition, int j, int board)
    {
        var tolerance = spec.Values[j];
        var deviation = board < spec.Samples
            ? CaseRandom.Deviation(tolerance.Distribution, spec.Seed, tolerance.Key, board)
            : ((board - spec.Samples) >> j & 1) == 0 ? -1 : 1;
        return tolerance.At(nominal[condition][j], deviation);
    }
}
