using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.Envelopes;

/// <summary>
/// What counts as small for each charge of a cut (see <see cref="CutCharges"/>) or flux: a part of the largest that it has shown of late, never less than what the floors
/// of <see cref="ErrorScale"/> make of it.
/// </summary>
internal sealed class ChargeScale(CircuitSystem system, CutCharges cuts)
{
    private readonly double[] floor = new double[system.Size + 1];
    private readonly double[] peak = new double[system.Size + 1];
    private readonly double[] capacitance = new double[system.Rows.Length];
    private readonly double[] least = new double[system.Size + 1];
    private readonly double[] most = new double[system.Size + 1];
    private readonly double[] now = new double[system.Size + 1];

    /// <summary>Reciprocal scale by row; zero for rows that hold no charge.</summary>
    public double[] Weight { get; } = new double[system.Size + 1];

    /// <summary>How far each charge went up and down since the period began, relative to its largest value in it, 0..2.</summary>
    public double[] Excursion { get; } = new double[system.Size + 1];

    /// <summary>Begins a period: lets the peaks fade.</summary>
    /// <param name="memory">Part that is remembered, 0..1.</param>
    public void Begin(double memory)
    {
        Array.Fill(least, double.PositiveInfinity);
        Array.Fill(most, double.NegativeInfinity);
        for (var k = 0; k < peak.Length; k++)
        {
            peak[k] *= memory;
        }
    }

    /// <summary>Takes the charges of an accepted point.</summary>
    public void Take(ReadOnlySpan<double> nodes)
    {
        nodes.CopyTo(now);
        var charges = cuts.Enter(now);
        for (var k = 1; k < peak.Length; k++)
        {
            peak[k] = Math.Max(peak[k], Math.Abs(charges[k]));
            least[k] = Math.Min(least[k], charges[k]);
            most[k] = Math.Max(most[k], charges[k]);
        }
    }

    /// <summary>Sets the weights, with the capacitances and inductances of the point that was evaluated last.</summary>
    public void Update()
    {
        system.Loads.C.CopyTo(capacitance, 0);
        var floors = new double[floor.Length];
        foreach (var unknown in system.Unknowns)
        {
            var charge = ChargeOf(unknown.Index);
            for (var k = 1; k < floors.Length; k++)
            {
                floors[k] += Math.Abs(charge[k]) * ErrorScale.Floor(unknown.Kind);
            }
        }

        for (var k = 1; k < floor.Length; k++)
        {
            floor[k] = Math.Max(floor[k], floors[k]);
            Excursion[k] = floor[k] == 0 ? 0 : (most[k] - least[k]) / (Math.Max(Math.Abs(most[k]), Math.Abs(least[k])) + floor[k]);
            Weight[k] = floor[k] > 0 ? 1 / (peak[k] + floor[k]) : 0;
        }
    }

    /// <summary>Charges that a unit of an unknown holds, with the capacitances and inductances at the end of the last period.</summary>
    public double[] ChargeOf(int unknown)
    {
        var charge = new double[floor.Length];
        var rows = system.Rows;
        var columns = system.Columns;
        for (var s = 1; s < rows.Length; s++)
        {
            if (columns[s] == unknown)
            {
                charge[rows[s]] += capacitance[s];
            }
        }

        charge[0] = 0;
        return cuts.Enter(charge);
    }

    /// <summary>Largest weighted element among some rows.</summary>
    /// <param name="charges">The vector.</param>
    /// <param name="marks">Marks by row.</param>
    /// <param name="mark">Rows with this mark are looked at.</param>
    public double Size(double[] charges, bool[] marks, bool mark)
    {
        var size = 0.0;
        for (var k = 1; k < charges.Length; k++)
        {
            if (marks[k] != mark)
            {
                continue;
            }

            size = Math.Max(size, Math.Abs(charges[k]) * Weight[k]);
        }

        return size;
    }
}
