using System.Numerics;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Analyses.WideSteps;

/// <summary>
/// Solves steps of a collocation method of high order for a small circuit. What is linear in the circuit is solved once per step
/// length (<see cref="StepMap"/>); each step then is a small nonlinear system for the port voltages at all stages. Where the
/// solution is smooth, as in the ringing between two switching instants, such a step is worth many of low order. Lengths come
/// from a geometric grid, so that they recur. Allocates nothing once the maps are made. Arrays over ports and stages stand
/// port by port, the stages of one port one after the other.
/// </summary>
internal sealed class WideStepSolver
{
    /// <summary>Lengths double with every so many notches.</summary>
    public const int NotchesPerOctave = 4;

    /// <summary>More than this many equations of all stages, and making a map costs more than it saves.</summary>
    private const int MostEquations = 240;

    private const int MostPortEquations = 48;

    private const int IterationLimit = 7;

    /// <summary>Part of a tolerance below which a Newton update is the last: what follows it is smaller by far.</summary>
    private const double LastUpdate = 0.05;

    /// <summary>Part of what the last two terms, as they fall, let expect next that is left out of a smooth ring: there the last one alone says more.</summary>
    private const double PairShare = 0.5;

    /// <summary>Growth of a Newton update beyond which it is not going anywhere.</summary>
    private const double Diverging = 4;

    /// <summary>Multiple of the largest current of late beyond which a guessed port current is not believed.</summary>
    private const double Wild = 10;

    /// <summary>Margin of what a wide step saves over what it costs, for the trials that are in vain.</summary>
    private const double Margin = 1.3;

    private const int TakeBackLimit = 8;

    /// <summary>Stages that the polynomial of the step before is carried on to; a third of a cycle ahead it is no guess any more.</summary>
    private const int CarriedStages = 2;

    private readonly CircuitSystem system;
    private readonly CollocationMethod method;
    private readonly SolverCounters counters;
    private readonly PortSet ports;
    private readonly StepLayout layout;
    private readonly LinearParts parts;
    private readonly LinearPower power;
    private readonly SmallSystem newton;
    private readonly Dictionary<(int Part, int Notch), StepMap?> maps = [];
    private readonly int stages;
    private readonly double[] derivative;
    private readonly double[] states, changes;
    private readonly double[] v, former, vBefore, target, residual, y, current, charge, g, c;
    private readonly double[] startV, startVBefore, startCharge, portWeight;
    private readonly double[] fixedF, fixedQ, excitation, stageExcitation, excitationChange;
    private readonly double[][] terms;
    private readonly double[] weights, ahead, times;
    private StepMap? map;
    private int part;
    private int lastNotch = int.MinValue;
    private double lastEnd = double.NaN;
    private double steadyUntil = double.NegativeInfinity;

    private WideStepSolver(CircuitSystem system, CollocationMethod method, SolverCounters counters, PortSet ports)
    {
        (this.system, this.method, this.counters, this.ports, stages) = (system, method, counters, ports, method.Stages);
        layout = new StepLayout(system, stages, ports.Count);
        parts = new LinearParts(system);
        power = new LinearPower(system);
        newton = new SmallSystem(stages * ports.Count);
        var (size, all, slopes) = (system.Size + 1, layout.PortRows, Math.Max(layout.PortRows, stages * ports.Blocks));
        (states, changes) = (new double[(stages + 1) * layout.Stride], new double[layout.StateRows]);
        (v, former, vBefore, target, residual) = (new double[all], new double[all], new double[all], new double[all], new double[all]);
        (y, current, charge, g, c) = (new double[all], new double[all], new double[all], new double[slopes], new double[slopes]);
        (startV, startVBefore) = (new double[ports.Count], new double[ports.Count]);
        (startCharge, portWeight) = (new double[ports.Count], new double[ports.Count]);
        (fixedF, fixedQ) = (new double[size], new double[size]);
        terms = [new double[size], new double[size], new double[size], new double[size]];
        (excitation, stageExcitation) = (new double[size], new double[size]);
        excitationChange = new double[stages * layout.ExcitedRows.Length];
        (weights, times) = (new double[stages + 1], new double[stages]);
        derivative = new double[stages * stages];
        for (var k = 0; k < derivative.Length; k++)
        {
            derivative[k] = method.Derivative[k / stages + 1, k % stages + 1];
        }

        // Weights that carry the polynomial of one step on into the next of the same length.
        ahead = new double[(stages + 1) * stages];
        for (var i = 1; i <= stages; i++)
        {
            method.Interpolate(1 + method.Nodes[i], weights);
            weights.CopyTo(ahead, (i - 1) * (stages + 1));
        }
    }

