using System.Numerics;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Netlists;

namespace BoardSim.Engine.Tests.Netlists;

/// <summary>Syntax and defaults of the Berkeley SPICE3 Version 3f User's Manual (from memory).</summary>
public class NetlistReaderTests
{
    // SPICE3 User's Manual, appendix A, circuit 1: differential pair (from memory), its .TF card left out.
    private const string DifferentialPair = """
        SIMPLE DIFFERENTIAL PAIR
        VCC 7 0 12
        VEE 8 0 -12
        VIN 1 0 AC 1
        RS1 1 2 1K
        RS2 6 0 1K
        Q1 3 2 4 MOD1
        Q2 5 6 4 MOD1
        RC1 7 3 10K
        RC2 7 5 10K
        RE 4 8 10K
        .MODEL MOD1 NPN BF=50 VAF=50 IS=1.E-12 RB=100 CJC=.5PF TF=.6NS
        .AC DEC 10 1 100MEG
        .END
        """;

    [Fact]
    public void The_manuals_differential_pair_is_read()
    {
        var netlist = NetlistReader.Read(DifferentialPair);
        Assert.Equal("SIMPLE DIFFERENTIAL PAIR", netlist.Circuit.Title);
        Assert.Equal(10, netlist.Circuit.Devices.Count);
        Assert.Equal(300.15, netlist.Circuit.Temperature);
        Assert.Equal(new AcCard(FrequencySpacing.Decade, 10, 1, 100e6), Assert.Single(netlist.Analyses));

        var input = netlist.Circuit.Get<VoltageSource>("vin");
        Assert.Equal(Complex.One, input.SmallSignal);
        Assert.Equal(0, input.Waveform.Value(0));
        Assert.Equal(-12, netlist.Circuit.Get<VoltageSource>("VEE").Waveform.Value(0));

        var q = netlist.Circuit.Get<BipolarTransistor>("Q2");
        Assert.Equal(["5", "6", "4"], q.Nodes);
        Assert.False(q.Model.IsPnp);
        Assert.Equal((50, 50, 1e-12), (q.Model.ForwardBeta, q.Model.ForwardEarlyVoltage, q.Model.SaturationCurrent));
        Assert.Equal((100, 0.5e-12, 0.6e-9), (q.Model.BaseResistance, q.Model.BaseCollectorCapacitance, q.Model.ForwardTransitTime));

        // Defaults of the manual's table for NPN and PNP: BR 1, NF 1, VJC 0.75, MJC 0.33, XTI 3, EG 1.11.
        Assert.Equal((1, 1, 0.75, 0.33), (q.Model.ReverseBeta, q.Model.ForwardEmission, q.Model.BaseCollectorPotential, q.Model.BaseCollectorGrading));
    }

    // SPICE2 User's Guide and SPICE3 User's Manual, appendix A: four-bit adder of NAND gates (from memory). Nine gates to a bit,
    // 36 gates with five transistors, three diodes and four resistors each.
    [Fact]
    public void Subcircuits_three_deep_expand_to_the_adders_180_transistors()
    {
        var netlist = NetlistReader.Read($"""
            ADDER - 4 BIT ALL-NAND-GATE BINARY ADDER
            {Adder.Definitions}
            X1 1 2 3 4 5 6 7 8 9 10 11 12 0 13 99 FOURBIT
            VCC 99 0 DC 5V
            VIN1A 1 0 PULSE(0 3 0 10NS 10NS 10NS 50NS)
            .TRAN 1NS 6400NS
            .END
            """);
        Assert.Equal(180, netlist.Circuit.Devices.OfType<BipolarTransistor>().Count());
        Assert.Equal(108, netlist.Circuit.Devices.OfType<Diode>().Count());
        Assert.Equal(144, netlist.Circuit.Devices.OfType<Resistor>().Count());

        // Input 1 of the adder runs through four levels to the emitters of gates X1 and X2 of the first bit.
        var q = netlist.Circuit.Get<BipolarTransistor>("Q1.X1.X1.X1.X1");
        Assert.Equal(["9.X1.X1.X1.X1", "5.X1.X1.X1.X1", "1"], q.Nodes);
        Assert.Equal("0", netlist.Circuit.Get<Diode>("d1clamp.x9.x2.x2.x1").Nodes[0]);

        // Node 13 of FOURBIT is connected to node 0: the carry input of the first bit.
        Assert.Equal("0", netlist.Circuit.Get<BipolarTransistor>("Q1.X5.X1.X1.X1").Nodes[2]);
    }

