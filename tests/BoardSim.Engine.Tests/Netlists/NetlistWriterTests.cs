using System.Collections;
using System.Numerics;
using System.Reflection;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Netlists;

namespace BoardSim.Engine.Tests.Netlists;

/// <summary>What is written must be read back to an equal circuit, or say where it departs.</summary>
public class NetlistWriterTests
{
    [Theory]
    [InlineData("""
        * switcher with windings, switch and clamp
        VB hv 0 DC 165 AC 2 90
        LLK hv x 15u IC=0.25
        LP x d 900u
        LS 0 s 14.0625u
        K1 LP LS 0.9999
        VG g 0 PULSE(0 5 0 50n 50n 4.0u 15.3846u)
        S1 d 0 g 0 swm ON
        COSS d 0 100p IC=-3
        D1 d cl dclamp 2.5
        D2 s o dout
        RL o 0 24
        RCL cl hv 47k
        .model swm SW(RON=1.5 ROFF=1e6 VT=2.5 VH=0.5)
        .model dclamp D(IS=1e-9 N=1.8 RS=0.1 CJO=20p BV=600 TT=25n)
        .model dout D(IS=1e-6 N=1.05 RS=0.02 CJO=300p)
        .ic V(o)=5
        .tran 100n 5m 1m 50n UIC
        .print tran V(o) V(cl,hv) I(LLK)
        .end
        """)]
    [InlineData("""
        transistors and controlled sources
        VCC c 0 12
        VIN in 0 0.5 AC 1 SIN(0.6 0.1 1k 1m 20)
        I1 0 b EXP(0 1m 1u 2u 5u 3u)
        I2 b 0 PWL(0 0 1m 2m 3m -1m)
        Q1 c b e npn1 3
        Q2 e in c pnp1
        M1 c b e 0 nm L=5u W=20u AD=1e-10 AS=2e-10 PD=40u PS=30u NRD=2 NRS=3
        M2 c b e 0 pm
        E1 x 0 in b 2.5
        G1 x c in b 1m
        F1 x 0 VCC 3
        H1 y 0 VIN 50
        W1 y e VIN wm
        R1 x 0 1k film
        R2 y 0 10
        R3 b 0 1MEG
        R4 in e 1
        .model npn1 NPN(IS=1e-14 BF=150 BR=4 RB=10 RC=0.5 VAF=100 CJE=20p CJC=8p TF=0.5n ISE=1e-13 XTB=1.5 TNOM=25)
        .model pnp1 PNP(BF=50 IKF=0.1)
        .model nm NMOS(VTO=1 KP=1e-4 LAMBDA=0.02 CGSO=1n TOX=50n)
        .model pm PMOS(VTO=-1)
        .model wm CSW(IT=1m IH=0.2m)
        .model film R(TC1=1e-3 TC2=1e-6 TNOM=20)
        .options temp=85
        .op
        .dc VCC 0 12 0.1 I1 0 1m 0.1m
        .ac dec 10 1 1MEG
        .print ac VDB(x) VP(x,y)
        .end
        """)]
    public void A_netlist_that_is_read_and_written_is_read_back_equal(string text)
    {
        var first = NetlistReader.Read(text);
        var written = NetlistWriter.Write(first.Circuit, first.Analyses, first.Prints, out var departures);
        Assert.Empty(departures);
        var second = NetlistReader.Read(written);
        Assert.Equal(first.Circuit.Title, second.Circuit.Title);
        Assert.Equal(first.Circuit.Temperature, second.Circuit.Temperature);
        Assert.Equal(first.Circuit.InitialVoltages, second.Circuit.InitialVoltages);
        Assert.Equal(first.Analyses, second.Analyses);
        Assert.Equal(first.Prints.SelectMany(p => p.Variables), second.Prints.SelectMany(p => p.Variables));
        AssertEqual(first.Circuit, second.Circuit);
        Assert.All(written.Split('\n'), line => Assert.InRange(line.Length, 0, 80));
    }

