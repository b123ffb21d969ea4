using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Relay coil, armature and contacts.</summary>
public sealed class RelayTests
{
    // Coil resistance by temperature: TE, "Temperature considerations for DC relays": 90 ohm at 20 degC, 113.0 ohm at 85 degC; Babcock relay note: 320 ohm
    // at 25 degC are 443.3 ohm at 125 degC; Leach AN-102: factor 1.39 by chart from 25 to 125 degC.
    [Theory]
    [InlineData(20, 90, 85, 113.0, 1e-3)]
    [InlineData(25, 320, 125, 443.3, 1e-3)]
    [InlineData(25, 290, 125, 403, 5e-3)]
    public void Winding_resistance_follows_the_notes_of_relay_makers(double celsius1, double ohms1, double celsius2, double ohms2, double tolerance)
    {
        var coil = Coil();
        coil.Temperature = celsius1 + 273.15;
        coil.ResistanceAt20 = ohms1 / coil.Resistance * coil.ResistanceAt20;
        coil.Temperature = celsius2 + 273.15;
        Near(ohms2, coil.Resistance, tolerance);
    }

    // Kilovac note: pick-up 16 V at 25 degC rises to 19.7 V at 85 degC and 20.6 V at 100 degC; on a 20 V supply the relay works at 85 but not at 100 degC.
    [Theory]
    [InlineData(85, true)]
    [InlineData(100, false)]
    public void Hot_coil_on_a_20_V_supply(double celsius, bool works)
    {
        var coil = Coil();
        coil.Temperature = 25 + 273.15;
        coil.PullInCurrent = 16 / coil.Resistance;
        coil.Temperature = celsius + 273.15;
        var system = new CircuitSystem(Circuit([new VoltageSource("v", "p", "0", Step(0, 20)), .. Parts(coil)]));
        var result = Transient.Run(system, new TransientOptions { Stop = 1 }, [Probe.Voltage("no")]);
        Assert.Equal(works ? 2 : 0, result.Events.Count);
        Assert.Equal(works, coil.IsMade);
        Assert.Equal(works ? "pulled-in" : "released", coil.StateName);
    }

    // Omron G2R, 12 V: 275 ohm, 1.15 H released. Closed form of an RL circuit: 12 V drive the coil to 25 mA after
    // L/R ln(1 / (1 - 25 mA 275 ohm / 12 V)) = 3.55779 ms (worked out by hand); the contact follows after the travel.
    [Fact]
    public void Pulls_in_when_the_current_has_risen_and_makes_after_the_travel()
    {
        var coil = Coil();
        var system = new CircuitSystem(Circuit([new VoltageSource("v", "p", "0", Step(0, 12)), .. Parts(coil)]));
        var result = Transient.Run(system, new TransientOptions { Stop = 0.1, Accuracy = 1e-5 }, [Probe.Voltage("no"), Probe.Voltage("nc"), Probe.Current("k")]);
        Assert.Equal(["closing", "pulled-in"], result.Events.Select(e => e.State));
        Near(3.55779e-3 + 1e-3, result.Events[0].Time, 1e-4);
        Assert.Equal(4e-3, result.Events[1].Time - result.Events[0].Time, 1e-9);

        // Changeover: the closed contact opens as the armature starts, the open one closes as it arrives.
        var (start, end) = (result.Events[0].Time, result.Events[1].Time);
        Assert.InRange(result.At(start - 1e-4, 1), 4.9, 5.1);
        Assert.InRange(result.At(start + 1e-4, 1), -0.1, 0.1);
        Assert.InRange(result.At(end - 1e-4), -0.1, 0.1);
        Assert.InRange(result.At(end + 1e-4), 4.9, 5.1);

        // The current dips while the inductance grows: how a technician sees on a scope that the armature moves.
        Assert.True(result.At(end, 2) < result.At(start + 0.5e-3, 2));
        Near(12 / 275.0, result.Values(2)[^1], 1e-3);
    }

