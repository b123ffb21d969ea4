using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Evaluates one device of a circuit by itself, constant and nonlinear part together, at any vector of unknowns.</summary>
internal sealed class DeviceProbe
{
    private readonly CircuitSystem system;
    private readonly Device device;
    private readonly Loads loads;
    private readonly double[] constantG;
    private readonly double[] constantC;

    public DeviceProbe(Device device, double kelvin = 300.15, params Device[] others)
    {
        this.device = device;
        var circuit = new Circuit { Temperature = kelvin };
        circuit.Add(device);
        foreach (var other in others)
        {
            circuit.Add(other);
        }

        // A resistor from each node to ground satisfies any structural check; it takes no part in the evaluation.
        foreach (var node in circuit.Devices.SelectMany(d => d.Nodes).Where(n => n != Circuit.Ground).Distinct().ToList())
        {
            circuit.Add(new Engine.Devices.Resistor($"probe_{node}", node, Circuit.Ground, 1e3));
        }

        system = new CircuitSystem(circuit);
        var slots = system.Rows.Length;
        constantG = new double[slots];
        constantC = new double[slots];
        loads = new Loads
        {
            X = new double[system.Size + 1],
            F = new double[system.Size + 1],
            Q = new double[system.Size + 1],
            G = new double[slots],
            C = new double[slots],
            Gmin = 0,
        };
        Restamp();
    }

    public Loads Loads => loads;

    public CircuitSystem System => system;

    public int Size => system.Size;

    public void Restamp()
    {
        Array.Clear(constantG);
        Array.Clear(constantC);
        var (g, c) = (loads.G, loads.C);
        (loads.G, loads.C) = (constantG, constantC);
        device.StampConstant(loads);
        constantG[0] = constantC[0] = 0;
        (loads.G, loads.C) = (g, c);
    }

    /// <summary>Index of an unknown by its name.</summary>
    public int Index(string unknown) => system.Unknowns.Single(u => string.Equals(u.Name, unknown, StringComparison.OrdinalIgnoreCase)).Index;

    /// <summary>Sets an unknown by its name.</summary>
    public DeviceProbe Set(string unknown, double value)
    {
        loads.X[Index(unknown)] = value;
        return this;
    }

    /// <summary>Sets voltages and other unknowns at random between two values, temperatures between -20 and +230 degC.</summary>
    public void Scatter(Random random, double low, double high)
    {
        foreach (var unknown in system.Unknowns)
        {
            var (from, to) = unknown.Kind == UnknownKind.Temperature ? (253, 503) : (low, high);
            loads.X[unknown.Index] = from + (to - from) * random.NextDouble();
        }
    }

    public double F(string unknown) => loads.F[Index(unknown)];

    public double Q(string unknown) => loads.Q[Index(unknown)];

    public double G(string row, string column) => Entry(loads.G, Index(row), Index(column));

    public double C(string row, string column) => Entry(loads.C, Index(row), Index(column));

    public double Entry(double[] matrix, int row, int column)
    {
        for (var s = 1; s < matrix.Length; s++)
        {
            if (system.Rows[s] == row && system.Columns[s] == column)
            {
                return matrix[s];
            }
        }

        return 0;
    }

    /// <summary>F, Q, G and C of the device at the present unknowns.</summary>
    public DeviceProbe Evaluate()
    {
        Array.Clear(loads.F);
        Array.Clear(loads.Q);
        constantG.CopyTo(loads.G, 0);
        constantC.CopyTo(loads.C, 0);
        for (var s = 1; s < constantG.Length; s++)
        {
            loads.F[system.Rows[s]] += constantG[s] * loads.X[system.Columns[s]];
            loads.Q[system.Rows[s]] += constantC[s] * loads.X[system.Columns[s]];
        }

        if (device.IsNonlinear)
        {
            device.Evaluate(loads);
        }

        loads.F[0] = loads.Q[0] = loads.G[0] = loads.C[0] = 0;
        return this;
    }

    /// <summary>
    /// Asserts that G and C are the derivatives of F and Q at the present unknowns, by central differences with Richardson's
    /// extrapolation (error of order h^4). Allowed are a relative deviation, absolute floors, and what the differences lose by
    /// cancellation: some 40 units in the last place of the row's largest term.
    /// </summary>
    public void AssertDerivatives(double step, double relative, double absoluteG, double absoluteC, string context)
    {
        Evaluate();
        var (g, c) = ((double[])loads.G.Clone(), (double[])loads.C.Clone());
        var (lostF, lostQ) = (Lost(g, loads.F), Lost(c, loads.Q));
        for (var column = 1; column <= Size; column++)
        {
            var h = system.Unknowns[column - 1].Kind == UnknownKind.Temperature ? 1e3 * step : step;
            var (f1, q1) = Difference(column, h);
            var (f2, q2) = Difference(column, 2 * h);
            for (var row = 1; row <= Size; row++)
            {
                Close((4 * f1[row] - f2[row]) / 3, Entry(g, row, column), absoluteG + lostF[row] / h, 'F', row, column);
                Close((4 * q1[row] - q2[row]) / 3, Entry(c, row, column), absoluteC + lostQ[row] / h, 'Q', row, column);
            }
        }

        Evaluate();

        void Close(double difference, double derivative, double absolute, char what, int row, int column)
        {
            var allowed = absolute + relative * Math.Max(Math.Abs(difference), Math.Abs(derivative));
            Assert.True(
                Math.Abs(difference - derivative) <= allowed,
                $"{context}: d{what}({system.Unknowns[row - 1].Name})/d{system.Unknowns[column - 1].Name} is {difference:g9} by differences, {derivative:g9} by the device (allowed {allowed:g3})");
        }
    }

    private double[] Lost(double[] matrix, double[] vector)
    {
        var lost = vector.Select(Math.Abs).ToArray();
        for (var s = 1; s < matrix.Length; s++)
        {
            lost[system.Rows[s]] = Math.Max(lost[system.Rows[s]], Math.Abs(matrix[s] * loads.X[system.Columns[s]]));
        }

        return [.. lost.Select(l => 40 * 2.2e-16 * l)];
    }

    private (double[] F, double[] Q) Difference(int column, double h)
    {
        var at = loads.X[column];
        loads.X[column] = at + h;
        Evaluate();
        var (f, q) = ((double[])loads.F.Clone(), (double[])loads.Q.Clone());
        loads.X[column] = at - h;
        Evaluate();
        loads.X[column] = at;
        for (var row = 0; row < f.Length; row++)
        {
            f[row] = (f[row] - loads.F[row]) / (2 * h);
            q[row] = (q[row] - loads.Q[row]) / (2 * h);
        }

        return (f, q);
    }
}
