using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>
/// Two measures for differences of charges and fluxes. In the relative one a row is off by one when the unknowns that its charge
/// depends on are off by their whole peak (and floor): what a user's accuracy is about. In the energetic one, the square root of the
/// energy in the difference, a drain's ringing picofarads weigh next to nothing beside an output capacitor: what is slow counts, and
/// what the circuit forgets within a period does not.
/// </summary>
internal sealed class BoundaryScale
{
    private readonly CircuitSystem system;
    private readonly double[] whole;
    private readonly double[] root;
    private readonly double[] none;

    public BoundaryScale(CircuitSystem system)
    {
        this.system = system;
        whole = new double[system.Size + 1];
        root = new double[system.Size + 1];
        none = new double[system.Size + 1];
    }

    /// <summary>Takes the capacitances and inductances at a boundary, and the peaks, as the measure.</summary>
    /// <param name="at">The boundary; no run may be in the middle of a step.</param>
    /// <param name="peak">Largest magnitude of each unknown.</param>
    public void Take(PeriodBoundary at, ReadOnlySpan<double> peak)
    {
        var l = system.Loads;
        at.State.CopyTo(l.X, 0);
        l.Limiting = false;
        system.Evaluate(none);
        Array.Clear(whole);
        Array.Clear(root);
        for (var s = 1; s < l.C.Length; s++)
        {
            var (row, column, slope) = (system.Rows[s], system.Columns[s], Math.Abs(l.C[s]));
            if (row == 0 || column == 0 || slope == 0)
            {
                continue;
            }

            var kind = system.Unknowns[column - 1].Kind;
            whole[row] += slope * (peak[column] + ErrorScale.Floor(kind));

            // Heat is no energy that comes back; what it could do as work goes with its temperature.
            root[row] += slope * (kind == UnknownKind.Temperature ? Math.Max(1, peak[column]) : 1);
        }

        for (var k = 1; k < root.Length; k++)
        {
            root[k] = Math.Sqrt(root[k]);
        }
    }

    /// <summary>A difference in the relative measure, by row.</summary>
    public double[] Relative(double[] charge, double[] other) => Difference(charge, other, whole);

    /// <summary>A difference in the energetic measure, by row.</summary>
    public double[] Energetic(double[] charge, double[] other) => Difference(charge, other, root);

    /// <summary>From the energetic measure back to charges.</summary>
    public double[] Charge(double[] energetic) => [.. energetic.Zip(root, (e, r) => e * r)];

    /// <summary>The largest relative difference, and its row.</summary>
    public (double Size, int Row) Largest(double[] charge, double[] other)
    {
        var relative = Relative(charge, other);
        var row = 0;
        for (var k = 1; k < relative.Length; k++)
        {
            row = Math.Abs(relative[k]) > Math.Abs(relative[row]) ? k : row;
        }

        return (Math.Abs(relative[row]), row);
    }

    private static double[] Difference(double[] charge, double[] other, double[] unit)
    {
        var r = new double[unit.Length];
        for (var k = 1; k < r.Length; k++)
        {
            r[k] = unit[k] > 0 ? (charge[k] - other[k]) / unit[k] : 0;
        }

        return r;
    }
}