    /// <summary>Number of stages.</summary>
    public int Stages => stages;

    /// <summary>Length of the last step in seconds.</summary>
    public double Length { get; private set; }

    /// <summary>Energy in joules that all parts but those that store it absorbed over the last step, sources counted negative.</summary>
    public double AbsorbedEnergy { get; private set; }

    /// <summary>Energy in joules that independent sources delivered over the last step.</summary>
    public double SourceEnergy { get; private set; }

    /// <summary>Growth of the stored energy over the last step in joules.</summary>
    public double StoredEnergy { get; private set; }

    /// <summary>Largest current in amperes that the last update of Newton's method moved at a port: more is not left over.</summary>
    public double LeftOver { get; private set; }

    /// <summary>Makes a solver for a circuit; null when the circuit is too large, or has devices that do not tell what they reach.</summary>
    /// <param name="system">The circuit.</param>
    /// <param name="counters">Counts of the run.</param>
    /// <param name="stages">Number of stages.</param>
    public static WideStepSolver? For(CircuitSystem system, SolverCounters counters, int stages)
    {
        if (system.Size * stages > MostEquations || !system.TellsItsPorts)
        {
            return null;
        }

        var ports = new PortSet(system, stages);
        return ports.Count * stages > MostPortEquations ? null : new WideStepSolver(system, CollocationMethod.Of(stages), counters, ports);
    }

    /// <summary>Length of a step by its notch on the grid, in seconds.</summary>
    public static double LengthOf(int notch) => Math.Pow(2, (double)notch / NotchesPerOctave);

    /// <summary>Longest grid length that is not above a limit.</summary>
    /// <param name="limit">Limit in seconds, positive.</param>
    public static int NotchBelow(double limit) => (int)Math.Floor(NotchesPerOctave * Math.Log2(limit));

    /// <summary>Forgets the step before: nothing is to be carried on from it.</summary>
    public void Break() => (lastEnd, steadyUntil) = (double.NaN, double.NegativeInfinity);

    /// <summary>Price of a map in ordinary steps: what its elimination costs over what a step of low order costs, three times over, since most maps of a short run are used a few times only.</summary>
    public double MapPrice
    {
        get
        {
            double n = system.Size;
            return n * n * (4 * n / 3 + ports.Count) / (30 * (n + 5));
        }
    }

    /// <summary>
    /// Ordinary steps that a wide one has to replace to be worth while. Measured: one of ten equations takes as long as an ordinary step of two or three solves, one of fifteen a little longer, one of
    /// twenty one to three times as long. More than that is asked of many equations, for rectifiers and flip-flops have them, whose ordinary steps grow as things settle while wide ones stay with what is left of a ring.
    /// </summary>
    /// <param name="solves">Nonlinear systems that an ordinary step solves, one after the other.</param>
    public double Worth(int solves) => Margin * (0.25 + 0.5 * Math.Pow(stages * ports.Count / 10.0, 4)) * (3.0 / solves);

    /// <summary>True when there is a map for this length and the present linear part, even if it showed to be singular.</summary>
    /// <param name="notch">Length on the grid.</param>
    public bool HasMap(int notch)
    {
        Recognise();
        return maps.ContainsKey((part, notch));
    }

