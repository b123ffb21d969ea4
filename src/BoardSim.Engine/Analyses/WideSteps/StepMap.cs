using System.Buffers;
using System.Numerics;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Analyses.WideSteps;

/// <summary>
/// The linear part of a collocation step of one length, solved once and for all. With Z the changes of the unknowns from the
/// step's start to its stages, D the derivative matrix of the method over the step's length, and B what connects the ports,
/// the equations of all stages are <c>(D x C + 1 x G) Z = -(G x0 + e0) - (e - e0) - B y</c>, where y is each port's current
/// with its charging current. The columns below are the solutions for the unit vectors of the right-hand side; they are put together
/// from complex systems of the circuit's own size, one for each eigenvalue of D (<see cref="StageSpectrum"/>).
/// </summary>
internal sealed class StepMap
{
    /// <summary>Conductance in siemens put across each port in the linear part and taken out of the port's law: nodes that hang on
    /// nothing but junctions would leave the linear part singular.</summary>
    public const double PortConductance = 1e-3;

    private readonly int rows;
    private readonly int portRows;

    private StepMap(int rows, int portRows, int columns, int ports)
    {
        (this.rows, this.portRows) = (rows, portRows);
        States = new double[columns * rows];
        Ports = new double[columns * portRows];
        Conducting = new double[ports * portRows];
        Charging = new double[ports * portRows];
    }

    /// <summary>Length of the step in seconds.</summary>
    public double Length { get; private init; }

    /// <summary>Columns of Z, all stages below each other, each stage with the ground as its element 0.</summary>
    public double[] States { get; }

    /// <summary>The same for the port voltages.</summary>
    public double[] Ports { get; }

    /// <summary>What the port currents do to the port voltages: by port and stage, row by row.</summary>
    public double[] Conducting { get; }

    /// <summary>What the port charges do to them: the same with D worked in.</summary>
    public double[] Charging { get; }

    /// <summary>Columns of the states from one on.</summary>
    public ReadOnlySpan<double> StatesFrom(int column) => States.AsSpan(column * rows);

    /// <summary>Columns of the port voltages from one on.</summary>
    public ReadOnlySpan<double> PortsFrom(int column) => Ports.AsSpan(column * portRows);

    /// <summary>Row of <see cref="Conducting"/>.</summary>
    public ReadOnlySpan<double> ConductingRow(int row) => Conducting.AsSpan(row * portRows, portRows);

    /// <summary>Row of <see cref="Charging"/>.</summary>
    public ReadOnlySpan<double> ChargingRow(int row) => Charging.AsSpan(row * portRows, portRows);

    /// <summary>Solves for a step length; null when the linear part is singular.</summary>
    /// <param name="system">The circuit with its present linear part.</param>
    /// <param name="layout">Sizes.</param>
    /// <param name="method">The method.</param>
    /// <param name="ports">The ports.</param>
    /// <param name="h">Length in seconds.</param>
    public static StepMap? Make(CircuitSystem system, StepLayout layout, CollocationMethod method, PortSet ports, double h)
    {
        // A right-hand side for each row of the circuit and one for each port: the difference of two rows' solutions would lose the port's own
        // resistance where both hang on gigohms.
        var (n, width) = (system.Size, 2 * system.Size + ports.Count);
        var map = new StepMap(layout.StateRows, layout.PortRows, layout.Columns, layout.Stages * ports.Count) { Length = h };

        // Short runs make few maps, but one is made after the other: the scratch is theirs together.
        var scratch = ArrayPool<Complex>.Shared.Rent(n * width);
        try
        {
            var rows = scratch.AsSpan(0, n * width);
            foreach (var term in method.Spectrum.Terms)
            {
                Fill(system, ports, term.Value / h, rows, width);
                ScaleRows(rows, n, width);
                if (!DenseElimination.Solve(rows, n, width))
                {
                    return null;
                }

                map.Add(layout, ports.Count, term, rows, width);
            }
        }
        finally
        {
            ArrayPool<Complex>.Shared.Return(scratch);
        }

        map.GatherPorts(layout, ports);
        map.GatherPortRows(layout, method, ports.Count, h);
        return map;
    }

