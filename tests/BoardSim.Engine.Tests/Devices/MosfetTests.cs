using BoardSim.Engine.Analyses;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>MOSFET against textbook circuits.</summary>
public sealed class MosfetTests
{
    // Sedra and Smith, Microelectronic Circuits, 5th ed. 2004, example 4.2 (from memory): Vt = 0.7 V, 100 uA/V^2, L = 1 um, W = 32 um, supplies of
    // +-2.5 V, RD = 5 k, RS = 3.25 k: ID = 0.4 mA, VD = +0.5 V, VS = -1.2 V.
    [Fact]
    public void Textbook_bias_with_two_supplies()
    {
        var model = new MosfetModel { ThresholdVoltage = 0.7, TransconductanceParameter = 100e-6 };
        var solution = Solve(
            new VoltageSource("vdd", "vdd", "0", 2.5),
            new VoltageSource("vss", "vss", "0", -2.5),
            new Resistor("rd", "vdd", "d", 5e3),
            new Resistor("rs", "s", "vss", 3.25e3),
            new Mosfet("m", "d", "0", "s", "s", model) { Width = 32e-6, Length = 1e-6 });
        Near(0.4e-3, solution.Current("m"), 1e-6);
        Near(0.5, solution.Voltage("d"), 1e-5);
        Near(-1.2, solution.Voltage("s"), 1e-6);
    }

    // Sedra and Smith, 5th ed., example 4.5 (from memory): Vt = 1 V, k'W/L = 1 mA/V^2, VDD = 10 V, 10 M over 10 M at the gate, RD = RS = 6 k:
    // ID = 0.5 mA, VS = 3 V, VD = 7 V.
    [Fact]
    public void Textbook_bias_with_a_divider()
    {
        var model = new MosfetModel { ThresholdVoltage = 1, TransconductanceParameter = 1e-3 };
        var solution = Solve(
            new VoltageSource("vdd", "vdd", "0", 10),
            new Resistor("rg1", "vdd", "g", 10e6),
            new Resistor("rg2", "g", "0", 10e6),
            new Resistor("rd", "vdd", "d", 6e3),
            new Resistor("rs", "s", "0", 6e3),
            new Mosfet("m", "d", "g", "s", "s", model));
        Near(0.5e-3, solution.Current("m"), 1e-6);
        Near(3, solution.Voltage("s"), 1e-6);
        Near(7, solution.Voltage("d"), 1e-6);
    }

    // Sedra and Smith, 5th ed., example 4.6 (from memory): enhancement PMOS, Vt = -1 V, k'W/L = 1 mA/V^2, VDD = 5 V, VG = 3 V, RD = 6 k: ID = 0.5 mA, VD = 3 V.
    [Fact]
    public void Textbook_bias_of_a_P_channel_transistor()
    {
        var model = new MosfetModel { IsPChannel = true, ThresholdVoltage = -1, TransconductanceParameter = 1e-3 };
        var solution = Solve(
            new VoltageSource("vdd", "vdd", "0", 5),
            new Resistor("rg1", "vdd", "g", 2e6),
            new Resistor("rg2", "g", "0", 3e6),
            new Resistor("rd", "d", "0", 6e3),
            new Mosfet("m", "d", "g", "vdd", "vdd", model));
        Near(3, solution.Voltage("d"), 1e-6);
        Near(-0.5e-3, solution.Current("m"), 1e-6);
    }

    // Sedra and Smith, 5th ed., exercise on the body effect (from memory): Vt0 = 0.8 V, 2 phi_f = 0.7 V, gamma = 0.4 V^0.5: Vt = 1.23 V at VSB = 3 V.
    [Fact]
    public void Body_effect_raises_the_threshold()
    {
        var model = new MosfetModel { ThresholdVoltage = 0.8, SurfacePotential = 0.7, BodyEffect = 0.4, TransconductanceParameter = 1 };
        var probe = new DeviceProbe(new Mosfet("m", "d", "g", "s", "0", model));
        probe.Set("s", 3).Set("d", 8);
        Assert.Equal(0, probe.Set("g", 3 + 1.225).Evaluate().F("d"), 1e-9);
        Assert.True(probe.Set("g", 3 + 1.24).Evaluate().F("d") > 1e-6);
    }

