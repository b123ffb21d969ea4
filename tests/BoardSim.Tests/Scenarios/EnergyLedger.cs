using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Tests.Scenarios;

/// <summary>
/// A run with the voltage and the current of parts, the voltages of nodes and states of parts, and the energies that follow from them. Heat of resistors goes by Ohm's law from
/// their voltage, what is stored by C V^2 / 2 and L I^2 / 2 at the end, so that it is not the same product of voltage and current on both sides.
/// </summary>
internal sealed class EnergyLedger
{
    private readonly Dictionary<string, (double[] Volts, double[] Amperes)> waves = [];
    private readonly Dictionary<string, double[]> levels = [];

    /// <summary>Runs the circuit from switch-on.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="stop">Seconds to run for.</param>
    /// <param name="accuracy">Relative accuracy.</param>
    /// <param name="parts">Parts whose voltage and current are kept, between their first two terminals.</param>
    /// <param name="nodes">Nodes whose voltage is kept.</param>
    /// <param name="states">Unknowns of parts that are kept, by name.</param>
    public EnergyLedger(Circuit circuit, double stop, double accuracy, Func<Device, bool> parts, string[] nodes, params string[] states)
    {
        Circuit = circuit;
        var kept = circuit.Devices.Where(d => d is not Coupling && parts(d)).ToList();
        List<Probe> probes =
        [
            .. kept.SelectMany(d => new[] { Probe.Voltage(d.Nodes[0], d.Nodes[1]), HasCurrent(d) ? Probe.Current(d.Name) : Probe.Voltage(d.Nodes[0], d.Nodes[0]) }),
            .. nodes.Select(n => Probe.Voltage(n)),
            .. states.Select(Probe.Unknown),
        ];
        Result = Transient.Run(new CircuitSystem(circuit), new TransientOptions { Stop = stop, Accuracy = accuracy, UseInitialConditions = true, MostValues = 200_000_000 }, probes);
        Assert.Equal(RunStatus.Completed, Result.Status);
        for (var k = 0; k < kept.Count; k++)
        {
            waves[kept[k].Name] = (Result.Values(2 * k).ToArray(), Result.Values(2 * k + 1).ToArray());
        }

        string[] names = [.. nodes, .. states];
        for (var k = 0; k < names.Length; k++)
        {
            levels[names[k]] = Result.Values(2 * kept.Count + k).ToArray();
        }
    }

    public Circuit Circuit { get; }

    public TransientResult Result { get; }

    /// <summary>Voltage between a part's first two terminals.</summary>
    public double[] Volts(string part) => waves[part].Volts;

    /// <summary>Current of a part.</summary>
    public double[] Amperes(string part) => waves[part].Amperes;

    /// <summary>Voltage of a node, or a state.</summary>
    public double[] Level(string name) => levels[name];

    /// <summary>Joules that flow into a part: voltage times current.</summary>
    public double Flow(string part) => Product(waves[part].Volts, waves[part].Amperes);

    /// <summary>Joules that a part of two ends has turned into heat or has stored at the end, by its own law.</summary>
    public double Kept(Device device)
    {
        switch (device)
        {
            case Resistor r:
                return Product(waves[r.Name].Volts, waves[r.Name].Volts) / r.Resistance;
            case Capacitor c:
                var (v, i) = waves[c.Name];
                double[] inner = [.. v.Zip(i, (volts, amperes) => volts - amperes * c.SeriesResistance)];
                return 0.5 * c.Capacitance * inner[^1] * inner[^1] + Product(i, i) * c.SeriesResistance + Product(inner, inner) / c.LeakageResistance;
            case Inductor l:
                var current = waves[l.Name].Amperes;
                return 0.5 * l.Inductance * current[^1] * current[^1] + Product(current, current) * l.SeriesResistance;
            case Coupling k:
                var (one, other) = ((Inductor)Circuit[k.First], (Inductor)Circuit[k.Second]);
                return k.Coefficient * Math.Sqrt(one.Inductance * other.Inductance) * waves[one.Name].Amperes[^1] * waves[other.Name].Amperes[^1];
            default:
                return Flow(device.Name);
        }
    }

    /// <summary>Joules that pass a pair of nodes: their voltage times the current that some parts bring less what others take.</summary>
    public double Between(string node, string reference, string[] bring, string[] take)
    {
        double[] volts = [.. levels[node].Zip(levels[reference], (a, b) => a - b)];
        var amperes = new double[volts.Length];
        foreach (var (parts, sign) in new[] { (bring, 1.0), (take, -1.0) })
        {
            foreach (var current in parts.Select(p => waves[p].Amperes))
            {
                for (var k = 0; k < amperes.Length; k++)
                {
                    amperes[k] += sign * current[k];
                }
            }
        }

        return Product(volts, amperes);
    }

    /// <summary>Integral of a product of two lines that are straight between the samples.</summary>
    public double Product(double[] a, double[] b)
    {
        var (t, sum) = (Result.Times, 0.0);
        for (var k = 1; k < t.Length; k++)
        {
            sum += (t[k] - t[k - 1]) / 6 * (2 * a[k - 1] * b[k - 1] + a[k - 1] * b[k] + a[k] * b[k - 1] + 2 * a[k] * b[k]);
        }

        return sum;
    }

    /// <summary>A capacitor without series resistance does not tell its current; all that it keeps is in its voltage.</summary>
    private static bool HasCurrent(Device device) => device is ICurrent or IBranch && device is not Capacitor { SeriesResistance: 0 };
}