    /// <summary>Solves a step.</summary>
    /// <param name="time">Start in seconds.</param>
    /// <param name="corner">Next corner of any source in seconds; the step ends before it.</param>
    /// <param name="notch">Length on the grid.</param>
    /// <param name="x0">The unknowns at the start.</param>
    /// <param name="weight">Reciprocal tolerance of each unknown.</param>
    /// <param name="currentScale">Largest current of late, in amperes.</param>
    /// <param name="balance">Current in amperes that the last update may move at a port.</param>
    /// <param name="skip">Unknowns that the error estimate leaves out.</param>
    /// <param name="size">Receives the weighted size of what the solution's polynomial leaves out.</param>
    /// <returns>False when it did not converge.</returns>
    public bool TryStep(
        double time, double corner, int notch, double[] x0, double[] weight, double currentScale, double balance, bool[] skip, out double size)
    {
        size = double.PositiveInfinity;
        if (!Prepare(notch))
        {
            return false;
        }

        Length = map!.Length;
        for (var i = 0; i < stages; i++)
        {
            times[i] = time + method.Nodes[i + 1] * Length;
        }

        Start(time, corner, x0);
        SetTarget(weight);
        Guess(lastEnd == time ? LengthOf(lastNotch) : double.NaN);
        lastEnd = double.NaN;
        if (!Iterate(currentScale, balance))
        {
            return false;
        }

        Spread(x0);
        size = LeftOut(weight, skip);
        (lastEnd, lastNotch) = (time + Length, notch);
        startV.CopyTo(startVBefore, 0);
        v.CopyTo(vBefore, 0);
        return true;
    }

    /// <summary>The unknowns at a stage of the last step, ground first; stage 0 is its start, the last its end.</summary>
    public ReadOnlySpan<double> State(int stage) => states.AsSpan(stage * layout.Stride, system.Size + 1);

    /// <summary>Instant of a stage as a fraction of the step.</summary>
    public double Node(int stage) => method.Nodes[stage];

    /// <summary>Value of all unknowns inside the last step, by the polynomial through all stages.</summary>
    /// <param name="theta">Position in the step, 0..1.</param>
    /// <param name="x">Receives the unknowns.</param>
    public void Interpolate(double theta, Span<double> x)
    {
        method.Interpolate(theta, weights);
        Combine(x, weights, 1);
    }

    /// <summary>What the step leaves for the next one, of whatever kind: unknowns, charges, slopes of the charges, rates of change.</summary>
    public void Finish(double time, double[] x, double[] charges, double[] slope, double[] rate)
    {
        State(stages).CopyTo(x);
        for (var j = 0; j <= stages; j++)
        {
            weights[j] = method.Derivative[stages, j];
        }

        Combine(rate, weights, 1 / Length);
        BookEnergy();
        if (!(time + Length <= steadyUntil))
        {
            system.Excite(time + Length, excitation);
        }

        excitation.CopyTo(slope, 0);
        Array.Clear(charges);
        system.AddLinear(x, slope, charges);
        for (var p = 0; p < ports.Count; p++)
        {
            var (a, b, last) = (ports.Plus[p], ports.Minus[p], p * stages + stages - 1);
            slope[a] += current[last];
            charges[a] += charge[last];
            if (b != 0)
            {
                slope[b] -= current[last];
                charges[b] -= charge[last];
            }
        }
    }

    private void Recognise()
    {
        part = parts.Recognise(out var changed, out var forgotten);
        if (changed)
        {
            power.Take();
            Break();
        }

        if (forgotten)
        {
            maps.Clear();
        }
    }

    private bool Prepare(int notch)
    {
        Recognise();
        if (!maps.TryGetValue((part, notch), out map))
        {
            map = StepMap.Make(system, layout, method, ports, LengthOf(notch));
            counters.Factorizations++;
            maps[(part, notch)] = map;
        }

        return map is not null;
    }

    /// <summary>Takes over the step's start: port voltages and charges, and the currents that flow while nothing changes.</summary>
    private void Start(double time, double corner, double[] x0)
    {
        x0.CopyTo(states, 0);
        for (var p = 0; p < ports.Count; p++)
        {
            startV[p] = x0[ports.Plus[p]] - x0[ports.Minus[p]];
        }

        if (lastEnd == time)
        {
            for (var p = 0; p < ports.Count; p++)
            {
                startCharge[p] = charge[p * stages + stages - 1];
            }
        }
        else
        {
            // The laws are made for all stages at once: the start's value is asked for in each.
            for (var r = 0; r < stages * ports.Count; r++)
            {
                v[r] = startV[r / stages];
            }

            EvaluatePorts();
            for (var p = 0; p < ports.Count; p++)
            {
                startCharge[p] = charge[p * stages];
            }
        }

        Excite(time, corner);
        excitation.CopyTo(fixedF, 0);
        Array.Clear(fixedQ);
        system.AddLinear(x0, fixedF, fixedQ);
    }

