using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>
/// For every nonlinear device: the derivatives it reports are those of the currents and charges it reports, and what flows
/// into its terminals flows out again. Kirchhoff's current law and calculus are the outside sources.
/// </summary>
public sealed class DerivativeTests
{
    public static TheoryData<string> Names => new(Cases.Keys);

    private static readonly Dictionary<string, (Func<Device> Make, double Low, double High, double FloorG, double FloorC)> Cases = new()
    {
        ["diode"] = (() => new Diode("d", "a", "k", Samples.Diode), -1.5, 0.85, 1e-9, 1e-18),
        ["diode in breakdown"] = (() => new Diode("d", "a", "k", Samples.Diode with { BreakdownVoltage = 1 }), -1.3, 0.8, 1e-9, 1e-18),
        ["bipolar NPN"] = (() => new BipolarTransistor("q", "c", "b", "e", Samples.Npn), -0.8, 0.8, 1e-9, 1e-18),
        ["bipolar NPN, four in parallel"] = (() => new BipolarTransistor("q", "c", "b", "e", Samples.Npn) { Area = 4 }, -0.8, 0.8, 1e-9, 1e-18),
        ["bipolar PNP without resistances"] = (() => new BipolarTransistor("q", "c", "b", "e", Samples.PlainPnp), -0.4, 0.4, 1e-9, 1e-18),
        ["MOSFET N"] = (() => new Mosfet("m", "d", "g", "s", "b", Samples.NChannel) { Width = 1e-3, Length = 2e-6, DrainArea = 1e-9, SourceArea = 2e-9, DrainPerimeter = 1e-3, SourcePerimeter = 1e-3 }, -0.8, 0.8, 1e-9, 1e-18),
        ["MOSFET N at high voltages"] = (() => new Mosfet("m", "d", "g", "s", "0", Samples.NChannel) { Width = 1e-3, Length = 2e-6 }, 0, 5, 1e-9, 1e-18),
        ["MOSFET P"] = (() => new Mosfet("m", "d", "g", "s", "b", Samples.PChannel) { Width = 1e-3, Length = 2e-6 }, -0.8, 0.8, 1e-9, 1e-18),
        ["MOSFET P at high voltages"] = (() => new Mosfet("m", "d", "g", "s", "0", Samples.PChannel) { Width = 1e-3, Length = 2e-6 }, -5, 0, 1e-9, 1e-18),
    };

    [Theory]
    [MemberData(nameof(Names))]
    public void Derivatives_agree_with_differences(string name)
    {
        var (make, low, high, floorG, floorC) = Cases[name];
        var probe = new DeviceProbe(make(), 320);
        probe.Loads.Gmin = 1e-12;
        var random = new Random(7);
        for (var point = 0; point < 300; point++)
        {
            Scatter(probe, random, low, high);
            probe.AssertDerivatives(2e-5, 2e-5, floorG, floorC, $"{name}, point {point} ({string.Join(", ", probe.Loads.X.Skip(1))})");
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Currents_and_charges_sum_to_zero(string name)
    {
        var (make, low, high, _, _) = Cases[name];
        var probe = new DeviceProbe(make(), 320);
        probe.Loads.Gmin = 1e-12;
        var random = new Random(11);
        for (var point = 0; point < 300; point++)
        {
            // Wide: also where the laws are continued beyond sense.
            Scatter(probe, random, 4 * low, 4 * high);
            probe.Evaluate();
            if (make().Nodes.Contains(Circuit.Ground))
            {
                // The grounded terminal's row is not kept; the sum over the others is then no statement.
                return;
            }

            AssertSum(probe.Loads.F, probe);
            AssertSum(probe.Loads.Q, probe);
        }
    }

    private static void AssertSum(double[] rows, DeviceProbe probe)
    {
        double sum = 0, size = 0;
        for (var row = 1; row <= probe.Size; row++)
        {
            if (probe.System.Unknowns[row - 1].Kind == UnknownKind.Voltage)
            {
                sum += rows[row];
                size += Math.Abs(rows[row]);
            }
        }

        Assert.True(Math.Abs(sum) <= 1e-12 * size, $"sum {sum:g4} beside {size:g4}");
    }

    private static void Scatter(DeviceProbe probe, Random random, double low, double high)
    {
        for (var i = 1; i <= probe.Size; i++)
        {
            probe.Loads.X[i] = low + (high - low) * random.NextDouble();
        }
    }
}