    [Fact]
    public void Comments_continuations_case_and_delimiters_are_as_in_the_manual()
    {
        var netlist = NetlistReader.Read(
            "title\r\n* comment\r\nr1 A,0 (1K)\r\nD1 a 0\r\n* between\r\n+ DMod\r\n\r\n.MODEL dmod D IS=1E-9,n=(1.8)\r\n+ rs=0.1\r\nV1 a 0\r\n+ DC = 5\r\n.END\r\n");
        Assert.Equal(1000, netlist.Circuit.Get<Resistor>("R1").Resistance);
        var model = netlist.Circuit.Get<Diode>("D1").Model;
        Assert.Equal((1e-9, 1.8, 0.1), (model.SaturationCurrent, model.EmissionCoefficient, model.SeriesResistance));
        Assert.Equal(5, netlist.Circuit.Get<VoltageSource>("V1").Waveform.Value(0));
    }

    // Manual, section "Pulse": TR and TF default to TSTEP, PW and PER to TSTOP.
    [Fact]
    public void Pulse_times_that_are_left_out_follow_the_transient_card_wherever_it_stands()
    {
        var pulse = Waveform<PulseWaveform>("PULSE(0 5)");
        Assert.Equal((0, 1e-3, 1e-3, 2, 2), (pulse.Delay, pulse.Rise, pulse.Fall, pulse.Width, pulse.Period));
    }

    // Manual, section "Sinusoidal": FREQ defaults to 1/TSTOP, TD and THETA to 0.
    [Fact]
    public void A_sine_without_frequency_makes_one_period()
    {
        var sine = Waveform<SineWaveform>("SIN(1 2)");
        Assert.Equal((1, 2, 0.5, 0, 0), (sine.Offset, sine.Amplitude, sine.Frequency, sine.Delay, sine.Damping));
    }

    // Manual, section "Exponential": TD1 0, TAU1 TSTEP, TD2 TD1 + TSTEP, TAU2 TSTEP.
    [Fact]
    public void Exponential_times_that_are_left_out_follow_the_transient_card()
    {
        var exp = Waveform<ExponentialWaveform>("EXP(-4 -1 2m)");
        Assert.Equal((2e-3, 1e-3, 3e-3, 1e-3), (exp.RiseDelay, exp.RiseTime, exp.FallDelay, exp.FallTime));
    }

    // Manual, section "Piece-wise linear": PWL(0 -7 10NS -7 11NS -3 17NS -3 18NS -7 50NS -7).
    [Fact]
    public void The_manuals_piecewise_linear_example_passes_through_its_points()
    {
        var pwl = Waveform<PiecewiseLinearWaveform>("PWL(0 -7 10NS -7 11NS -3 17NS -3 18NS -7 50NS -7)");
        Assert.Equal(-7, pwl.Value(5e-9));
        Assert.Equal(-5, pwl.Value(10.5e-9), 9);
        Assert.Equal(-3, pwl.Value(14e-9));
    }

