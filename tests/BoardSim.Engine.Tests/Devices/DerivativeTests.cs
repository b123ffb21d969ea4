using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Converters;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>
/// For every nonlinear device: the derivatives it reports are those of the currents and charges it reports, and what flows
/// into its terminals flows out again. Kirchhoff's current law and calculus are the outside sources.
/// </summary>
public sealed class DerivativeTests
{
    public static TheoryData<string> Names => new(DeviceCases.All.Keys);

    public static TheoryData<string> Ungrounded => new(DeviceCases.All.Where(c => !c.Value.Make().Nodes.Contains(Circuit.Ground)).Select(c => c.Key));

    [Theory]
    [MemberData(nameof(Names))]
    public void Derivatives_agree_with_differences(string name)
    {
        var it = DeviceCases.All[name];
        var probe = new DeviceProbe(it.Make(), 320, it.Others);
        probe.Loads.Gmin = 1e-12;
        var random = new Random(7);
        for (var point = 0; point < 300; point++)
        {
            probe.Scatter(random, it.Low, it.High);
            probe.AssertDerivatives(2e-5, 2e-5, 1e-9, 1e-18, $"{name}, point {point} ({string.Join(", ", probe.Loads.X.Skip(1))})");
        }
    }

    [Theory]
    [MemberData(nameof(Ungrounded))]
    public void Currents_and_charges_sum_to_zero(string name)
    {
        var it = DeviceCases.All[name];
        var probe = new DeviceProbe(it.Make(), 320, it.Others);
        probe.Loads.Gmin = 1e-12;
        var random = new Random(11);
        for (var point = 0; point < 300; point++)
        {
            // Wide: also where the laws are continued beyond sense.
            probe.Scatter(random, 4 * it.Low, 4 * it.High);
            probe.Evaluate();
            AssertSum(probe.Loads.F, probe);
            AssertSum(probe.Loads.Q, probe);
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Limiting_leaves_a_step_alone_that_is_small(string name)
    {
        // Newton's method converges to the law itself only if the limited law is the law near the last iterate.
        var it = DeviceCases.All[name];
        var probe = new DeviceProbe(it.Make(), 320, it.Others);
        probe.Loads.Gmin = 1e-12;
        var random = new Random(13);
        for (var point = 0; point < 50; point++)
        {
            probe.Scatter(random, it.Low, it.High);
            (probe.Loads.Limiting, probe.Loads.Fresh, probe.Loads.Limited) = (true, point > 0, false);
            probe.Evaluate();
            if (point == 0)
            {
                // A device that has never been evaluated has no last iterate; it must cope, whatever it makes of it.
                Assert.All(probe.Loads.F, f => Assert.True(double.IsFinite(f)));
                continue;
            }

            probe.Loads.Fresh = false;
            for (var i = 1; i <= probe.Size; i++)
            {
                probe.Loads.X[i] += 1e-4 * random.NextDouble();
            }

            probe.Loads.Limited = false;
            probe.Evaluate();
            Assert.False(probe.Loads.Limited);
            var (f, q) = ((double[])probe.Loads.F.Clone(), (double[])probe.Loads.Q.Clone());
            probe.Loads.Limiting = false;
            probe.Evaluate();
            Assert.Equal(f, probe.Loads.F);
            Assert.Equal(q, probe.Loads.Q);
        }
    }

    // A law either has no time in it, or tells how it moves with time: calculus again.
    [Fact]
    public void Drift_agrees_with_differences()
    {
        var coil = new RelayCoil("k", "a", "b", 300, 1, 2, 0.03, 0.01) { OperateTravel = 5e-3 };
        var moving = new DeviceProbe(coil);
        coil.Reset();
        moving.Set("k#i", 0.05).Set("k#flux", 1.3);
        coil.Cross(0, 1e-3, moving.Loads.X);
        AssertDrift(moving, coil, 3e-3);

        var supply = new AveragedFlyback("u", "v", "r", "f", "i", "o", "g", "c", new ControllerParameters(), new FlybackStage());
        var starting = new DeviceProbe(supply);
        supply.Reset();
        supply.Cross(0, 1e-3, starting.Loads.X);
        starting.Restamp();
        var random = new Random(3);
        var (input, back) = (starting.System.NodeIndex("i"), starting.System.NodeIndex("r"));
        for (var point = 0; point < 20; point++)
        {
            // From an empty input nothing flows whatever the time is, so it has some volts.
            starting.Scatter(random, 0, 20);
            starting.Loads.X[input] = starting.Loads.X[back] + 2 + point;
            AssertDrift(starting, supply, 1e-3 + 0.4 * supply.Parameters.SoftStart);
        }
    }

    private static void AssertDrift<T>(DeviceProbe probe, T device, double time)
        where T : Device, IDrift
    {
        const double step = 1e-6;
        var rate = new double[probe.Size + 1];
        device.AddDrift(time, probe.Loads.X, rate);
        probe.Loads.Time = time + step;
        var after = (double[])probe.Evaluate().Loads.F.Clone();
        probe.Loads.Time = time - step;
        probe.Evaluate();
        Assert.Contains(rate, r => r != 0);
        for (var row = 1; row <= probe.Size; row++)
        {
            var difference = (after[row] - probe.Loads.F[row]) / (2 * step);
            Assert.True(Math.Abs(difference - rate[row]) <= 1e-3 * Math.Abs(difference) + 1e-6, $"{probe.System.Unknowns[row - 1].Name}: {rate[row]} against {difference}");
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
}