    private void Excite(double time, double corner)
    {
        if (time + Length <= steadyUntil)
        {
            return;
        }

        system.Excite(time, excitation);
        Array.Clear(excitationChange);
        if (system.IsSteady(time, corner))
        {
            steadyUntil = corner;
            return;
        }

        var rows = layout.ExcitedRows;
        for (var i = 0; i < stages; i++)
        {
            system.Excite(times[i], stageExcitation);
            for (var e = 0; e < rows.Length; e++)
            {
                excitationChange[i * rows.Length + e] = stageExcitation[rows[e]] - excitation[rows[e]];
            }
        }
    }

    /// <summary>Port voltages as they would be without the ports' own currents.</summary>
    private void SetTarget(double[] weight)
    {
        for (var r = 0; r < stages * ports.Count; r++)
        {
            target[r] = -startV[r / stages];
        }

        DenseVector.AddProduct(target, map!.PortsFrom(0), fixedF.AsSpan(1));
        if (!(times[^1] <= steadyUntil))
        {
            DenseVector.AddProduct(target, map.PortsFrom(layout.FirstExcitation), excitationChange);
        }

        for (var p = 0; p < ports.Count; p++)
        {
            portWeight[p] = Math.Max(weight[ports.Plus[p]], weight[ports.Minus[p]]);
        }
    }

    private void Guess(double lengthBefore)
    {
        if (double.IsNaN(lengthBefore))
        {
            for (var r = 0; r < stages * ports.Count; r++)
            {
                v[r] = startV[r / stages];
            }

            return;
        }

        for (var i = 0; i < stages; i++)
        {
            if (i >= CarriedStages)
            {
                for (var p = 0; p < ports.Count; p++)
                {
                    v[p * stages + i] = v[p * stages + i - 1];
                }

                continue;
            }

            var w = ahead.AsSpan(i * (stages + 1), stages + 1);
            if (lengthBefore != Length)
            {
                w = weights;
                method.Interpolate(1 + method.Nodes[i + 1] * Length / lengthBefore, w);
            }

            for (var p = 0; p < ports.Count; p++)
            {
                var sum = w[0] * startVBefore[p];
                for (var j = 0; j < stages; j++)
                {
                    sum += w[j + 1] * vBefore[p * stages + j];
                }

                v[p * stages + i] = sum;
            }
        }
    }

    private bool Iterate(double currentScale, double balance)
    {
        var size = stages * ports.Count;
        var before = double.PositiveInfinity;
        for (var iteration = 0; iteration < IterationLimit; iteration++)
        {
            counters.Iterations++;
            EvaluatePorts();
            for (var attempt = 0; attempt < TakeBackLimit && TakeBackWildOnes(iteration, currentScale); attempt++)
            {
                EvaluatePorts();
            }

            SetCurrents();
            for (var r = 0; r < size; r++)
            {
                residual[r] = v[r] + target[r];
            }

            DenseVector.AddProduct(residual, map!.PortsFrom(layout.FirstPort), y.AsSpan(0, size));
            var update = Solve(size);
            if (update.IsEmpty && size > 0)
            {
                return false;
            }

            var (moved, amperes) = (0.0, 0.0);
            for (var r = 0; r < size; r++)
            {
                former[r] = v[r];
                v[r] -= update[r];
                var step = Math.Abs(update[r]) * portWeight[r / stages];

                // Written so that a NaN is large.
                moved = !(step <= moved) ? step : moved;
            }

            if (moved <= LastUpdate)
            {
                amperes = FollowUpdate(update);
                if (amperes <= balance)
                {
                    LeftOver = amperes;
                    return true;
                }
            }

            if (!double.IsFinite(moved) || (iteration > 0 && moved > Diverging * before))
            {
                return false;
            }

            before = moved;
        }

        return false;
    }

    /// <summary>
    /// Where the polynomial of the step before, carried on, or a Newton update puts a junction so far into conduction that no
    /// current of the circuit could, the value is taken back, halfway to the former iterate at a time.
    /// </summary>
    private bool TakeBackWildOnes(int iteration, double currentScale)
    {
        var any = false;
        for (var r = 0; r < stages * ports.Count; r++)
        {
            if (!(Math.Abs(current[r]) <= Wild * currentScale))
            {
                v[r] = iteration == 0 ? startV[r / stages] : 0.5 * (v[r] + former[r]);
                any = true;
            }
        }

        return any;
    }

