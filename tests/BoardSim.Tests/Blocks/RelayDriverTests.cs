using BoardSim.Blocks.Relays;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Measurement;

namespace BoardSim.Tests.Blocks;

/// <summary>The relay and its driver against makers' notes and the trade's experience.</summary>
public class RelayDriverTests
{
    // A relay maker's note on temperature and DC relays: 90 ohm and a pick-up of 6.5 V at 20 degC become 113.0 ohm and 8.16 V at 85 degC
    // (copper, 0.00393 1/K as in IEC 60028).
    [Fact]
    public void Coil_resistance_and_pick_up_voltage_rise_with_temperature()
    {
        var coil = new RelayDriver { CoilResistance = 90, CoilTemperature = 273.15 + 85 }.Build().Circuit.Get<RelayCoil>("K1");
        Near.Relative(113.0, coil.Resistance, 0.001);
        Near.Relative(8.16, 6.5 / 90 * coil.Resistance, 0.001);
    }

    // A contactor maker's note: a pick-up of 16 V at 25 degC is 19.7 V at 85 degC and 20.6 V at 100 degC, so on a 20 V supply it works at
    // 85 degC and fails at 100 degC.
    [Theory]
    [InlineData(25, true)]
    [InlineData(85, true)]
    [InlineData(100, false)]
    public void Warm_coil_on_a_low_supply_no_longer_pulls_in(double celsius, bool pullsIn)
    {
        const double at20 = 400;
        var at25 = at20 * (1 + 0.00393 * 5);
        var block = new RelayDriver
        {
            RailVoltage = 20,
            RailResistance = 1e-3,
            CoilResistance = at20,
            PullInCurrent = 16 / at25,
            DropOutCurrent = 4 / at25,
            CoilTemperature = 273.15 + celsius,
            OffAt = 60e-3,
        };
        var contact = Bench.Run(block.Build(), 0, 55e-3).V("contact").Values[^1];
        Assert.Equal(pullsIn, contact > 15);
    }

    // A relay maker's coil table: 12 V and 654 ohm make 18.3 mA and 220 mW.
    [Fact]
    public void Coil_takes_its_rated_current_and_power()
    {
        var block = new RelayDriver { CoilResistance = 654, RailResistance = 1e-3, PullInCurrent = 12e-3, DropOutCurrent = 2e-3, OffAt = 0.1 };
        var run = Bench.Run(block.Build(), 0.09, 0.099);
        Near.Relative(18.3e-3, run.I("coil").Mean(), 0.01);
        Near.Relative(0.220, run.I("coil").Mean() * run.V("coil").Mean(), 0.015);
    }

    // A relay maker's note on coil suppression: a diode alone lets go slowest, a diode with a Zener diode in series much sooner; the
    // transistor sees the rail, the Zener and the diode, a resistor starts with the coil's current times its ohms (Kirchhoff).
    [Fact]
    public void A_resistor_or_a_zener_in_the_free_wheel_path_releases_sooner_and_costs_collector_voltage()
    {
        var (diode, diodePeak) = Release(new RelayDriver());
        var (resistor, resistorPeak) = Release(new RelayDriver { FreeWheel = FreeWheelPath.DiodeAndResistor, FreeWheelResistance = 400 });
        var (zener, zenerPeak) = Release(new RelayDriver { FreeWheel = FreeWheelPath.DiodeAndZener, FreeWheelZenerVoltage = 24 });
        Assert.True(zener < 0.5 * resistor && resistor < 0.7 * diode, $"{diode}, {resistor}, {zener} s");
        Assert.InRange(diodePeak, 12.4, 13.2);
        Assert.InRange(resistorPeak, 23.4, 25.2);
        Assert.InRange(zenerPeak, 36.4, 37.4);

        static (double Seconds, double Peak) Release(RelayDriver block)
        {
            var run = Bench.Run(block.Build());
            return (run.V("contact").FirstCrossing(6, Edge.Falling, block.OffAt)!.Value - block.OffAt, run.V("collector").Values.ToArray().Max());
        }
    }

    // R, L and C in series: L i'' + R i' + i/C = 0. At turn-off the capacitor still holds the rail the other way round, so that with 800 ohm in all i'(0) = (12 V - 30 mA * 800 ohm) / L. With 1.1 H
    // and 1 uF: i = exp(-a t) (I0 cos wt + (i'(0) + a I0) / w sin wt), a = R / 2L, w = sqrt(1/LC - a^2); it is down to the drop-out current of 5 mA after 1.45 ms (closed form, solved by hand).
    [Fact]
    public void A_capacitor_across_the_coil_releases_within_a_quarter_of_its_swing()
    {
        var block = new RelayDriver { FreeWheel = FreeWheelPath.ResistorAndCapacitor, FreeWheelResistance = 400, FreeWheelCapacitance = 1e-6, RailResistance = 1e-3 };
        var run = Bench.Run(block.Build(), accuracy: 1e-4);
        Near.Relative(1.45e-3, run.V("contact").FirstCrossing(6, Edge.Falling, block.OffAt)!.Value - block.OffAt, 0.03);
        Assert.InRange(run.V("collector").Maximum().Value, 24, 32);

        // Open, it leaves the collector to its breakdown; shorted, the resistor alone is left, which lets go later.
        var open = Bench.Run(block.Fault("snubber-open").Apply(block.Build()));
        Assert.InRange(open.V("collector").Maximum().Value, block.Breakdown, block.Breakdown + 5);
        var shorted = Bench.Run(block.Fault("snubber-shorted").Apply(block.Build()));
        Assert.True(shorted.V("contact").FirstCrossing(6, Edge.Falling, block.OffAt)!.Value - block.OffAt > 2e-3);
    }