    // Manual, section "Independent sources": VIN 13 2 0.001 AC 1 SIN(0 1 1MEG).
    [Fact]
    public void A_source_may_have_direct_small_signal_and_transient_values()
    {
        var netlist = NetlistReader.Read("t\nVIN 13 2 0.001 AC 1 SIN(0 1 1MEG)\nI1 13 2 AC 2 90\nR1 13 0 1\nR2 2 0 1\n.op\n.end");
        var source = netlist.Circuit.Get<VoltageSource>("VIN");
        Assert.Equal(0.001, source.DcValue);
        Assert.Equal(Complex.One, source.SmallSignal);
        Assert.Equal(1e6, Assert.IsType<SineWaveform>(source.Waveform).Frequency);
        Assert.Equal(new Complex(0, 2), netlist.Circuit.Get<CurrentSource>("I1").SmallSignal);
    }

    [Fact]
    public void Controlled_sources_switches_and_windings_keep_terminals_and_values()
    {
        var c = NetlistReader.Read("""
            parts
            V1 1 0 1
            E1 2 3 14 1 2.0
            G1 2 0 5 0 0.1MMHO
            F1 13 5 VSENS 5
            HX 5 17 VSENS 0.5K
            VSENS 6 0
            R1 2 0 1
            R2 3 0 1
            R3 14 0 1
            R4 5 0 1
            R5 13 0 1
            R6 17 0 1
            R7 6 0 1
            L1 1 8 10m IC=2
            L2 8 0 1u
            K43 L1 L2 0.999
            C1 8 0 10p IC=3
            S1 1 2 3 4 switch1 ON
            W1 1 2 VSENS csw1 off
            R8 4 0 1
            .model switch1 SW(VT=2.5 VH=.5 RON=2)
            .model csw1 CSW(IT=1m)
            .end
            """).Circuit;
        Assert.Equal(2, c.Get<VoltageControlledVoltageSource>("E1").Gain);
        Assert.Equal(0.1e-3, c.Get<VoltageControlledCurrentSource>("G1").Transconductance);
        Assert.Equal(("VSENS", 5), (c.Get<CurrentControlledCurrentSource>("F1").ControlDevice, c.Get<CurrentControlledCurrentSource>("F1").Gain));
        Assert.Equal(500, c.Get<CurrentControlledVoltageSource>("HX").Transresistance);
        Assert.Equal(2, c.Get<Inductor>("L1").InitialCurrent);
        Assert.Equal(("L1", "L2", 0.999), (c.Get<Coupling>("K43").First, c.Get<Coupling>("K43").Second, c.Get<Coupling>("K43").Coefficient));
        Assert.Equal(3, c.Get<Capacitor>("C1").InitialVoltage);
        Assert.True(c.Get<VoltageSwitch>("S1").InitiallyOn);
        Assert.Equal((2, 1e12), (c.Get<VoltageSwitch>("S1").Model.OnResistance, c.Get<VoltageSwitch>("S1").Model.OffResistance));
        Assert.Equal(1e-3, c.Get<CurrentSwitch>("W1").Model.Threshold);
    }

    // Manual, section "Semiconductor resistor model": R = RSH (L - NARROW) / (W - NARROW), times 1 + TC1 dT + TC2 dT^2.
    [Fact]
    public void Resistors_take_temperature_coefficients_and_geometry_from_a_model()
    {
        var c = NetlistReader.Read("""
            resistors
            V1 1 0 1
            R1 1 0 10K film
            R2 1 0 sheet L=10u W=2u
            .model film R(TC1=3.9m TNOM=20)
            .model sheet R(RSH=50 NARROW=0.2u)
            .options temp=60
            .end
            """).Circuit;
        Assert.Equal((10e3, 3.9e-3, 293.15), (c.Get<Resistor>("R1").Resistance, c.Get<Resistor>("R1").Tc1, c.Get<Resistor>("R1").NominalTemperature));
        Assert.Equal(50 * 9.8 / 1.8, c.Get<Resistor>("R2").Resistance, 9);
        Assert.Equal(333.15, c.Temperature);
    }