    [Fact]
    public void Series_resistance_and_leakage_become_parts()
    {
        var circuit = new Circuit { Title = "aged" };
        circuit.Add(new VoltageSource("V1", "in", "0", 10));
        circuit.Add(new Resistor("R1", "in", "out", 1000));
        circuit.Add(new Capacitor("C1", "out", "0", 1e-6) { SeriesResistance = 5, LeakageResistance = 9e3, InitialVoltage = 2 });
        circuit.Add(new Inductor("L1", "out", "0", 1e-3) { SeriesResistance = 40 });
        var text = NetlistWriter.Write(circuit, [new OperatingPointCard()]);
        var back = NetlistReader.Read(text).Circuit;
        Assert.Equal(5, back.Get<Resistor>("RC1_esr").Resistance);
        Assert.Equal(9e3, back.Get<Resistor>("RC1_leak").Resistance);
        Assert.Equal((2, "C1_inner"), (back.Get<Capacitor>("C1").InitialVoltage, back.Get<Capacitor>("C1").Nodes[0]));
        Assert.Equal(40, back.Get<Resistor>("RL1_winding").Resistance);
        Assert.Equal("out", back.Get<Inductor>("L1").Nodes[0]);

        // Ohm's law: 1 kohm in series with 9005 ohm beside 40 ohm.
        var parallel = 1 / (1 / 9005.0 + 1 / 40.0);
        Assert.Equal(10 * parallel / (1000 + parallel), OperatingPoint.Solve(new CircuitSystem(back)).Voltage("out"), 9);
    }