    // RL decay through a diode of 0.7 V: i = (I0 + V/R) exp(-t R/L) - V/R. Omron G2R, 12 V: 275 ohm, 2.29 H pulled in: 20 % of the current after 11.74 ms, 40 % after
    // 6.97 ms, closed form. A zener of 24 V in series shortens that to 2.53 and 1.82 ms.
    [Theory]
    [InlineData(0.2, 0.7, 11.74e-3)]
    [InlineData(0.4, 0.7, 6.97e-3)]
    [InlineData(0.2, 24.7, 2.53e-3)]
    [InlineData(0.4, 24.7, 1.82e-3)]
    public void Drop_out_waits_for_the_free_wheeling_current(double share, double drop, double seconds)
    {
        var coil = Coil();
        coil.DropOutCurrent = share * 12 / 275;
        coil.PullInCurrent = 0.5 * 12 / 275;

        // A very steep diode in series with a source stands for the constant drop.
        var steep = new DiodeModel { SaturationCurrent = 1e-14, EmissionCoefficient = 0.01 };
        var circuit = Circuit([
            new VoltageSource("v", "s", "0", 12),
            new VoltageSource("vg", "g", "0", new PulseWaveform { Low = 5, High = 0, Delay = 1e-3, Rise = 1e-9, Fall = 1e-9 }),
            new VoltageSwitch("sw", "s", "p", "g", "0", new SwitchModel { Threshold = 2.5, OnResistance = 1e-3, OffResistance = 1e9 }),
            new Diode("d", "0", "x", steep),
            new VoltageSource("vz", "x", "p", drop - 0.0068),
            new Capacitor("winding", "p", "0", 100e-12),
            .. Parts(coil)]);
        var result = Transient.Run(new CircuitSystem(circuit), new TransientOptions { Stop = 60e-3, Accuracy = 1e-5 }, [Probe.Voltage("no")]);
        var opening = result.Events.Single(e => e.Part == "k" && e.State == "opening");
        Near(seconds, opening.Time - 1e-3, 3e-3);
        Assert.Equal("released", coil.StateName);
    }

    [Fact]
    public void Operating_point_finds_an_energised_relay_pulled_in()
    {
        var coil = Coil();
        var solution = Solve(Circuit([new VoltageSource("v", "p", "0", 12), .. Parts(coil)]));
        Near(5, solution.Voltage("no"), 0.01);
        Near(12 / 275.0, solution.Current("k"), 1e-9);
        Assert.Equal("pulled-in", coil.StateName);
    }

    [Fact]
    public void Sweep_of_the_coil_voltage_shows_pick_up_and_drop_out()
    {
        // Pull-in 25 mA at 275 ohm: 6.875 V; drop-out 8 mA: 2.2 V. Arithmetic.
        var coil = Coil();
        var source = new VoltageSource("v", "p", "0");
        double[] volts = [0, 6.8, 7, 12, 6, 2.3, 2.1, 0];
        var seen = Sweep(Circuit([source, .. Parts(coil)]), volts, v => source.Waveform = new DcWaveform(v), Probe.Voltage("no"));
        Assert.Equal([false, false, true, true, true, true, false, false], seen.Select(v => v > 2.5));
    }

    [Fact]
    public void Flux_goes_on_when_the_armature_falls_back_without_travel()
    {
        // Faraday: flux cannot jump, so the current does, in the inverse ratio of the inductances (2.29 H to 1.15 H: 1.9913).
        var coil = Coil();
        (coil.OperateTravel, coil.ReleaseTravel) = (0, 0);
        var circuit = Circuit([
            new CurrentSource("i", "0", "p", new PulseWaveform { Low = 40e-3, High = 0, Delay = 1e-3, Rise = 10e-3, Fall = 1e-9 }),
            new Resistor("rp", "p", "0", 20e3),
            .. Parts(coil)]);
        var result = Transient.Run(new CircuitSystem(circuit), new TransientOptions { Stop = 20e-3, Accuracy = 1e-6 }, [Probe.Current("k")]);
        var drop = result.Events.Single().Time;
        var (before, after) = (result.At(drop - 1e-9), result.At(drop + 1e-8));
        Near(8e-3, before, 1e-3);
        Near(1.9913, after / before, 2e-3);
    }

    [Fact]
    public void Contact_bounces_at_the_listed_instants()
    {
        var coil = Coil();
        coil.OperateBounce = [0.2e-3, 0.5e-3, 0.7e-3, 0.8e-3];
        var system = new CircuitSystem(Circuit([new VoltageSource("v", "p", "0", Step(0, 12)), .. Parts(coil)]));
        var result = Transient.Run(system, new TransientOptions { Stop = 50e-3 }, [Probe.Voltage("no")]);
        var made = result.Events.First(e => e.State == "pulled-in").Time;
        double[] offsets = [-0.1e-3, 0.1e-3, 0.3e-3, 0.6e-3, 0.75e-3, 0.9e-3];
        Assert.Equal([false, true, false, true, false, true], offsets.Select(o => result.At(made + o) > 2.5));
    }

