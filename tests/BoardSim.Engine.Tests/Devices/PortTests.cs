using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>What devices say of their nonlinear part is what they do: steps of high order are built on it, and would leave out the rest in silence.</summary>
public sealed class PortTests
{
    private const int Instants = 3;

    public static TheoryData<string> Nonlinear => [.. DeviceCases.All.Where(c => c.Value.Make().IsNonlinear).Select(c => c.Key)];

    [Theory]
    [MemberData(nameof(Nonlinear))]
    public void Nothing_but_the_named_unknowns_is_reached(string name)
    {
        var (system, device, test) = Compile(name);
        var named = device.NonlinearUnknowns;
        Assert.NotNull(named);
        var random = new Random(5);
        for (var point = 0; point < 20; point++)
        {
            Evaluate(system, Scatter(system, test, random), device);
            var l = system.Loads;
            for (var s = 1; s < l.G.Length; s++)
            {
                var reached = l.G[s] != 0 || l.C[s] != 0;
                Assert.False(reached && !(named.Contains(system.Rows[s]) && named.Contains(system.Columns[s])), $"entry {system.Rows[s]}, {system.Columns[s]}");
            }

            for (var k = 1; k < l.F.Length; k++)
            {
                Assert.False((l.F[k] != 0 || l.Q[k] != 0) && !named.Contains(k), $"row {k}");
            }
        }
    }

    [Theory]
    [MemberData(nameof(Nonlinear))]
    public void Ports_say_the_same_as_the_device(string name)
    {
        var (system, device, test) = Compile(name);
        var ports = new PortSet(system, Instants);
        var random = new Random(6);
        var (count, blocks) = (ports.Count * Instants, ports.Blocks * Instants);
        var law = (Current: new double[count], G: new double[blocks], Charge: new double[count], C: new double[blocks]);
        for (var round = 0; round < 10; round++)
        {
            var points = Enumerable.Range(0, Instants).Select(_ => Scatter(system, test, random)).ToArray();
            var v = new double[count];
            for (var p = 0; p < ports.Count; p++)
            {
                for (var i = 0; i < Instants; i++)
                {
                    v[p * Instants + i] = points[i][ports.Plus[p]] - points[i][ports.Minus[p]];
                }
            }

            ports.Evaluate([0, 0, 0], v, new PortLaws(law.Current, law.G, law.Charge, law.C));
            for (var i = 0; i < Instants; i++)
            {
                // The set speaks for all devices of the circuit, so those beside the one in question are asked as well.
                Evaluate(system, points[i], [device, .. test.Others.Where(o => o.IsNonlinear)]);
                var (f, q) = ((double[])system.Loads.F.Clone(), (double[])system.Loads.Q.Clone());
                var (fromPorts, charges) = (new double[f.Length], new double[f.Length]);
                for (var p = 0; p < ports.Count; p++)
                {
                    var at = p * Instants + i;
                    fromPorts[ports.Plus[p]] += law.Current[at];
                    fromPorts[ports.Minus[p]] -= law.Current[at];
                    charges[ports.Plus[p]] += law.Charge[at];
                    charges[ports.Minus[p]] -= law.Charge[at];
                }

                for (var k = 1; k < f.Length; k++)
                {
                    // Differences of volts round where the voltages themselves are large beside them, and an exponential magnifies that.
                    Assert.True(Math.Abs(f[k] - fromPorts[k]) <= 1e-9 * f.Max(Math.Abs) + 1e-18, $"current of row {k}: {f[k]} by the device, {fromPorts[k]} by its ports");
                    Assert.True(Math.Abs(q[k] - charges[k]) <= 1e-9 * q.Max(Math.Abs) + 1e-27, $"charge of row {k}: {q[k]} by the device, {charges[k]} by its ports");
                }
            }
        }
    }

    private static (CircuitSystem System, Device Device, DeviceCase Case) Compile(string name)
    {
        var test = DeviceCases.All[name];
        var device = test.Make();
        var circuit = new Circuit();
        circuit.Add(device);
        foreach (var other in test.Others)
        {
            circuit.Add(other);
        }

        return (new CircuitSystem(circuit), device, test);
    }

    private static double[] Scatter(CircuitSystem system, DeviceCase test, Random random)
    {
        var x = new double[system.Size + 1];
        foreach (var unknown in system.Unknowns)
        {
            var (from, to) = unknown.Kind == UnknownKind.Temperature ? (253, 503) : (test.Low, test.High);
            x[unknown.Index] = from + (to - from) * random.NextDouble();
        }

        return x;
    }

    private static void Evaluate(CircuitSystem system, double[] x, params Device[] devices)
    {
        var l = system.Loads;
        x.CopyTo(l.X, 0);
        foreach (var array in new[] { l.F, l.Q, l.G, l.C })
        {
            Array.Clear(array);
        }

        l.Limiting = false;
        foreach (var device in devices)
        {
            device.Evaluate(l);
        }

        l.F[0] = l.Q[0] = l.G[0] = l.C[0] = 0;
    }
}