    [Fact]
    public void Mosfets_take_sizes_from_the_part_then_from_the_options()
    {
        var c = NetlistReader.Read("""
            mos
            V1 1 0 5
            M1 1 1 0 0 nch L=5U W=2U AD=100P AS=90P PD=40U
            M2 1 1 0 0 pch W=8u
            .model nch NMOS(LEVEL=1 VTO=-2 KP=2e-5 KF=1e-27 AF=1)
            .model pch PMOS(TOX=0.1u)
            .options defl=3u
            .end
            """).Circuit;
        var m = c.Get<Mosfet>("M1");
        Assert.Equal((5e-6, 2e-6, 100e-12, 90e-12, 40e-6), (m.Length, m.Width, m.DrainArea, m.SourceArea, m.DrainPerimeter));
        Assert.Equal((-2, 2e-5), (m.Model.ThresholdVoltage, m.Model.TransconductanceParameter));
        Assert.Equal((3e-6, true), (c.Get<Mosfet>("M2").Length, c.Get<Mosfet>("M2").Model.IsPChannel));
    }

    [Fact]
    public void Control_cards_become_analyses_prints_and_start_voltages()
    {
        var netlist = NetlistReader.Read("""
            cards
            V1 in 0 1
            I1 0 out 1m
            R1 in out 1k
            L1 out 0 1
            .op
            .dc V1 0 5 .5 I1 0 1m 0.5m
            .ac lin 3 50 150
            .tran 1u 1m 0.2m 5u uic
            .ic V(in)=1 V(out)=-2
            .print tran V(in,out) I(L1)
            .print ac VDB(out) VP(out) V(in)
            .end
            """);
        Assert.Equal(
            [
                new OperatingPointCard(),
                new DcSweepCard(new DcSweepAxis("V1", 0, 5, 0.5), new DcSweepAxis("I1", 0, 1e-3, 0.5e-3)),
                new AcCard(FrequencySpacing.Linear, 3, 50, 150),
                new TransientCard(1e-6, 1e-3, 0.2e-3, 5e-6, true),
            ],
            netlist.Analyses);
        Assert.Equal(11, ((DcSweepCard)netlist.Analyses[1]).Inner.Values().Count);
        Assert.Equal([50, 100, 150], ((AcCard)netlist.Analyses[2]).Frequencies());
        Assert.Equal((1, -2), (netlist.Circuit.InitialVoltages["in"], netlist.Circuit.InitialVoltages["out"]));
        Assert.Equal(["V(in,out)", "I(L1)"], netlist.Prints[0].Variables.Select(v => v.ToString()));
        Assert.Equal(["VDB(out)", "VP(out)", "V(in)"], netlist.Prints[1].Variables.Select(v => v.ToString()));
    }

    [Fact]
    public void Models_and_definitions_within_a_subcircuit_are_local_to_it()
    {
        var c = NetlistReader.Read("""
            local names
            V1 1 0 1
            D1 1 0 dm
            Xa 1 cell
            .subckt cell p
            .subckt inner q
            D1 q mid dm
            .model dm D(IS=3e-14)
            R1 mid 0 1
            .ends
            D1 p 0 dm
            X1 p inner
            .model dm D(IS=2e-14)
            .ends cell
            .model dm D(IS=1e-14)
            .end
            """).Circuit;
        Assert.Equal(1e-14, c.Get<Diode>("D1").Model.SaturationCurrent);
        Assert.Equal(2e-14, c.Get<Diode>("D1.Xa").Model.SaturationCurrent);
        Assert.Equal(3e-14, c.Get<Diode>("D1.X1.Xa").Model.SaturationCurrent);
        Assert.Equal(["1", "mid.X1.Xa"], c.Get<Diode>("D1.X1.Xa").Nodes);
    }

    private static T Waveform<T>(string source)
        where T : SourceWaveform =>
        Assert.IsType<T>(NetlistReader.Read($"t\nV1 1 0 {source}\nR1 1 0 1\n.tran 1m 2\n.end").Circuit.Get<VoltageSource>("V1").Waveform);
}
