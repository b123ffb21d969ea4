using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Bipolar transistor against textbook results.</summary>
public sealed class BipolarTests
{
    private const double ThermalVoltage = 0.0258649; // kT/e at 300.15 K, SI 2019

    private static readonly BipolarModel Plain = new() { SaturationCurrent = 1e-14, ForwardBeta = 100, ReverseBeta = 1 };

    // Sedra and Smith, Microelectronic Circuits, 5th ed. 2004, section 5.1.6 (from memory): in saturation
    // VCE = VT ln((1 + (forced + 1)/betaR) / (1 - forced/betaF)); worked out by hand for forced = 10, betaF = 100, betaR = 1:
    // VT ln(12 / 0.9) = 2.590267 VT. And betaR = 0.1: VT ln(111 / 0.9) = 4.814891 VT.
    [Theory]
    [InlineData(1, 2.590267)]
    [InlineData(0.1, 4.814891)]
    public void Saturation_voltage_at_forced_beta_ten(double reverseBeta, double timesThermal)
    {
        var solution = Solve(
            new CurrentSource("ib", "0", "b", 1e-3),
            new CurrentSource("ic", "0", "c", 10e-3),
            new BipolarTransistor("q", "c", "b", "0", Plain with { ReverseBeta = reverseBeta }));
        Near(timesThermal * ThermalVoltage, solution.Voltage("c"), 1e-5);
    }

    // Sedra and Smith, 5th ed., example 5.10 (from memory): VCC = 15 V, RB1 = 100 k, RB2 = 50 k, RC = 5 k, RE = 3 k, beta = 100, VBE = 0.7 V:
    // IB = 12.8 uA, IE = 1.29 mA, VB = 4.57 V, VE = 3.87 V, IC = 1.28 mA, VC = 8.6 V. IS is set for 0.7 V at 1.28 mA.
    [Fact]
    public void Four_resistor_bias_of_the_textbook()
    {
        var model = new BipolarModel { ForwardBeta = 100, SaturationCurrent = 1.28e-3 * Math.Exp(-0.7 / ThermalVoltage) };
        var solution = Solve(
            new VoltageSource("vcc", "vcc", "0", 15),
            new Resistor("rb1", "vcc", "b", 100e3),
            new Resistor("rb2", "b", "0", 50e3),
            new Resistor("rc", "vcc", "c", 5e3),
            new Resistor("re", "e", "0", 3e3),
            new BipolarTransistor("q", "c", "b", "e", model));
        Near(4.57, solution.Voltage("b"), 0.005);
        Near(3.87, solution.Voltage("e"), 0.005);
        Near(8.6, solution.Voltage("c"), 0.005);
        Near(1.28e-3, solution.Current("q"), 0.005);
    }

    // Early, Proc. IRE 40 (1952) 1401: the collector characteristics, extended backwards, meet the axis at the Early voltage.
    [Fact]
    public void Collector_lines_meet_at_the_Early_voltage()
    {
        var probe = new DeviceProbe(new BipolarTransistor("q", "c", "b", "0", Plain with { ForwardEarlyVoltage = 75 }));
        foreach (var drive in new[] { 0.55, 0.6, 0.65 })
        {
            probe.Set("b", drive);
            var at5 = probe.Set("c", drive + 5).Evaluate().F("c");
            var at10 = probe.Set("c", drive + 10).Evaluate().F("c");
            Near(75, 5 * at5 / (at10 - at5) - 5, 1e-3);
        }
    }