    /// <summary>The equations that belong to one eigenvalue, and the unit vectors that they are solved for.</summary>
    private static void Fill(CircuitSystem system, PortSet ports, Complex rate, Span<Complex> rows, int width)
    {
        var n = system.Size;
        rows.Clear();
        for (var slot = 1; slot < system.Rows.Length; slot++)
        {
            var (row, column) = (system.Rows[slot] - 1, system.Columns[slot] - 1);
            rows[row * width + column] += system.ConstantG[slot] + system.ConstantC[slot] * rate;
        }

        for (var k = 0; k < n; k++)
        {
            rows[k * width + n + k] = 1;
        }

        for (var p = 0; p < ports.Count; p++)
        {
            var (a, b, column) = (ports.Plus[p] - 1, ports.Minus[p] - 1, 2 * n + p);
            rows[a * width + a] += PortConductance;
            rows[a * width + column] = 1;
            if (b >= 0)
            {
                rows[b * width + b] += PortConductance;
                rows[a * width + b] -= PortConductance;
                rows[b * width + a] -= PortConductance;
                rows[b * width + column] = -1;
            }
        }
    }

    private static void ScaleRows(Span<Complex> rows, int size, int width)
    {
        for (var r = 0; r < size; r++)
        {
            var row = rows.Slice(r * width, width);
            var largest = 0.0;
            foreach (var element in row[..size])
            {
                largest = Math.Max(largest, Math.Abs(element.Real) + Math.Abs(element.Imaginary));
            }

            var inverse = largest > 0 ? 1 / largest : 1;
            foreach (ref var element in row)
            {
                element *= inverse;
            }
        }
    }

    /// <summary>Adds one eigenvalue's share to the columns of the states.</summary>
    private void Add(StepLayout layout, int ports, SpectralTerm term, ReadOnlySpan<Complex> solved, int width)
    {
        var (s, n) = (layout.Stages, solved.Length / width);
        var all = Complex.Zero;
        foreach (var left in term.Left)
        {
            all += left;
        }

        for (var k = 0; k < n; k++)
        {
            AddColumn(layout, k, all, term.Right, solved[(n + k)..], width);
        }

        for (var j = 0; j < s; j++)
        {
            for (var e = 0; e < layout.ExcitedRows.Length; e++)
            {
                AddColumn(layout, layout.FirstExcitation + j * layout.ExcitedRows.Length + e, term.Left[j], term.Right, solved[(n + layout.ExcitedRows[e] - 1)..], width);
            }

            for (var p = 0; p < ports; p++)
            {
                AddColumn(layout, layout.FirstPort + p * s + j, term.Left[j], term.Right, solved[(2 * n + p)..], width);
            }
        }
    }

    private void AddColumn(StepLayout layout, int column, Complex left, Complex[] right, ReadOnlySpan<Complex> solved, int width)
    {
        for (var i = 0; i < right.Length; i++)
        {
            var factor = right[i] * left;
            var state = States.AsSpan(column * rows + i * layout.Stride + 1, layout.Stride - 1);
            for (var (k, at) = (0, 0); at < solved.Length; k++, at += width)
            {
                state[k] += factor.Real * solved[at].Real - factor.Imaginary * solved[at].Imaginary;
            }
        }
    }

    private void GatherPorts(StepLayout layout, PortSet ports)
    {
        for (var column = 0; column < layout.Columns; column++)
        {
            for (var i = 0; i < layout.Stages; i++)
            {
                var state = States.AsSpan(column * rows + i * layout.Stride, layout.Stride);
                for (var p = 0; p < ports.Count; p++)
                {
                    Ports[column * portRows + p * layout.Stages + i] = state[ports.Plus[p]] - state[ports.Minus[p]];
                }
            }
        }
    }

    private void GatherPortRows(StepLayout layout, CollocationMethod method, int ports, double h)
    {
        var s = layout.Stages;
        for (var r = 0; r < s * ports; r++)
        {
            for (var column = 0; column < s * ports; column++)
            {
                Conducting[r * portRows + column] = Ports[(layout.FirstPort + column) * portRows + r];
            }

            for (var p = 0; p < ports; p++)
            {
                for (var j = 0; j < s; j++)
                {
                    var sum = 0.0;
                    for (var i = 0; i < s; i++)
                    {
                        sum += Conducting[r * portRows + p * s + i] * method.Derivative[i + 1, j + 1] / h;
                    }

                    Charging[r * portRows + p * s + j] = sum;
                }
            }
        }
    }
}
