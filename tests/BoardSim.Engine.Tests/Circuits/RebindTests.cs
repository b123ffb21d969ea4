using System.Reflection;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Tests.Devices;

namespace BoardSim.Engine.Tests.Circuits;

/// <summary>A system that goes from one circuit to the next gives what a system compiled for that circuit gives, to the last bit.</summary>
public class RebindTests
{
    private const double Stop = 1e-3;

    public static TheoryData<string> Devices => new(DeviceCases.All.Keys);

    /// <summary>The first circuit has every number of the device changed, and its run leaves states and iterates behind: what of that stayed in the
    /// system would show in the second run.</summary>
    [Theory]
    [MemberData(nameof(Devices))]
    public void A_rebound_system_runs_like_a_fresh_one(string name)
    {
        var device = DeviceCases.All[name];
        var worn = new CircuitSystem(Bench(device, Changed(device.Make())));
        var before = Run(worn);

        Assert.True(worn.TryRebind(Bench(device, device.Make())));

        var fresh = Run(new CircuitSystem(Bench(device, device.Make())));
        var rebound = Run(worn);
        Assert.Equal(fresh.Times, rebound.Times);
        Assert.Equal(fresh.Values, rebound.Values);
        Assert.Equal(fresh.AtRest, rebound.AtRest);
        Assert.NotEqual(before.Values, rebound.Values);
    }

    [Fact]
    public void Initial_voltages_are_those_of_the_new_circuit()
    {
        Circuit Charged(double volts)
        {
            var circuit = new Circuit();
            circuit.InitialVoltages["a"] = volts;
            circuit.Add(new Capacitor("c", "a", "0", 1e-6));
            circuit.Add(new Resistor("r", "a", "0", 1e3));
            return circuit;
        }

        var system = new CircuitSystem(Charged(5));
        Assert.True(system.TryRebind(Charged(8)));

        var run = Transient.Run(system, new TransientOptions { Stop = Stop }, [Probe.Voltage("a", "0")]);

        // A capacitor of 1 uF on 1 kohm falls to 1/e of its voltage in 1 ms.
        Assert.Equal(8, run.Values(0)[0], 6);
        Assert.Equal(8 / Math.E, run.Values(0)[^1], 0.01);
    }

    [Fact]
    public void Another_structure_is_left_to_a_compilation()
    {
        Circuit Divider(Action<Circuit> add)
        {
            var circuit = new Circuit();
            circuit.Add(new VoltageSource("v", "a", "0", 10));
            circuit.Add(new Resistor("r1", "a", "b", 1e3));
            circuit.Add(new Capacitor("c", "b", "0", 1e-6));
            add(circuit);
            return circuit;
        }

        var system = new CircuitSystem(Divider(c => c.Add(new Resistor("r2", "b", "0", 1e3))));

        Assert.False(system.TryRebind(Divider(_ => { })));
        Assert.False(system.TryRebind(Divider(c => c.Add(new Resistor("r3", "b", "0", 1e3)))));
        Assert.False(system.TryRebind(Divider(c => c.Add(new Varistor("r2", "b", "0", 430, 1e-3, 23)))));
        Assert.False(system.TryRebind(Divider(c =>
        {
            c.Add(new Resistor("r2", "b", "0", 1e3));
            c.Get<Capacitor>("c").SeriesResistance = 1;
        })));

        // None of these left a trace: 10 V halved.
        Assert.Equal(5, OperatingPoint.Solve(system).Voltage("b", "0"), 9);
    }

    [Fact]
    public void Wrong_parameters_are_refused_as_by_a_compilation()
    {
        Circuit Load(double ohms)
        {
            var circuit = new Circuit();
            circuit.Add(new VoltageSource("v", "a", "0", 10));
            circuit.Add(new Resistor("r", "a", "0", ohms));
            return circuit;
        }

        var system = new CircuitSystem(Load(1));

        Assert.Contains("resistance 0 ohm", Assert.Throws<CircuitException>(() => system.TryRebind(Load(0))).Message);
        Assert.Equal(10, OperatingPoint.Solve(system).Voltage("a", "0"), 9);
    }

    /// <summary>Every terminal driven by a sine of its own within the device's range, behind a resistor.</summary>
    private static Circuit Bench(DeviceCase device, Device part)
    {
        var circuit = new Circuit();
        foreach (var other in device.Others)
        {
            circuit.Add(other.Clone());
        }

        circuit.Add(part);
        var (middle, swing) = ((device.Low + device.High) / 2, (device.High - device.Low) / 2);
        var nodes = circuit.Devices.SelectMany(d => d.Nodes).Where(n => n != "0").Distinct().ToList();
        for (var k = 0; k < nodes.Count; k++)
        {
            circuit.Add(new VoltageSource($"drive{k}", $"drive{k}", "0", new SineWaveform { Offset = middle, Amplitude = swing / (k + 1), Frequency = 1e3 + 500 * k }));
            circuit.Add(new Resistor($"feed{k}", $"drive{k}", nodes[k], 50));
        }

        return circuit;
    }

    private static (double[] Times, double[][] Values, double[] AtRest) Run(CircuitSystem system)
    {
        var nodes = system.NodeNames.ToList();
        var run = Transient.Run(system, new TransientOptions { Stop = Stop }, [.. nodes.Select(n => Probe.Voltage(n, "0"))]);
        var rest = OperatingPoint.Solve(system);
        return ([.. run.Times], [.. nodes.Select((_, k) => run.Values(k).ToArray())], [.. nodes.Select(n => rest.Voltage(n, "0"))]);
    }

    /// <summary>The device with all its numbers 7 % lower, those of its model as well.</summary>
    private static Device Changed(Device device)
    {
        Scale(device);
        return device;
    }

    private static void Scale(object of)
    {
        foreach (var property in of.GetType().GetProperties().Where(p => p.CanWrite && p.SetMethod!.IsPublic))
        {
            var value = property.GetValue(of);
            if (value is double number and not 0)
            {
                property.SetValue(of, 0.93 * number);
            }
            else if (value is DiodeModel or BipolarModel or MosfetModel or SwitchModel or BetaCurve)
            {
                var copy = value.GetType().GetMethod("<Clone>$")!.Invoke(value, null)!;
                Scale(copy);
                property.SetValue(of, copy);
            }
        }
    }
}
