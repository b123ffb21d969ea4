using BoardSim.Engine.Circuits;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>
/// What a period makes of a small deviation of each charge at its start: the variational equations dq'/dt = -G dx, dq = C dx along the
/// points that a run went through (Aprille and Trick, Proc. IEEE 60 (1972) 108, from memory). They are integrated by the L-stable implicit
/// method of two stages and second order (Alexander, SIAM J. Numer. Anal. 14 (1977) 1006, from memory) with the matrices of each step's
/// end, in charges, so that what flows out of one flows into another to the last place and a slow decay keeps its rate. Rings it damps,
/// and a circuit that a high quality keeps ringing for many periods is not described well: whoever uses this has to look
/// whether it holds. Where an event changes a law by a jump, its instant moves with the deviation (saltation: Müller, Chaos, Solitons
/// and Fractals 5 (1995) 1671, from memory).
/// </summary>
internal sealed class PeriodSensitivity
{
    /// <summary>Change of an unknown, relative to itself, by which a guard's gradient is found.</summary>
    private const double Nudge = 1e-6;

    /// <summary>Diagonal of the method.</summary>
    private static readonly double Gamma = 1 - Math.Sqrt(0.5);

    private readonly CircuitSystem system;
    private readonly SparseLu<double> lu;
    private readonly double[] matrix;
    private readonly double[] excitation;
    private readonly List<int> rows = [];
    private double[] charges = [];
    private double[] states = [];
    private double[] inner = [];
    private double[] work = [];

    // All deviations are followed at once: by row of the circuit, and within it by deviation, made up to whole vectors.
    private int width;

    public PeriodSensitivity(CircuitSystem system)
    {
        this.system = system;
        lu = new SparseLu<double>(system.Pattern);
        matrix = new double[system.Rows.Length];
        excitation = new double[system.Size + 1];
    }

    /// <summary>Rows that hold a charge or flux.</summary>
    public IReadOnlyList<int> Rows => rows;

    /// <summary>Charges at the period's end by row, for one unit more in each of <see cref="Rows"/> at its start.</summary>
    public IReadOnlyList<double[]> Charges { get; private set; } = [];

    /// <summary>Unknowns at the period's end, likewise.</summary>
    public IReadOnlyList<double[]> States { get; private set; } = [];

    /// <summary>Follows deviations over a period. The discrete devices are then in their states at its end, as they were before.</summary>
    /// <param name="start">State at the period's start.</param>
    /// <param name="origin">Its instant in seconds.</param>
    /// <param name="track">The points of the period.</param>
    /// <returns>False when a matrix was singular or a guard stood still at its own event.</returns>
    public bool Follow(PeriodBoundary start, double origin, PeriodTrack track)
    {
        var last = system.Discrete.Select(d => d.Memory).ToArray();
        try
        {
            var followed = Integrate(start, origin, track);
            (Charges, States) = (Apart(charges), Apart(states));
            return followed;
        }
        finally
        {
            Remember(last);
        }
    }

    private bool Integrate(PeriodBoundary start, double origin, PeriodTrack track)
    {
        Remember(start.Memory);
        Evaluate(origin, start.State);
        Begin();
        var (time, state) = (origin, start.State);
        for (var k = 0; k < track.Points.Count; k++)
        {
            var point = track.Points[k];
            if (!Step(point.Time - time, point.Time, point.State))
            {
                return false;
            }

            if (point.Switched is { } after)
            {
                var next = k + 1 < track.Points.Count ? track.Points[k + 1].State : point.State;
                if (!Switch(after, (time, state), point, next))
                {
                    return false;
                }

            }

            (time, state) = (point.Time, point.State);
        }

        return true;
    }

    /// <summary>One unit in each row that holds a charge.</summary>
    private void Begin()
    {
        var l = system.Loads;
        rows.Clear();
        for (var s = 1; s < l.C.Length; s++)
        {
            if (l.C[s] != 0 && system.Rows[s] != 0 && system.Columns[s] != 0 && !rows.Contains(system.Rows[s]))
            {
                rows.Add(system.Rows[s]);
            }
        }

        rows.Sort();
        width = DenseVector.Padded(rows.Count);
        (charges, states, inner) = (new double[(system.Size + 1) * width], new double[(system.Size + 1) * width], new double[(system.Size + 1) * width]);
        work = new double[system.Size * width];
        for (var j = 0; j < rows.Count; j++)
        {
            charges[rows[j] * width + j] = 1;
        }
    }

