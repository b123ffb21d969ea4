using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Converters;

namespace BoardSim.Engine.Tests.Devices;

public sealed class MeanRectifierTests
{
    private const double Drop = 0.8;
    private const double Slope = 0.05;

    // A capacitor so large that its voltage stands still: conduction from -c to c with cos c = (V + drops)/A, and
    // I = 2/(pi R) (A sin c - (V + drops) c): Schade, Analysis of Rectifier Operation, Proc. IRE 31 (1943), as his fig. 3 for wRC without end; the integral by hand.
    [Theory]
    [InlineData(0.95)]
    [InlineData(0.85)]
    [InlineData(0.7)]
    public void A_large_capacitor_gives_the_integral_of_the_crest(double share)
    {
        const double ohms = 5;
        var crest = Math.Sqrt(2) * 120;
        var level = share * crest;
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V_line", "l", "0", 120));
        circuit.Add(new VoltageSource("V_bus", "b", "0", level - 2 * Drop));
        circuit.Add(new Capacitor("C1", "b", "0", 1));
        circuit.Add(new MeanRectifier("B1", "l", "0", "b", "0", "C1") { Frequency = 60, Threshold = 2 * Drop, Resistance = ohms });
        var end = Transient.Run(new CircuitSystem(circuit), new TransientOptions { Stop = 1, Accuracy = 1e-6 }, [Probe.Current("B1"), Probe.Current("V_line")]);

        var c = Math.Acos(share);
        var expected = 2 / (Math.PI * ohms) * (crest * Math.Sin(c) - level * c);
        Assert.Equal(expected, end.Values(0)[^1], 1e-4 * expected);

        // What the line gives is what the bus gets, the diodes' share and the heat of the pulses: their mean square is the integral of (A cos x - V)^2 / R^2.
        var square = 2 / Math.PI / (ohms * ohms) * (crest * crest * (c / 2 + Math.Sin(2 * c) / 4) - 2 * crest * level * Math.Sin(c) + level * level * c);
        var watts = expected * level + square * ohms;
        Assert.Equal(watts / 120, -end.Values(1)[^1], 1e-3 * watts / 120);
    }

    // The other side is the whole circuit: four diodes with a threshold and a slope, sine, resistance, capacitor.
    [Theory]
    // Where the ripple is two fifths of the voltage (10 uF), constant power draws more in the valleys than at the crests; the device takes the current as constant: 0.4 % of the mean.
    [InlineData(47e-6, 2, 1.2, 25, 2e-3)]
    [InlineData(47e-6, 12, 1.2, 6, 2e-3)]
    [InlineData(47e-6, 30, 1.2, 3, 2e-3)]
    [InlineData(10e-6, 12, 8, 6, 1e-2)]
    [InlineData(220e-6, 80, 0.3, 2, 2e-3)]
    public void It_has_the_mean_of_the_diodes(double farads, double watts, double esr, double ohms, double tolerance)
    {
        double[] Run(bool mean)
        {
            var circuit = new Circuit();
            circuit.Add(new VoltageSource("V_line", "s", "0", mean ? new DcWaveform(120) : new SineWaveform { Amplitude = Math.Sqrt(2) * 120, Frequency = 60 }));
            circuit.Add(new Capacitor("C1", "b", "n", farads) { SeriesResistance = esr, InitialVoltage = 160 });
            circuit.Add(new ConstantPowerLoad("P1", "b", "n", watts, 40));
            circuit.Add(new Resistor("R_tie", "n", "0", 1e6));
            circuit.Add(new Capacitor("C_y", "n", "0", 2.2e-9));
            if (mean)
            {
                circuit.Add(new MeanRectifier("B1", "s", "0", "b", "n", "C1") { Frequency = 60, Threshold = 2 * Drop, Resistance = 2 * Slope + ohms });
            }
            else
            {
                circuit.Add(new Resistor("R1", "s", "a", ohms));
                circuit.Add(new Rectifier("D1", "a", "b", Drop, Slope));
                circuit.Add(new Rectifier("D2", "0", "b", Drop, Slope));
                circuit.Add(new Rectifier("D3", "n", "a", Drop, Slope));
                circuit.Add(new Rectifier("D4", "n", "0", Drop, Slope));
            }

            var options = new TransientOptions { Stop = 0.5, Accuracy = 1e-4, UseInitialConditions = true };
            var run = Transient.Run(new CircuitSystem(circuit), options, [Probe.Voltage("b", "n"), Probe.Current("V_line"), mean ? Probe.State("B1", "line-current") : Probe.Current("C1"), mean ? Probe.State("B1", "ripple-current") : Probe.Current("C1")]);
            return mean
                ? [run.Values(0)[^1], run.Values(2)[^1], run.Values(3)[^1]]
                : [Mean(run, 0, v => v), Math.Sqrt(Mean(run, 1, i => i * i)), Math.Sqrt(Mean(run, 2, i => i * i))];
        }

        var (whole, means) = (Run(false), Run(true));
        Assert.Equal(whole[0], means[0], tolerance * whole[0]);
        var ripple = Math.Max(2e-2, 3 * tolerance);
        Assert.Equal(whole[1], means[1], ripple * whole[1]);
        Assert.Equal(whole[2], means[2], ripple * whole[2]);
    }