    // Meyer, RCA Review 32 (1971) 42: gate-source capacitance 2/3 of the oxide's in saturation, half each to source and drain without drain voltage.
    [Fact]
    public void Gate_capacitance_divides_as_Meyer_found()
    {
        var model = new MosfetModel { ThresholdVoltage = 1, OxideThickness = 50e-9, TransconductanceParameter = 1e-3 };
        var oxide = 3.9 * 8.8541878e-12 / 50e-9 * 1e-4 * 1e-5;
        var probe = new DeviceProbe(new Mosfet("m", "d", "g", "s", "0", model) { Width = 1e-4, Length = 1e-5 });
        probe.Set("g", 6).Set("d", 10).Set("s", 0).Evaluate();
        Near(-2.0 / 3 * oxide, probe.C("g", "s"), 0.01);
        Near(2.0 / 3 * oxide, probe.C("g", "g"), 0.01);
        probe.Set("g", 6).Set("d", 0).Set("s", 0).Evaluate();
        Near(-0.5 * oxide, probe.C("g", "s"), 0.01);
        Near(-0.5 * oxide, probe.C("g", "d"), 0.01);
        probe.Set("g", -5).Evaluate();
        Near(oxide, probe.C("g", "g"), 0.01);
    }

    // Ward and Dutton, IEEE J. Solid-State Circuits 13 (1978) 703: in saturation 40 % of the channel's charge belongs to the drain, 60 % to the source.
    [Fact]
    public void Channel_charge_is_split_forty_to_sixty_in_saturation()
    {
        var model = new MosfetModel { ThresholdVoltage = 1, OxideThickness = 50e-9 };
        var probe = new DeviceProbe(new Mosfet("m", "d", "g", "s", "0", model));
        probe.Set("g", 10).Set("d", 20).Set("s", 0).Evaluate();
        Near(0.4, probe.Q("d") / (probe.Q("d") + probe.Q("s")), 0.01);
    }

    [Fact]
    public void Drain_and_source_are_interchangeable()
    {
        var model = Samples.NChannel with { DrainResistance = 0, SourceResistance = 0, GateDrainOverlap = 2e-10, BulkDrainCapacitance = 0 };
        var probe = new DeviceProbe(new Mosfet("m", "d", "g", "s", "b", model) { Length = 2e-6 });
        var random = new Random(9);
        for (var point = 0; point < 100; point++)
        {
            probe.Scatter(random, -2, 4);
            probe.Evaluate();
            var (fd, fs, fg, qd, qs, qg) = (probe.F("d"), probe.F("s"), probe.F("g"), probe.Q("d"), probe.Q("s"), probe.Q("g"));
            var (d, s) = (probe.Index("d"), probe.Index("s"));
            (probe.Loads.X[d], probe.Loads.X[s]) = (probe.Loads.X[s], probe.Loads.X[d]);
            probe.Evaluate();
            Same(fd, probe.F("s"));
            Same(fs, probe.F("d"));
            Same(fg, probe.F("g"));
            Same(qd, probe.Q("s"));
            Same(qs, probe.Q("d"));
            Same(qg, probe.Q("g"));
        }

        static void Same(double one, double other) => Assert.True(Math.Abs(one - other) <= 1e-12 * Math.Abs(one) + 1e-27, $"{one:g17} and {other:g17}");
    }

    [Fact]
    public void P_channel_mirrors_N_channel()
    {
        var n = new DeviceProbe(new Mosfet("m", "d", "g", "s", "b", Samples.NChannel) { Length = 2e-6 });
        var p = new DeviceProbe(new Mosfet("m", "d", "g", "s", "b", Samples.NChannel with { IsPChannel = true, ThresholdVoltage = -Samples.NChannel.ThresholdVoltage }) { Length = 2e-6 });
        var random = new Random(5);
        for (var point = 0; point < 50; point++)
        {
            n.Scatter(random, -1, 3);
            for (var i = 1; i <= n.Size; i++)
            {
                p.Loads.X[i] = -n.Loads.X[i];
            }

            n.Evaluate();
            p.Evaluate();
            Assert.Equal(n.Loads.F.Select(f => -f), p.Loads.F);
            Assert.Equal(n.Loads.Q.Select(q => -q), p.Loads.Q);
            Assert.Equal(n.Loads.G, p.Loads.G);
            Assert.Equal(n.Loads.C, p.Loads.C);
        }
    }

    // Ward and Dutton (as above): what goes into the gate comes out again when all voltages have come back; models that state
    // capacitances instead of charges fail this. Gate and bulk have no other way in or out, so drain and source together have none either.
    [Fact]
    public void Gate_cycles_pump_no_charge()
    {
        var model = new MosfetModel { ThresholdVoltage = 1, BodyEffect = 0.5, OxideThickness = 50e-9, BulkDrainCapacitance = 1e-12 };
        var pulse = new PulseWaveform { Low = -3, High = 5, Rise = 1e-6, Fall = 3e-6, Width = 1e-6, Period = 10e-6, Delay = 1e-6 };
        var circuit = Circuit(
            new VoltageSource("vg", "g", "0", pulse),
            new VoltageSource("vx", "x", "0"),
            new Resistor("rs", "x", "s", 1e3),
            new Resistor("rd", "x", "d", 3e3),
            new Mosfet("m", "d", "g", "s", "0", model) { Width = 1e-3, Length = 1e-5 });
        var result = Run(circuit, new TransientOptions { Stop = 50e-6, Accuracy = 1e-5 }, Probe.Current("vg"), Probe.Current("vx"));
        for (var p = 0; p < 2; p++)
        {
            var (net, turnover) = (0.0, 0.0);
            var (t, i) = (result.Times, result.Values(p));
            for (var k = 1; k < t.Length; k++)
            {
                var charge = (t[k] - t[k - 1]) * (i[k] + i[k - 1]) / 2;
                net += charge;
                turnover += Math.Abs(charge);
            }

            Assert.True(turnover > 1e-10);
            Assert.InRange(net / turnover, -1e-5, 1e-5);
        }
    }