    private void EvaluatePorts() => ports.Evaluate(times, v, new PortLaws(current, g, charge, c));

    /// <summary>Current of each port at each stage, its charging current included, less what the linear part holds already.</summary>
    private void SetCurrents()
    {
        var inverse = 1 / Length;
        for (var p = 0; p < ports.Count; p++)
        {
            var (at, q0) = (p * stages, startCharge[p]);
            for (var i = 0; i < stages; i++)
            {
                var sum = 0.0;
                for (var j = 0; j < stages; j++)
                {
                    sum += derivative[i * stages + j] * (charge[at + j] - q0);
                }

                y[at + i] = sum * inverse + current[at + i] - StepMap.PortConductance * (v[at + i] - startV[p]);
            }
        }
    }

    /// <summary>The last update was small: currents and charges follow it along their slopes.</summary>
    /// <returns>Largest current in amperes that this moved at a port.</returns>
    private double FollowUpdate(ReadOnlySpan<double> update)
    {
        var largest = 0.0;
        foreach (var (first, members, block) in ports.Groups)
        {
            for (var i = 0; i < stages; i++)
            {
                for (var a = 0; a < members; a++)
                {
                    var (amperes, coulombs) = (0.0, 0.0);
                    for (var b = 0; b < members; b++)
                    {
                        var (element, d) = ((block + a * members + b) * stages + i, update[(first + b) * stages + i]);
                        amperes -= g[element] * d;
                        coulombs -= c[element] * d;
                    }

                    current[(first + a) * stages + i] += amperes;
                    charge[(first + a) * stages + i] += coulombs;
                    largest = Math.Max(largest, Math.Abs(amperes));
                }
            }
        }

        SetCurrents();
        return largest;
    }

    /// <summary>One Newton update of the port voltages.</summary>
    private ReadOnlySpan<double> Solve(int size)
    {
        for (var r = 0; r < size; r++)
        {
            var row = newton.Row(r);
            if (ports.IsDiagonal)
            {
                FillDiagonalRow(row, map!.ConductingRow(r), map.ChargingRow(r), size);
            }
            else
            {
                FillRow(row, map!.ConductingRow(r), map.ChargingRow(r));
            }

            row[r] += 1;
            row[size] = residual[r];
        }

        return newton.Solve();
    }

    private void FillDiagonalRow(Span<double> row, ReadOnlySpan<double> conducting, ReadOnlySpan<double> charging, int size)
    {
        var own = new Vector<double>(StepMap.PortConductance);
        for (var k = 0; k < size; k += Vector<double>.Count)
        {
            var sum = new Vector<double>(conducting[k..]) * (new Vector<double>(g, k) - own) + new Vector<double>(charging[k..]) * new Vector<double>(c, k);
            sum.CopyTo(row[k..]);
        }
    }

    private void FillRow(Span<double> row, ReadOnlySpan<double> conducting, ReadOnlySpan<double> charging)
    {
        foreach (var (first, members, block) in ports.Groups)
        {
            for (var b = 0; b < members; b++)
            {
                for (var i = 0; i < stages; i++)
                {
                    var column = (first + b) * stages + i;
                    var sum = -StepMap.PortConductance * conducting[column];
                    for (var a = 0; a < members; a++)
                    {
                        var (element, k) = ((block + a * members + b) * stages + i, (first + a) * stages + i);
                        sum += conducting[k] * g[element] + charging[k] * c[element];
                    }

                    row[column] = sum;
                }
            }
        }
    }

    /// <summary>From port currents to all unknowns at all stages.</summary>
    private void Spread(double[] x0)
    {
        Array.Clear(changes);
        DenseVector.AddProduct(changes, map!.StatesFrom(0), fixedF.AsSpan(1));
        if (!(times[^1] <= steadyUntil))
        {
            DenseVector.AddProduct(changes, map.StatesFrom(layout.FirstExcitation), excitationChange);
        }

        DenseVector.AddProduct(changes, map.StatesFrom(layout.FirstPort), y.AsSpan(0, stages * ports.Count));
        for (var i = 0; i < stages; i++)
        {
            var state = states.AsSpan((i + 1) * layout.Stride, system.Size + 1);
            x0.CopyTo(state);
            DenseVector.AddScaled(state, -1, changes.AsSpan(i * layout.Stride, system.Size + 1));
        }
    }