    // Coil of 275 ohm and 2.29 H at 12 V, left to itself across a drop V: i = (I0 + V/R) exp(-t R/L) - V/R (closed form). Times in ms to
    // 10 and 40 % of I0: ideal diode 19.17 and 7.63, diode of 0.7 V 15.82 and 6.97, with a 24 V zener 2.90 and 1.82.
    [Theory]
    [InlineData(0, 19.17, 7.63)]
    [InlineData(0.7, 15.82, 6.97)]
    [InlineData(24.7, 2.90, 1.82)]
    public void Coil_current_decays_into_its_suppressor(double drop, double toTenth, double toFortyPercent)
    {
        const double current = 12.0 / 275;
        var circuit = new Circuit();
        circuit.Add(new Inductor("L1", "a", "b", 2.29) { SeriesResistance = 275, InitialCurrent = current });

        // As long as the current flows the suppressor is its drop and nothing else.
        circuit.Add(new VoltageSource("V_drop", "b", "a", drop));
        circuit.Add(new Resistor("R_ground", "a", "0", 1));
        var coil = Bench.Run(circuit, ["a"], ["L1"], 0, 25e-3).I("L1");
        Near.Relative(toTenth * 1e-3, coil.FirstCrossing(0.1 * current)!.Value, 0.003);
        Near.Relative(toFortyPercent * 1e-3, coil.FirstCrossing(0.4 * current)!.Value, 0.003);
    }

    // The same coil, its current forced to zero within 0.5 ms: a forum's worked example has 12 V + L dI/dt = 211.7 V at the collector
    // (211.85 V unrounded).
    [Fact]
    public void Coil_that_is_cut_off_fast_makes_hundreds_of_volts()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "rail", "0", 12));
        circuit.Add(new Inductor("L1", "rail", "collector", 2.29) { SeriesResistance = 275, InitialCurrent = 12.0 / 275 });
        circuit.Add(new CurrentSource("I1", "collector", "0", new PiecewiseLinearWaveform([0, 1e-3, 1.5e-3], [12.0 / 275, 12.0 / 275, 0])));
        circuit.Add(new Resistor("R1", "collector", "0", 1e9));
        var collector = Bench.Run(circuit, ["collector"], [], 0, 1.4999e-3).V("collector");
        Near.Relative(211.85, collector.Maximum().Value, 0.002);
    }

    // Common practice, no source: a small 12 V relay wants about 30 mA at 12 V. A 5 V port alone gives the coil some 12 mA and cannot pull
    // it in; through the transistor less than a milliampere from the port does.
    [Fact]
    public void Port_alone_cannot_pull_the_relay_in_but_the_transistor_can()
    {
        var alone = Bench.Run(new RelayDriver { Driver = CoilDriver.None }.Build());
        var rated = 12.0 / 400;
        Assert.True(alone.V("contact").Maximum().Value < 0.1);
        Assert.InRange(rated / alone.I("coil").Maximum().Value, 2, 4);

        foreach (var driver in new[] { CoilDriver.Npn, CoilDriver.Darlington })
        {
            var driven = Bench.Run(new RelayDriver { Driver = driver }.Build());
            Assert.True(driven.V("contact").Maximum().Value > 11.9);
            Assert.True(driven.I("port").At(40e-3) < 1.5e-3);
            Assert.True(driven.I("coil").At(40e-3) / driven.I("port").At(40e-3) > 15);
        }
    }

    // Common practice, no source: a saturated small transistor keeps below 0.2 V, a Darlington cannot go below 0.6 V (a data sheet of a
    // Darlington array: 0.9 V typical at 100 mA).
    [Theory]
    [InlineData(CoilDriver.Npn, 0.005, 0.2)]
    [InlineData(CoilDriver.Darlington, 0.35, 1.1)]
    public void Saturation_voltage_of_the_driver(CoilDriver driver, double least, double most) =>
        Assert.InRange(Bench.Run(new RelayDriver { Driver = driver }.Build()).V("collector").At(44e-3), least, most);

    // Common practice, no source: the free-wheel diode holds the collector a diode drop above the rail and delays the release; without
    // it the collector runs into breakdown and the relay lets go sooner.
    [Fact]
    public void Free_wheel_diode_saves_the_transistor_and_delays_the_release()
    {
        var block = new RelayDriver();
        var healthy = Bench.Run(block.Build());
        var open = Bench.Run(block.Fault("free-wheel-open").Apply(block.Build()));
        Assert.InRange(healthy.V("collector").Maximum().Value, 12.4, 13.1);
        Assert.InRange(open.V("collector").Maximum().Value, block.Breakdown, block.Breakdown + 5);
        Assert.True(Release(open) < 0.7 * Release(healthy));

        double Release(Bench run) => run.V("contact").FirstCrossing(6, Edge.Falling, block.OffAt)!.Value - block.OffAt;
    }

    // The operate time is the current's rise to pull-in plus the travel; with the armature still, the rise is -L/R ln(1 - Ip/I)
    // (closed form), here for 400 ohm, 0.7 H, 30 mA and 19.5 mA: 1.837 ms, with 3 ms of travel 4.84 ms.
    [Fact]
    public void Operate_time_is_rise_plus_travel()
    {
        var block = new RelayDriver { RailResistance = 1e-3, Bounce = 0 };
        var contact = Bench.Run(block.Build(), accuracy: 1e-4).V("contact");
        Near.Relative(4.84e-3, contact.FirstCrossing(6, Edge.Rising)!.Value - block.OnAt, 0.01);
    }
}
