using System.Numerics;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Analyses.WideSteps;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>What a wide step books where current and flux turn in a loop.</summary>
public sealed class WideStepBookTests
{
    // A winding with its core's loss in one law with it, on a sine through a resistor, in its steady state: phasors tell current and voltage, and what the winding takes over a part of the period is the integral of
    // their product, 1/2 |i| |v| (h cos(a - b) - (sin(2 w h + a + b) - sin(a + b)) / (2 w)) (any textbook of alternating currents).
    [Theory]
    [InlineData(20)]
    [InlineData(200)]
    public void Winding_takes_the_product_of_its_voltage_and_its_current(double core)
    {
        const double volts = 100;
        const double ohms = 10;
        const double henries = 0.05;
        const double omega = 2 * Math.PI * 50;
        var system = new CircuitSystem(Circuit(
            new VoltageSource("v", "in", "0", new SineWaveform { Amplitude = volts, Frequency = 50 }),
            new Resistor("r", "in", "a", ohms),
            new SaturableTransformer("t", [new TransformerWinding("a", "0", 1, 0)], henries) { SaturationFlux = 1000, CoreResistance = core }));
        var admittance = 1 / core + 1 / (omega * henries * Complex.ImaginaryOne);
        var voltage = volts / (1 + ohms * admittance);
        var current = admittance * voltage;
        var flux = voltage / (omega * Complex.ImaginaryOne);
        var start = new double[system.Size + 1];
        start[system.NodeIndex("a")] = voltage.Imaginary;
        foreach (var unknown in system.Unknowns.Where(u => u.Owner is not null))
        {
            start[unknown.Index] = unknown.Owner == "v" ? -current.Imaginary : unknown.Kind == UnknownKind.Current ? current.Imaginary : flux.Imaginary / 1000;
        }

        var solver = WideStepSolver.For(system, new SolverCounters(), 5)!;
        var weight = Enumerable.Repeat(1e9, start.Length).ToArray();
        Assert.True(solver.TryStep(0, double.PositiveInfinity, -33, start, weight, 100, 1e-6, new bool[start.Length], out _));
        var (x, charges, slope, rate) = (new double[start.Length], new double[start.Length], new double[start.Length], new double[start.Length]);
        solver.Finish(0, x, charges, slope, rate);

        var h = solver.Length;
        Near((voltage * Complex.FromPolarCoordinates(1, omega * h)).Imaginary, x[system.NodeIndex("a")], 1e-6);
        var (a, b) = (current.Phase, voltage.Phase);
        var taken = 0.5 * current.Magnitude * voltage.Magnitude * (h * Math.Cos(a - b) - (Math.Sin(2 * omega * h + a + b) - Math.Sin(a + b)) / (2 * omega));
        Near(taken, solver.StoredEnergy, 1e-6);
    }
}
