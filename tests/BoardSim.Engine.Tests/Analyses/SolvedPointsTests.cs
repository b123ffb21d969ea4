using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>
/// A current that follows from the unknowns by an exponential, recorded between the points that were solved. By Kirchhoff's law the diode's is that of the resistor in series with it, which is a straight line of the
/// unknowns; the half-wave rectifier is Schade's (Proc. IRE 31, 1943), with a diode of 1.3 mV to the e-fold.
/// </summary>
public sealed class SolvedPointsTests
{
    // Samples where the diode turns on or off showed 152 to 126,000 times the mean.
    [Theory]
    [InlineData(10, 0.05, 1e-4)]
    [InlineData(10, 0.05, 1e-5)]
    [InlineData(40, 0.1, 1e-4)]
    [InlineData(40, 0.1, 1.2e-5)]
    public void A_diodes_current_is_that_of_its_resistor(double omegaCr, double sourceShare, double accuracy)
    {
        const double load = 1000;
        var cycles = 8 + (int)omegaCr;
        var circuit = Circuit(
            new VoltageSource("V1", "line", "0", new SineWaveform { Amplitude = 1000, Frequency = 60 }),
            new Resistor("R_source", "line", "anode", sourceShare * load),
            new Diode("D1", "anode", "out", new DiodeModel { SaturationCurrent = 1e-12, EmissionCoefficient = 0.05 }),
            new Capacitor("C1", "out", "0", omegaCr / (2 * Math.PI * 60 * load)),
            new Resistor("R1", "out", "0", load));
        var options = new TransientOptions { Start = cycles / 60.0, Stop = (cycles + 2) / 60.0, Accuracy = accuracy, UseInitialConditions = true };
        var result = Run(circuit, options, Probe.Current("D1"), Probe.Current("R_source"));
        var (diode, resistor) = (result.Values(0), result.Values(1));
        Assert.Equal(resistor.Max(), diode.Max(), 1e-2 * resistor.Max());
        Assert.All(diode.Zip(resistor), pair => Assert.Equal(pair.Second, pair.First, 0.2 * resistor.Max()));
    }

    // Where the law is smooth within a step, an extreme between solved points is kept: a diode in forward conduction carries the current of a sine.
    [Fact]
    public void An_extreme_between_solved_points_stays()
    {
        var circuit = Circuit(
            new CurrentSource("I1", "0", "a", new SineWaveform { Offset = 1e-3, Amplitude = 0.9e-3, Frequency = 1e3 }),
            new Diode("D1", "a", "0", new DiodeModel { SaturationCurrent = 1e-12 }),
            new Capacitor("C1", "a", "0", 1e-12));
        var result = Run(circuit, new TransientOptions { Stop = 3e-3, Accuracy = 1e-4 }, Probe.Current("D1"));
        foreach (var (t, i) in result.Times.Zip(result.Values(0)))
        {
            Assert.Equal(1e-3 + 0.9e-3 * Math.Sin(2 * Math.PI * 1e3 * t), i, 1e-2 * 1.9e-3);
        }
    }
}
