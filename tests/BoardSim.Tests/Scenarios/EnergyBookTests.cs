using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Scenarios;

namespace BoardSim.Tests.Scenarios;

/// <summary>
/// Energy of the whole board from switch-on on: what comes from the line is heat, stored, or delivered. Heat of resistors goes by Ohm's law from their voltage, what is
/// stored by C V^2 / 2 and L I^2 / 2 at the end, so that it is not the same product of voltage and current on both sides.
/// </summary>
public class EnergyBookTests
{
    private const double Accuracy = 1e-3;
    private static readonly string[] LineSide = ["mains", "entry", "bridge"];
    private static readonly Lazy<Ledger> Book = new(Run);

    // Conservation of energy from the service entrance to the bulk capacitor's terminals and to the heater.
    [Fact]
    public void What_the_line_gives_is_heat_stored_or_delivered()
    {
        var book = Book.Value;
        var given = -book.Flow("mains.V_line");
        var kept = book.Circuit.Devices.Where(d => LineSide.Contains(d.Name.Split('.')[0]) && d.Name != "mains.V_line").Sum(book.Kept);
        var heater = book.Flow("heater.R_element") + book.Flow("heater-relay.S_contact");
        var converter = book.Between("bulk", "return", ["bridge.D1", "bridge.D2"], ["bridge.C_bulk"]);
        Assert.True(given > 20 && heater > 10 && converter > 5 && kept > 0.3, $"{given}, {heater}, {converter}, {kept} J");
        Near(given, kept + heater + converter);
    }

    // What goes through the barrier is less than what the converter takes, by no less than what its rectifier and its start resistor must lose.
    [Fact]
    public void What_the_converter_gives_is_less_than_it_takes_by_its_losses()
    {
        var book = Book.Value;
        var taken = book.Between("bulk", "return", ["bridge.D1", "bridge.D2"], ["bridge.C_bulk"]);
        var given = book.Between("supply.rect", "ground", ["supply.L_post", "supply.C_out1", "supply.C_out2"], []);

        // At least the rectifier's 0.33 V for each coulomb, and the start resistor by Ohm's law (160 V over 330 kohm, 78 mW); at most what such a supply may lose,
        // a quarter (common practice, no source).
        var coulombs = given / 12.1;
        Assert.InRange(taken - given, 0.33 * coulombs + 0.07 * Ledger.Stop, 0.27 * taken);
    }

    // The engine's own book over all parts (Tellegen's theorem, integrated).
    [Fact]
    public void The_engines_own_book_of_the_whole_run_closes() => Assert.InRange(Book.Value.Result.Evidence.PowerBalance, 0, 10 * Accuracy);

    private static void Near(double expected, double actual) => Assert.InRange(actual / expected, 1 - 3 * Accuracy, 1 + 3 * Accuracy);

    private static Ledger Run() => new(BoardFile.Read(Path.Combine(Repository.Boards, "proofer-120v.yaml")).Make().Build().Circuit);

    /// <summary>A run with the voltage and the current of every part of two ends that tells its current.</summary>
    private sealed class Ledger
    {
        public const double Stop = 1.6;

        private readonly Dictionary<string, (double[] Volts, double[] Amperes)> waves = [];
        private readonly Dictionary<string, double[]> nodes = [];

        public Ledger(Circuit circuit)
        {
            Circuit = circuit;
            string[] others = ["heater.R_element", "heater-relay.S_contact", "supply.L_post", "supply.C_out1", "supply.C_out2"];
            var parts = circuit.Devices.Where(d => (LineSide.Contains(d.Name.Split('.')[0]) && d is not Coupling) || others.Contains(d.Name)).ToList();
            string[] levels = ["bulk", "return", "supply.rect", "ground"];
            List<Probe> probes = [.. parts.SelectMany(d => new[] { Probe.Voltage(d.Nodes[0], d.Nodes[1]), HasCurrent(d) ? Probe.Current(d.Name) : Probe.Voltage(d.Nodes[0], d.Nodes[0]) }), .. levels.Select(n => Probe.Voltage(n))];
            Result = Transient.Run(new CircuitSystem(circuit), new TransientOptions { Stop = Stop, Accuracy = Accuracy, UseInitialConditions = true, MostValues = 200_000_000 }, probes);
            Assert.Equal(RunStatus.Completed, Result.Status);
            for (var k = 0; k < parts.Count; k++)
            {
                waves[parts[k].Name] = (Result.Values(2 * k).ToArray(), Result.Values(2 * k + 1).ToArray());
            }

            for (var k = 0; k < levels.Length; k++)
            {
                nodes[levels[k]] = Result.Values(2 * parts.Count + k).ToArray();
            }
        }

        /// <summary>A capacitor without series resistance does not tell its current; all that it keeps is in its voltage.</summary>
        private static bool HasCurrent(Device device) => device is not Capacitor { SeriesResistance: 0 };

        public Circuit Circuit { get; }

        public TransientResult Result { get; }

        /// <summary>Joules that flow into a part: voltage times current.</summary>
        public double Flow(string part) => Product(waves[part].Volts, waves[part].Amperes);

        /// <summary>Joules that a part of the line side has turned into heat or has stored at the end, by its own law.</summary>
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
            double[] volts = [.. nodes[node].Zip(nodes[reference], (a, b) => a - b)];
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
        private double Product(double[] a, double[] b)
        {
            var (t, sum) = (Result.Times, 0.0);
            for (var k = 1; k < t.Length; k++)
            {
                sum += (t[k] - t[k - 1]) / 6 * (2 * a[k - 1] * b[k - 1] + a[k - 1] * b[k] + a[k] * b[k - 1] + 2 * a[k] * b[k]);
            }

            return sum;
        }
    }
}