    // Gummel and Poon, Bell Syst. Tech. J. 49 (1970) 827: at high injection the collector current grows by a decade per 2 VT ln 10, and
    // the current gain has fallen to half where the collector current equals the knee current.
    [Fact]
    public void High_injection_halves_slope_and_gain()
    {
        var split = new DeviceProbe(new BipolarTransistor("q", "c", "b", "0", Plain with { ForwardKneeCurrent = 10e-3 }));
        double Collector(double v) => split.Set("b", v).Set("c", v).Evaluate().F("c");

        // A thousand times the knee in emitter injection; the law is approached with the root of that.
        Near(1 / (2 * ThermalVoltage), Math.Log(Collector(0.91) / Collector(0.90)) / 0.01, 0.03);

        double low = 0.5, high = 1;
        for (var k = 0; k < 60; k++)
        {
            var middle = (low + high) / 2;
            split.Set("b", middle).Set("c", middle).Evaluate();
            (low, high) = split.F("c") / split.F("b") > 50 ? (middle, high) : (low, middle);
        }

        Near(10e-3, split.F("c"), 1e-6);
    }

    // Gray and Meyer, Analysis and Design of Analog Integrated Circuits, 3rd ed. 1993, section 1.4 (from memory): small-signal parameters at IC:
    // gm = IC/VT, rpi = beta/gm, Cb = tauF gm, fT = gm / (2 pi (Cpi + Cmu)); with tauF = 0.5 ns alone fT = 318 MHz.
    [Fact]
    public void Small_signal_parameters_of_the_hybrid_pi_model()
    {
        var model = Plain with { ForwardTransitTime = 0.5e-9 };
        var probe = new DeviceProbe(new BipolarTransistor("q", "c", "b", "0", model));
        probe.Loads.Gmin = 0;
        probe.Set("b", 0.65).Set("c", 5).Evaluate();
        var current = probe.F("c");
        Near(current / ThermalVoltage, probe.G("c", "b"), 1e-5);
        Near(100 / probe.G("c", "b"), 1 / probe.G("b", "b"), 1e-5);
        Near(318.3e6, probe.G("c", "b") / (2 * Math.PI * probe.C("b", "b")), 1e-4);
    }

    // Gray and Meyer (as above), common-emitter stage: voltage gain -gm RC, which at 1 mA and 5 kohm is -5 V / VT = -193.3; with a collector-base
    // capacitance of 2 pF and 1 kohm in front of the base the Miller effect sets the corner at 1 / (2 pi (Rs || rpi) (C (1 + gm RC) + C RC / (Rs || rpi))):
    // Rs || rpi = 1 k || 2586.5 = 721.2 ohm, so 1 / (2 pi (721.2 * 388.6 pF + 5 k * 2 pF)) = 548.3 kHz.
    [Fact]
    public void Common_emitter_stage_has_its_gain_and_its_Miller_corner()
    {
        var model = Plain with { BaseCollectorCapacitance = 2e-12, BaseCollectorGrading = 0 };
        var circuit = Circuit(
            new CurrentSource("ib", "0", "b", 10e-6),
            new VoltageSource("vin", "in", "0") { SmallSignal = 1 },
            new Resistor("rs", "in", "x", 1e3),
            new Capacitor("couple", "x", "b", 1),
            new VoltageSource("vcc", "vcc", "0", 10),
            new Resistor("rc", "vcc", "c", 5e3),
            new BipolarTransistor("q", "c", "b", "0", model));
        var ac = AcAnalysis.Run(new CircuitSystem(circuit), [1e3, 548.3e3], [Probe.Voltage("c"), Probe.Voltage("b")]);
        var (low, corner) = (ac.Values(0)[0], ac.Values(0)[1]);
        Near(-193.3, (low / ac.Values(1)[0]).Real, 1e-3);
        Near(1 / Math.Sqrt(2), corner.Magnitude / low.Magnitude, 5e-3);
    }

    [Fact]
    public void Current_gain_follows_XTB_with_temperature()
    {
        // Berkeley SPICE3 user's manual, model Q: BF(T) = BF (T/TNOM)^XTB; 1.5 between 300.15 K and 360.18 K is 1.2^1.5 = 1.314534.
        double Gain(double kelvin)
        {
            var probe = new DeviceProbe(new BipolarTransistor("q", "c", "b", "0", Plain with { BetaExponent = 1.5 }), kelvin);
            probe.Loads.Gmin = 0;
            probe.Set("b", 0.6).Set("c", 0.6).Evaluate();
            return probe.F("c") / probe.F("b");
        }

        Near(1.314534, Gain(360.18) / Gain(300.15), 1e-6);
    }