    [Fact]
    public void Names_get_the_right_letter_and_illegal_ones_are_told()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("Mains", "live wire", "0", 1));
        circuit.Add(new Resistor("bleeder", "live wire", "mid", 1e3));
        circuit.Add(new Resistor("Rload", "mid", "0", 1e3));
        circuit.Add(new CurrentControlledCurrentSource("F1", "0", "mid", "Mains", 2));
        var text = NetlistWriter.Write(circuit, [new DcSweepCard(new DcSweepAxis("Mains", 0, 1, 1))]);
        Assert.Contains("node 'live wire' is written live_wire", text);
        Assert.Contains("* bleeder is written Rbleeder", text);
        var back = NetlistReader.Read(text);
        Assert.Equal("VMains", back.Circuit.Get<CurrentControlledCurrentSource>("F1").ControlDevice);
        Assert.Equal("VMains", Assert.IsType<DcSweepCard>(back.Analyses[0]).Inner.Source);
        Assert.Equal("live_wire", back.Circuit.Get<Resistor>("Rbleeder").Nodes[0]);
    }

    [Fact]
    public void A_sine_with_a_phase_is_stated_as_one_that_began_earlier()
    {
        var sine = new SineWaveform { Offset = 1, Amplitude = 2, Frequency = 50, PhaseDegrees = 90, Damping = 3 };
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "a", "0", sine));
        circuit.Add(new Resistor("R1", "a", "0", 1));
        var text = NetlistWriter.Write(circuit, null, null, out var departures);
        Assert.Single(departures);
        var back = NetlistReader.Read(text).Circuit.Get<VoltageSource>("V1").Waveform;
        foreach (var t in new[] { 0, 1e-3, 7e-3, 0.1 })
        {
            // 1 + 2 exp(-3 t) cos(2 pi 50 t).
            Assert.Equal(1 + 2 * Math.Exp(-3 * t) * Math.Cos(100 * Math.PI * t), back.Value(t), 9);
        }
    }

    [Fact]
    public void Endless_pulses_and_steps_stay_what_they_are_over_any_run()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "a", "0", new PulseWaveform { Low = 0, High = 5, Delay = 1e-3, Rise = 1e-6, Fall = 1e-6 }) { DcValue = 2 });
        circuit.Add(new Resistor("R1", "a", "0", 1));
        var back = NetlistReader.Read(NetlistWriter.Write(circuit)).Circuit.Get<VoltageSource>("V1");
        Assert.Equal((0, 5, 5), (back.Waveform.Value(0.9e-3), back.Waveform.Value(2e-3), back.Waveform.Value(3600)));
        Assert.Equal(2, back.DcValue);
    }

    [Fact]
    public void Currents_of_parts_other_than_sources_are_sensed_by_a_source_in_series()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "a", "0", 10));
        circuit.Add(new Inductor("L1", "a", "b", 1e-3));
        circuit.Add(new Resistor("R1", "b", "0", 5));
        circuit.Add(new CurrentControlledVoltageSource("H1", "c", "0", "L1", 3));
        circuit.Add(new Resistor("R2", "c", "0", 1));
        var back = NetlistReader.Read(NetlistWriter.Write(circuit)).Circuit;

        // 10 V over 5 ohm is 2 A, times 3 ohm is 6 V.
        Assert.Equal(6, OperatingPoint.Solve(new CircuitSystem(back)).Voltage("c"), 9);
    }

    [Fact]
    public void Parts_that_have_no_word_in_the_netlist_are_marked_and_replaced_by_the_nearest()
    {
        var circuit = new Circuit { Temperature = 298.15 };
        circuit.Add(new VoltageSource("V1", "a", "0", 12));
        circuit.Add(new IsothermalThermistor("RT1", "a", "b", new BetaCurve(10e3, 3950)));
        circuit.Add(new Resistor("R1", "b", "0", 10e3));
        circuit.Add(new Varistor("RV1", "a", "0", 430, 1e-3, 30) { Capacitance = 100e-12 });
        circuit.Add(new RelayCoil("K1", "a", "0", 360, 0.3, 0.5, 0.023, 0.005));
        circuit.Add(new RelayContact("K1a", "a", "c", "K1") { OnResistance = 0.05 });
        circuit.Add(new Resistor("R2", "c", "0", 10));
        circuit.Add(new ConstantPowerLoad("P1", "a", "0", 2, 8));
        var text = NetlistWriter.Write(circuit, [new OperatingPointCard()], null, out var departures);
        Assert.Equal(["RT1", "RV1", "K1", "K1a", "P1"], departures.Select(d => d[..d.IndexOf(':')]));
        Assert.All(departures, d => Assert.Contains(d[..20], text));

        // A beta curve has its nominal resistance at 25 degC, so the divider halves; the coil's 33 mA close the contact:
        // 12 V over 10.05 ohm; the varistor at 12 V carries nothing.
        var solution = OperatingPoint.Solve(new CircuitSystem(NetlistReader.Read(text).Circuit));
        Assert.Equal(6, solution.Voltage("b"), 6);
        Assert.Equal(12 / 10.05 * 10, solution.Voltage("c"), 6);
    }

    // Definition of the reference point: 1 mA at the varistor voltage, in both directions.
    [Theory]
    [InlineData(430)]
    [InlineData(-430)]
    public void A_written_varistor_keeps_its_reference_point(double volts)
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "a", "0", volts));
        circuit.Add(new Varistor("RV1", "a", "0", 430, 1e-3, 30));
        var back = NetlistReader.Read(NetlistWriter.Write(circuit)).Circuit;
        Assert.Equal(1e-3 * Math.Sign(volts), -OperatingPoint.Solve(new CircuitSystem(back)).Current("V1"), 6e-9);
    }

    [Fact]
    public void A_part_of_an_unknown_kind_is_left_out_loudly_with_all_that_it_controls()
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V1", "a", "0", 1));
        circuit.Add(new Resistor("R1", "a", "0", 1));
        circuit.Add(new Oddity("U1", "a", "0"));
        circuit.Add(new CurrentControlledCurrentSource("F1", "a", "0", "U1", 2));
        var text = NetlistWriter.Write(circuit, null, null, out var departures);
        Assert.Equal(2, departures.Count);
        Assert.Contains("* U1: a Oddity between a, 0 cannot be expressed and is LEFT OUT.", text);
        Assert.Equal(2, NetlistReader.Read(text).Circuit.Devices.Count);
    }

    [Fact]
    public void A_parameter_out_of_range_is_refused()
    {
        var circuit = new Circuit();
        circuit.Add(new Capacitor("C1", "a", "0", -1e-6));
        Assert.Contains("C1", Assert.Throws<CircuitException>(() => NetlistWriter.Write(circuit)).Message);
    }

    private static void AssertEqual(Circuit expected, Circuit actual)
    {
        Assert.Equal(expected.Devices.Select(d => d.Name), actual.Devices.Select(d => d.Name));
        foreach (var (e, a) in expected.Devices.Zip(actual.Devices))
        {
            AssertEqual(e.Name, e, a);
        }
    }

    private static void AssertEqual(string path, object? expected, object? actual)
    {
        Assert.Equal(expected?.GetType(), actual?.GetType());
        switch (expected)
        {
            case null or string or bool or int:
                Assert.Equal(expected, actual);
                break;
            case double value:
                Assert.True(value.Equals(actual) || Math.Abs(value - (double)actual!) <= 1e-12 * Math.Abs(value), $"{path}: {expected}, then {actual}");
                break;
            case Complex value:
                Assert.True((value - (Complex)actual!).Magnitude <= 1e-12 * value.Magnitude, $"{path}: {expected}, then {actual}");
                break;
            case IEnumerable list:
                Assert.Equal(list.Cast<object>(), ((IEnumerable)actual!).Cast<object>());
                break;
            default:
                foreach (var property in expected.GetType().GetProperties(BindingFlags.Public | BindingFlags.Instance).Where(p => p.CanWrite || p.Name == "Nodes"))
                {
                    AssertEqual($"{path}.{property.Name}", property.GetValue(expected), property.GetValue(actual));
                }

                break;
        }
    }

    private sealed class Oddity(string name, string a, string b) : Device(name, a, b), IBranch
    {
        public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

        public override void Bind(BoardSim.Engine.Circuits.Binder binder) => binder.Branch();
    }
}