    // Next to a short circuit, where the diodes begin to conduct all the time, the law has a knee, and tangents from a weak line led across it to and fro for ever. What the line gives, by Ohm's law, is at least what
    // the threshold takes of the mean current and its heat in the resistances (the mean square of a current is no less than the square of its mean), and not twice that with so smooth a current.
    [Fact]
    public void A_weak_line_into_a_short_circuit_gives_what_threshold_and_resistances_take()
    {
        var run = Bench.Run(
            Bench.Circuit(
                new VoltageSource("V_line", "s", "0", 230),
                new Resistor("R_line", "s", "l", 1083.7),
                new Capacitor("C_line", "l", "0", 1e-7) { SeriesResistance = 53.2 },
                new Capacitor("C1", "b", "0", 41.8e-6) { SeriesResistance = 2.57 },
                new Resistor("R_short", "b", "0", 0.047),
                new MeanRectifier("B1", "l", "0", "b", "0", "C1") { Threshold = 1.69, Resistance = 0.175, SourceResistance = 0.0765 }),
            new TransientOptions { Stop = 0.08, UseInitialConditions = true },
            Probe.Voltage("l"),
            Probe.Current("B1"));
        var (line, mean) = (run.Values(0)[^1], run.Values(1)[^1]);
        var least = mean * (1.69 + (0.175 + 0.047) * mean);
        Assert.InRange((230 - line) / 1083.7 * line, least, 2 * least);
    }

    // Plug pulled and the output's negative lead open: nothing but blocked diodes holds these nodes, and no current flows. With the line on, the open lead takes no current either, so
    // the output is at the crest less the drops (within what a nanosiemens takes).
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void An_open_lead_of_the_output_floats_where_no_current_flows(bool plugged)
    {
        var circuit = new Circuit();
        circuit.Add(new VoltageSource("V_line", "l", "0", 120));
        circuit.Add(new Resistor("R_plug", plugged ? "l" : "off", "a", 1e-3));
        circuit.Add(new Capacitor("C1", "b", "0", 47e-6));
        circuit.Add(new Resistor("R1", "b", "0", 1e3));
        circuit.Add(new MeanRectifier("B1", "a", "0", "b", "open", "C1") { Frequency = 60, Threshold = 2 * Drop, Resistance = 1 });
        circuit.Add(new Resistor("R_air", "off", "0", 1e9));
        var run = Transient.Run(
            new CircuitSystem(circuit), new TransientOptions { Stop = 0.1, UseInitialConditions = true }, [Probe.Voltage("b"), Probe.Voltage("b", "open")]);
        Assert.Equal(0, run.Values(0)[^1], 1e-3);
        Assert.Equal(plugged ? Math.Sqrt(2) * 120 - 2 * Drop : 0, run.Values(1)[^1], 0.05);
    }

    private static double Mean(TransientResult run, int probe, Func<double, double> of)
    {
        var (t, y) = (run.Times, run.Values(probe));
        var (sum, from) = (0.0, t[^1] - 6.0 / 60);
        for (var k = 1; k < t.Length; k++)
        {
            if (t[k] <= from)
            {
                continue;
            }

            // The first piece begins inside a step.
            var share = t[k - 1] < from ? (from - t[k - 1]) / (t[k] - t[k - 1]) : 0;
            var first = y[k - 1] + share * (y[k] - y[k - 1]);
            sum += (1 - share) * (t[k] - t[k - 1]) * (of(y[k]) + of(first)) / 2;
        }

        return sum / (t[^1] - from);
    }
}