    [Fact]
    public void Short_pulse_lets_the_armature_fall_back_from_half_way()
    {
        var coil = Coil();
        coil.OperateTravel = 20e-3;
        var pulse = new PulseWaveform { Low = 0, High = 12, Delay = 1e-3, Rise = 1e-6, Fall = 1e-6, Width = 8e-3 };
        var system = new CircuitSystem(Circuit([new VoltageSource("v", "p", "0", pulse), .. Parts(coil)]));
        var result = Transient.Run(system, new TransientOptions { Stop = 60e-3 }, [Probe.Voltage("no")]);
        Assert.Equal(["closing", "opening", "released"], result.Events.Select(e => e.State));
        Assert.True(result.Events[2].Time - result.Events[1].Time < coil.ReleaseTravel);
        Assert.All(result.Values(0), v => Assert.InRange(v, -0.1, 0.1));
    }

    [Fact]
    public void Second_run_of_the_same_system_repeats_the_first()
    {
        var coil = Coil();
        coil.OperateBounce = [0.2e-3, 0.5e-3];
        var pulse = new PulseWaveform { Low = 0, High = 12, Delay = 1e-3, Rise = 1e-6, Fall = 1e-6, Width = 30e-3 };
        var system = new CircuitSystem(Circuit([new VoltageSource("v", "p", "0", pulse), new Diode("d", "0", "p", new DiodeModel()), .. Parts(coil)]));
        var options = new TransientOptions { Stop = 80e-3 };
        var first = Transient.Run(system, options, [Probe.Voltage("no")]);
        var second = Transient.Run(system, options, [Probe.Voltage("no")]);
        Assert.Equal(first.Events, second.Events);
        Assert.Equal(first.Times, second.Times);
        Assert.Equal(first.Values(0), second.Values(0));
        Assert.Equal("released", first.Events[^1].State);
    }

    [Fact]
    public void Buzzer_has_no_operating_point_but_runs()
    {
        // Coil fed through its own break contact: the oldest vibrator there is.
        var coil = Coil();
        var circuit = Circuit(
            new VoltageSource("v", "s", "0", Step(0, 12)),
            coil,
            new Resistor("damp", "p", "0", 2e3),
            new RelayContact("nc", "s", "p", "k") { IsNormallyClosed = true });
        var result = Run(circuit, new TransientOptions { Stop = 0.2 }, Probe.Current("k"));
        Assert.True(result.Events.Count(e => e.State == "closing") > 5);

        circuit.Get<VoltageSource>("v").Waveform = new DcWaveform(12);
        var problem = Assert.Throws<SolverException>(() => Solve(circuit));
        Assert.Contains("no stable state", problem.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0.03, 0.05, "pull-in current")]
    [InlineData(0.03, 0.0, "drop-out current")]
    public void Currents_out_of_order_are_refused(double pullIn, double dropOut, string expected)
    {
        var coil = new RelayCoil("k", "p", "0", 275, 1, 2, pullIn, dropOut);
        Assert.Contains(coil.Problems(), p => p.Contains(expected, StringComparison.Ordinal));
    }

    // Omron G2R-1, 12 V, by the numbers of a published calculation: 275 ohm, 1.15 H released, 2.29 H pulled in.
    private static RelayCoil Coil() => new("k", "p", "0", 275, 1.15, 2.29, 25e-3, 8e-3)
    {
        Temperature = 293.15,
        OperateTravel = 4e-3,
        ReleaseTravel = 3e-3,
    };

    private static Device[] Parts(RelayCoil coil) =>
    [
        coil,
        new VoltageSource("v5", "five", "0", 5),
        new RelayContact("cno", "five", "no", "k"),
        new Resistor("rno", "no", "0", 1e3),
        new RelayContact("cnc", "five", "nc", "k") { IsNormallyClosed = true },
        new Resistor("rnc", "nc", "0", 1e3),
    ];

    private static PulseWaveform Step(double low, double high) => new() { Low = low, High = high, Delay = 1e-3, Rise = 1e-9, Fall = 1e-9 };


    // Past 2^15 s instants are seven picoseconds apart, some billionths of the armature's travel: it hung at the end of its way.
    [Theory]
    [InlineData(32_000)]
    [InlineData(33_000)]
    [InlineData(500_000)]
    public void A_relay_works_after_hours_as_at_the_start(double from)
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "a", "0", new PulseWaveform { High = 12, Delay = from, Rise = 1e-3, Fall = 1e-3, Width = 3, Period = 7.3 }));
        circuit.Add(new RelayCoil("K1", "a", "0", 300, 1, 2, 0.03, 0.01) { OperateTravel = 3.7e-3, ReleaseTravel = 2.1e-3 });
        var run = Transient.Run(new CircuitSystem(circuit), new TransientOptions { Stop = from + 300, Accuracy = 1e-3 }, [Probe.Current("K1")]);
        var states = run.Events.Where(e => e.Part == "K1").Select(e => e.State).ToList();
        Assert.Equal(42, states.Count(s => s == "pulled-in"));
        Assert.InRange(states.Count(s => s == "released"), 41, 42);
    }
}