    /// <summary>
    /// Weighted size of what the solution's polynomial leaves out, from how its last terms fall. Where they do not fall, the step
    /// has run over something, a ring that it is too long for say, and the highest term itself counts. The last one may be small by chance: where
    /// a law bends sharply inside the step, the last two together have not fallen.
    /// </summary>
    private double LeftOut(double[] weight, bool[] skip)
    {
        for (var t = 0; t < terms.Length; t++)
        {
            Combine(terms[t], method.Leading[t], 1);
        }

        var size = 0.0;
        for (var k = 1; k < terms[0].Length; k++)
        {
            var last = Math.Abs(terms[0][k]);
            var before = Math.Max(Math.Abs(terms[1][k]), Math.Abs(terms[2][k]));
            var term = last * (before > last ? last / before : 1);
            var (pair, former) = (Math.Max(last, Math.Abs(terms[1][k])), Math.Max(Math.Abs(terms[2][k]), Math.Abs(terms[3][k])));
            term = weight[k] * Math.Max(term, PairShare * pair * (former > pair ? pair / former : 1));

            // Written so that a NaN is large.
            if (!skip[k] && !(term <= size))
            {
                size = term;
            }
        }

        return double.IsNaN(size) ? double.PositiveInfinity : size;
    }

    private void Combine(Span<double> x, ReadOnlySpan<double> nodeWeights, double factor)
    {
        x.Clear();
        for (var j = 0; j <= stages; j++)
        {
            DenseVector.AddScaled(x, factor * nodeWeights[j], State(j));
        }
    }

    /// <summary>
    /// Books the step's energy. What sources and resistive parts absorb is summed over the stages with the method's quadrature; what
    /// is stored comes from the charges: exactly for linear parts, with the same quadrature for the ports, and for the area that currents and fluxes enclose where they turn in a loop, as with the
    /// loss of a core in one law with its inductance.
    /// </summary>
    private void BookEnergy()
    {
        var (absorbed, delivered, stored) = (0.0, 0.0, power.Stored(State(0), State(stages)));
        var (sign, rows) = (system.EnergySign, layout.ExcitedRows);
        for (var i = 1; i <= stages; i++)
        {
            var weight = method.Weights[i] * Length;
            var x = State(i);
            absorbed += weight * power.Absorbed(x);
            for (var e = 0; e < rows.Length; e++)
            {
                var k = rows[e];
                delivered -= weight * sign[k] * x[k] * (excitation[k] + excitationChange[(i - 1) * rows.Length + e]);
            }
        }

        if (power.DependsOnTheWay)
        {
            stored += Turned();
        }

        for (var p = 0; p < ports.Count; p++)
        {
            var (at, positive) = (p * stages, sign[ports.Plus[p]]);
            for (var i = 0; i < stages; i++)
            {
                var rise = 0.0;
                for (var j = 0; j < stages; j++)
                {
                    rise += derivative[i * stages + j] * (charge[at + j] - startCharge[p]);
                }

                absorbed += method.Weights[i + 1] * Length * positive * v[at + i] * current[at + i];
                stored += method.Weights[i + 1] * positive * v[at + i] * rise;
            }
        }

        (AbsorbedEnergy, SourceEnergy, StoredEnergy) = (absorbed - delivered, delivered, stored);
    }

    /// <summary>Quadrature of <c>x dQ</c> over the stages, as far as it differs from the straight way's; each pair of them once, since <c>a db - b da</c> changes its sign with them.</summary>
    private double Turned()
    {
        var joules = 0.0;
        for (var i = 1; i <= stages; i++)
        {
            for (var j = i + 1; j <= stages; j++)
            {
                var weight = method.Weights[i] * method.Derivative[i, j] - method.Weights[j] * method.Derivative[j, i];
                joules += weight * power.Turned(State(0), State(i), State(j));
            }
        }

        return joules;
    }
}