    private double[][] Apart(double[] together) =>
        [.. rows.Select((_, j) => Enumerable.Range(0, system.Size + 1).Select(k => together[k * width + j]).ToArray())];

    /// <summary>Two stages with one matrix: (C + g h G) dx = dq twice, the second time less what flowed in the first, and dq becomes C dx.</summary>
    private bool Step(double h, double time, double[] x)
    {
        if (!(h > 0))
        {
            return true;
        }

        Evaluate(time, x);
        var l = system.Loads;
        for (var s = 1; s < matrix.Length; s++)
        {
            matrix[s] = l.C[s] / (Gamma * h) + l.G[s];
        }

        if (!lu.Refactor(matrix) && !lu.Factor(matrix))
        {
            return false;
        }

        Solve(h);
        Charge(inner);
        for (var k = 0; k < charges.Length; k++)
        {
            charges[k] -= (1 - Gamma) / Gamma * (charges[k] - inner[k]);
        }

        Solve(h);
        Charge(charges);
        return true;
    }

    private void Solve(double h)
    {
        Scalar.Scale<double>(states, 1 / (Gamma * h), charges);
        lu.SolveMany(states, width, work);
        states.AsSpan(0, width).Clear();
    }

    /// <summary>The charges that belong to the unknowns.</summary>
    private void Charge(double[] charge)
    {
        var c = system.Loads.C;
        Array.Clear(charge);
        for (var s = 1; s < c.Length; s++)
        {
            if (c[s] != 0)
            {
                DenseVector.AddScaled(charge.AsSpan(system.Rows[s] * width, width), c[s], states.AsSpan(system.Columns[s] * width, width));
            }
        }

        charge.AsSpan(0, width).Clear();
    }

    /// <summary>An event: what flowed otherwise in the time by which a deviation moves its instant.</summary>
    private bool Switch(object[] after, (double Time, double[] State) before, TrackPoint at, double[] next)
    {
        var gradient = new double[system.Size + 1];
        var device = system.Discrete.First(d => ((Device)d).Name == at.Fired);
        var slope = Slope(device, before, at, gradient);
        if (!Array.Exists(gradient, g => g != 0))
        {
            // A clock's event.
            Remember(after);
            return true;
        }

        Evaluate(at.Time, at.State);
        var flowed = (double[])system.Loads.F.Clone();
        Remember(after);
        Evaluate(at.Time, next);
        var flows = system.Loads.F;
        for (var j = 0; j < rows.Count; j++)
        {
            var delay = 0.0;
            for (var k = 1; k < gradient.Length; k++)
            {
                delay -= gradient[k] * states[k * width + j] / slope;
            }

            for (var k = 1; k < gradient.Length; k++)
            {
                charges[k * width + j] += (flows[k] - flowed[k]) * delay;
            }
        }

        return slope > 0;
    }

    /// <summary>Rate at which the guard that fired rose, and its gradient.</summary>
    private static double Slope(IDiscrete device, (double Time, double[] State) before, TrackPoint at, double[] gradient)
    {
        var (earlier, now, moved) = (new double[device.GuardCount], new double[device.GuardCount], new double[device.GuardCount]);
        device.Guards(before.Time, before.State, earlier);
        device.Guards(at.Time, at.State, now);
        var fired = -1;
        for (var g = 0; g < now.Length; g++)
        {
            fired = now[g] > earlier[g] && (fired < 0 || now[g] > now[fired]) ? g : fired;
        }

        if (fired < 0)
        {
            return double.NaN;
        }

        var x = (double[])at.State.Clone();
        for (var k = 1; k < x.Length; k++)
        {
            var nudge = Nudge * Math.Max(1, Math.Abs(x[k]));
            x[k] += nudge;
            device.Guards(at.Time, x, moved);
            gradient[k] = (moved[fired] - now[fired]) / nudge;
            x[k] = at.State[k];
        }

        return (now[fired] - earlier[fired]) / (at.Time - before.Time);
    }

    private void Remember(object[] memory)
    {
        for (var d = 0; d < memory.Length; d++)
        {
            system.Discrete[d].Memory = memory[d];
        }

        system.Restamp();
    }

    private void Evaluate(double time, double[] x)
    {
        var l = system.Loads;
        system.Excite(time, excitation);
        x.CopyTo(l.X, 0);
        l.Limiting = false;
        system.Evaluate(excitation);
    }
}
