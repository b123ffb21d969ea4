using BoardSim.Engine.Circuits;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Analyses.WideSteps;

/// <summary>
/// The linear part of a collocation step of one length, solved once and for all. With Z the changes of the unknowns from the
/// step's start to its stages, D the derivative matrix of the method over the step's length, and B what connects the ports,
/// the equations of all stages are <c>(D x C + 1 x G) Z = -(G x0 + e0) - (e - e0) - B y</c>, where y is each port's current
/// with its charging current. The columns below are the solutions for the unit vectors of the right-hand side.
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
        var (n, s, size) = (system.Size, method.Stages, layout.Stages * system.Size);
        var rows = new double[size][];
        for (var r = 0; r < size; r++)
        {
            rows[r] = new double[DenseVector.Padded(size + layout.Columns)];
        }

        FillMatrix(system, method, ports, h, rows);
        FillRightSides(layout, ports, n, s, rows, size);
        ScaleRows(rows, size);
        if (!DenseElimination.Solve(rows, size))
        {
            return null;
        }

        var map = new StepMap(layout.StateRows, layout.PortRows, layout.Columns, s * ports.Count) { Length = h };
        for (var column = 0; column < layout.Columns; column++)
        {
            for (var i = 0; i < s; i++)
            {
                var state = map.States.AsSpan(column * layout.StateRows + i * layout.Stride, layout.Stride);
                for (var k = 1; k <= n; k++)
                {
                    state[k] = rows[i * n + k - 1][size + column];
                }

                for (var p = 0; p < ports.Count; p++)
                {
                    map.Ports[column * layout.PortRows + p * s + i] = state[ports.Plus[p]] - state[ports.Minus[p]];
                }
            }
        }

        map.GatherPortRows(layout, method, ports.Count, h);
        return map;
    }

    private static void FillMatrix(CircuitSystem system, CollocationMethod method, PortSet ports, double h, double[][] rows)
    {
        var (n, s) = (system.Size, method.Stages);
        for (var slot = 1; slot < system.Rows.Length; slot++)
        {
            var (row, column) = (system.Rows[slot] - 1, system.Columns[slot] - 1);
            var (g, c) = (system.ConstantG[slot], system.ConstantC[slot]);
            for (var i = 0; i < s; i++)
            {
                rows[i * n + row][i * n + column] += g;
                for (var j = 0; c != 0 && j < s; j++)
                {
                    rows[i * n + row][j * n + column] += c * method.Derivative[i + 1, j + 1] / h;
                }
            }
        }

        for (var p = 0; p < ports.Count; p++)
        {
            var (a, b) = (ports.Plus[p] - 1, ports.Minus[p] - 1);
            for (var i = 0; i < s; i++)
            {
                rows[i * n + a][i * n + a] += PortConductance;
                if (b >= 0)
                {
                    rows[i * n + b][i * n + b] += PortConductance;
                    rows[i * n + a][i * n + b] -= PortConductance;
                    rows[i * n + b][i * n + a] -= PortConductance;
                }
            }
        }
    }

    private static void FillRightSides(StepLayout layout, PortSet ports, int n, int s, double[][] rows, int size)
    {
        for (var i = 0; i < s; i++)
        {
            for (var k = 0; k < n; k++)
            {
                rows[i * n + k][size + k] = 1;
            }

            for (var e = 0; e < layout.ExcitedRows.Length; e++)
            {
                rows[i * n + layout.ExcitedRows[e] - 1][size + layout.FirstExcitation + i * layout.ExcitedRows.Length + e] = 1;
            }

            for (var p = 0; p < ports.Count; p++)
            {
                var column = size + layout.FirstPort + p * s + i;
                rows[i * n + ports.Plus[p] - 1][column] = 1;
                if (ports.Minus[p] != 0)
                {
                    rows[i * n + ports.Minus[p] - 1][column] = -1;
                }
            }
        }
    }

    private static void ScaleRows(double[][] rows, int size)
    {
        foreach (var row in rows)
        {
            var largest = 0.0;
            for (var j = 0; j < size; j++)
            {
                largest = Math.Max(largest, Math.Abs(row[j]));
            }

            for (var j = 0; largest > 0 && j < row.Length; j++)
            {
                row[j] /= largest;
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