    // Rabaey, Digital Integrated Circuits, 2nd ed. 2003, section 5.3 (from memory): the threshold of an inverter with equal strengths and thresholds is
    // half the supply, its low-frequency gain there governed by the channel-length modulation alone.
    [Fact]
    public void Symmetric_inverter_switches_at_half_the_supply()
    {
        var n = new MosfetModel { ThresholdVoltage = 1, TransconductanceParameter = 1e-4, ChannelLengthModulation = 0.02 };
        var input = new VoltageSource("vin", "in", "0");
        var circuit = Circuit(
            new VoltageSource("vdd", "vdd", "0", 5),
            input,
            new Mosfet("mn", "out", "in", "0", "0", n),
            new Mosfet("mp", "out", "in", "vdd", "vdd", n with { IsPChannel = true, ThresholdVoltage = -1 }));
        var output = Sweep(circuit, [0, 1.5, 2.5, 3.5, 5], v => input.Waveform = new DcWaveform(v), Probe.Voltage("out"));
        Near(5, output[0], 1e-6);
        Assert.True(output[1] > 4.5);
        Near(2.5, output[2], 1e-6);
        Assert.True(output[3] < 0.5);
        Assert.Equal(0, output[4], 1e-6);
    }

    [Fact]
    public void Flip_flop_has_the_state_that_it_is_nudged_into()
    {
        var n = new MosfetModel { ThresholdVoltage = 1, TransconductanceParameter = 1e-4 };
        var p = n with { IsPChannel = true, ThresholdVoltage = -1 };
        foreach (var (nudge, high) in new[] { ("a", "b"), ("b", "a") })
        {
            var solution = Solve(
                new VoltageSource("vdd", "vdd", "0", 5),
                new Mosfet("n1", "a", "b", "0", "0", n),
                new Mosfet("p1", "a", "b", "vdd", "vdd", p),
                new Mosfet("n2", "b", "a", "0", "0", n),
                new Mosfet("p2", "b", "a", "vdd", "vdd", p),
                new Resistor("nudge", nudge, "0", 1e3));
            Assert.True(solution.Voltage(high) > 4.9, $"V({high}) = {solution.Voltage(high)}");
            Assert.True(solution.Voltage(nudge) < 0.1);
        }
    }

    [Fact]
    public void Body_diode_carries_reverse_current_of_a_switched_off_transistor()
    {
        // Common practice, no source: a silicon body diode drops 0.6 to 1 V at currents within its rating.
        var model = new MosfetModel { ThresholdVoltage = 3, BulkSaturationCurrent = 1e-12 };
        var solution = Solve(new CurrentSource("i", "d", "0", 1), new Mosfet("m", "d", "0", "0", "0", model));
        Assert.InRange(solution.Voltage("d"), -1, -0.6);
    }

    // Berkeley SPICE3 user's manual, model M: KP = UO Cox when it is not given. 600 cm^2/Vs on 100 nm of oxide (34.53 nF/cm^2): 20.7 uA/V^2 (the
    // default of 2e-5 stems from this).
    [Fact]
    public void Transconductance_follows_from_mobility_and_oxide()
    {
        Near(20.7e-6, new MosfetModel { OxideThickness = 100e-9 }.TransconductanceParameter, 2e-3);
        Assert.Equal(3e-5, new MosfetModel { OxideThickness = 100e-9, TransconductanceParameter = 3e-5 }.TransconductanceParameter);
    }

    // Sze, Physics of Semiconductor Devices, 2nd ed. 1981, section 8.2 (from memory): with Na = 1e16 /cm^3 at 300 K 2 phi_f = 0.695 V (ni 1.45e10); body
    // factor sqrt(2 eps q Na)/Cox = 1.67 V^0.5 for 100 nm of oxide, worked out by hand: sqrt(2 * 1.0359e-12 * 1.602e-19 * 1e16) / 3.453e-8.
    [Fact]
    public void Surface_potential_and_body_factor_follow_from_the_doping()
    {
        var model = new MosfetModel { OxideThickness = 100e-9, SubstrateDoping = 1e16, NominalTemperature = 300 };
        Near(0.695, model.SurfacePotential, 2e-3);
        Near(1.67, model.BodyEffect, 5e-3);
    }
}