    // NXP BC848 series data sheet p. 4: VBE 660 mV typical at 2 mA, 5 V, falling by 2 mV/K; VCEsat 90 mV typical, 250 mV at most at 10 mA / 0.5 mA;
    // VBEsat 700 mV typical. A model with the data sheet's gain and 660 mV must land there.
    [Fact]
    public void Small_signal_part_saturates_as_its_data_sheet_says()
    {
        var model = new BipolarModel
        {
            SaturationCurrent = 2e-3 * Math.Exp(-0.66 / ThermalVoltage),
            ForwardBeta = 290,
            ReverseBeta = 5,
            ForwardEarlyVoltage = 80,
            CollectorResistance = 1,
        };
        var solution = Solve(
            new CurrentSource("ib", "0", "b", 0.5e-3), new CurrentSource("ic", "0", "c", 10e-3), new BipolarTransistor("q", "c", "b", "0", model));
        Assert.InRange(solution.Voltage("c"), 0.03, 0.25);
        Assert.InRange(solution.Voltage("b"), 0.65, 0.75);
    }

    [Fact]
    public void Pnp_mirrors_npn()
    {
        var npn = new DeviceProbe(new BipolarTransistor("q", "c", "b", "e", Samples.Npn));
        var pnp = new DeviceProbe(new BipolarTransistor("q", "c", "b", "e", Samples.Npn with { IsPnp = true }));
        var random = new Random(5);
        for (var point = 0; point < 50; point++)
        {
            npn.Scatter(random, -0.7, 0.7);
            for (var i = 1; i <= npn.Size; i++)
            {
                pnp.Loads.X[i] = -npn.Loads.X[i];
            }

            npn.Evaluate();
            pnp.Evaluate();
            Assert.Equal(npn.Loads.F.Select(f => -f), pnp.Loads.F);
            Assert.Equal(npn.Loads.Q.Select(q => -q), pnp.Loads.Q);
            Assert.Equal(npn.Loads.G, pnp.Loads.G);
            Assert.Equal(npn.Loads.C, pnp.Loads.C);
        }
    }

    // Hairer and Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, p. 377: one-transistor amplifier, with
    // f(v) = 1e-6 (exp(v/0.026) - 1), base 0.01 f, collector 0.99 f. End values computed with an independent solver to 2e-12.
    [Fact]
    public void One_transistor_amplifier_of_Hairer_and_Wanner()
    {
        var model = new BipolarModel
        {
            SaturationCurrent = 0.99e-6,
            ForwardBeta = 99,
            ForwardEmission = 0.026 / (1.380649e-23 / 1.602176634e-19 * 300.15),
            ReverseBeta = 1e9,
            ReverseEmission = 1e9,
        };
        var circuit = Circuit(
            new VoltageSource("ue", "e", "0", new SineWaveform { Amplitude = 0.4, Frequency = 100 }),
            new VoltageSource("ub", "b", "0", 6),
            new Resistor("r0", "e", "1", 1e3),
            new Capacitor("c1", "1", "2", 1e-6) { InitialVoltage = -3 },
            new Resistor("r1", "2", "0", 9e3),
            new Resistor("r2", "b", "2", 9e3),
            new BipolarTransistor("q", "4", "2", "3", model),
            new Resistor("r3", "3", "0", 9e3),
            new Capacitor("c2", "3", "0", 2e-6) { InitialVoltage = 3 },
            new Resistor("r4", "b", "4", 9e3),
            new Capacitor("c3", "4", "5", 3e-6) { InitialVoltage = 6 },
            new Resistor("r5", "5", "0", 9e3));
        var probes = Enumerable.Range(1, 5).Select(n => Probe.Voltage($"{n}")).ToArray();
        var result = Run(circuit, new TransientOptions { Stop = 0.05, UseInitialConditions = true, Accuracy = 1e-6 }, probes);
        double[] expected = [-0.02226514, 3.0687000, 2.8983405, 2.0335337, -2.2691715];
        for (var n = 0; n < 5; n++)
        {
            Assert.InRange(result.Values(n)[^1] - expected[n], -1e-5, 1e-5);
        }
    }

    // Astable multivibrator: each side stays off while its base climbs from Vbe - (Vcc - Vcesat) towards Vcc up to the cut-in voltage, for
    // R C ln((2 Vcc - Vbe - Vcesat) / (Vcc - Vcutin)) (Millman and Taub, Pulse, Digital and Switching Waveforms, 1965, chapter 11; from memory). With 5 V, 0.7 V,
    // 0.05 V, 47 kohm, 10 nF and a cut-in between 0.5 and 0.6 V: 0.47 ms ln(9.25 / 4.45) = 0.34390 ms a side, 1.5 % either way.
    [Theory]
    [InlineData(1e-3)]
    [InlineData(1e-5)]
    public void Astable_multivibrator_keeps_its_period(double accuracy)
    {
        var model = new BipolarModel
        {
            SaturationCurrent = 1e-14,
            ForwardBeta = 200,
            ReverseBeta = 4,
            BaseEmitterCapacitance = 10e-12,
            BaseCollectorCapacitance = 4e-12,
            ForwardTransitTime = 0.4e-9,
        };
        var circuit = Circuit(
            new VoltageSource("vcc", "vcc", "0", 5),
            new Resistor("rc1", "vcc", "c1", 1e3),
            new Resistor("rc2", "vcc", "c2", 1e3),
            new Resistor("rb1", "vcc", "b1", 47e3),
            new Resistor("rb2", "vcc", "b2", 47e3),
            new Capacitor("ca", "c1", "b2", 10e-9) { InitialVoltage = 3 },
            new Capacitor("cb", "c2", "b1", 10e-9) { InitialVoltage = 0 },
            new BipolarTransistor("q1", "c1", "b1", "0", model),
            new BipolarTransistor("q2", "c2", "b2", "0", model));
        var result = Run(circuit, new TransientOptions { Stop = 10e-3, UseInitialConditions = true, Accuracy = accuracy }, Probe.Voltage("c1"));
        var (t, v) = (result.Times, result.Values(0));
        var falls = Enumerable.Range(1, t.Length - 1).Where(k => v[k - 1] > 2.5 && v[k] <= 2.5).Select(k => t[k - 1] + (t[k] - t[k - 1]) * (v[k - 1] - 2.5) / (v[k - 1] - v[k])).ToArray();
        Assert.InRange(falls.Length, 13, 15);
        Near(2 * 0.34390e-3, (falls[^1] - falls[2]) / (falls.Length - 3), 0.015);
    }

    [Fact]
    public void Saturated_transistor_lets_go_only_after_its_storage_time()
    {
        // Common practice, no source: a transistor driven far into saturation conducts on for a time of the order of the reverse
        // transit time when its base drive is merely taken away; with a tenth of TR it lets go about that much sooner.
        double LetsGo(double reverse)
        {
            var model = Plain with { ForwardTransitTime = 0.5e-9, ReverseTransitTime = reverse };
            var circuit = Circuit(
                new VoltageSource("vcc", "vcc", "0", 12),
                new Resistor("rc", "vcc", "c", 1e3),
                new VoltageSource("vin", "in", "0", new PulseWaveform { Low = 5, High = 0, Delay = 1e-6, Rise = 1e-9, Fall = 1e-9 }),
                new Resistor("rb", "in", "b", 1e4),
                new BipolarTransistor("q", "c", "b", "0", model));
            var result = Run(circuit, new TransientOptions { Stop = 20e-6, Accuracy = 1e-4 }, Probe.Voltage("c"));
            return result.Times[Array.FindIndex(result.Values(0), v => v > 6)] - 1e-6;
        }

        var (slow, quick) = (LetsGo(500e-9), LetsGo(50e-9));
        Assert.InRange(slow, 100e-9, 5e-6);
        Assert.InRange(slow / quick, 3, 12);
    }
}
