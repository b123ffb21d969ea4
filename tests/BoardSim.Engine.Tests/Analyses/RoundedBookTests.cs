using BoardSim.Engine.Analyses;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>The book of energy where the last place of what is stored is more than what a step turns over.</summary>
public sealed class RoundedBookTests
{
    // 50 A through 3e11 ohm are 1.5e13 V (Ohm's law), so that 100 kF hold 1.1e31 J (C V^2 / 2), whose last place is 1e15 J; the source delivers V I = 7.5e14 W. A switch then lets the
    // capacitor down by volts, thousands of last places of its voltage. By Tellegen's theorem nothing is missing; what is found to be is rounding.
    [Fact]
    public void Last_place_of_what_is_stored_is_not_missing()
    {
        const double current = 50;
        const double leak = 3e11;
        const double stop = 2e3;
        var circuit = Circuit(
            new CurrentSource("i", "0", "a", current),
            new Capacitor("c", "a", "0", 100e3),
            new Resistor("wall", "a", "b", 1),
            new VoltageSource("hand", "h", "0", new PiecewiseLinearWaveform([0, 200, 201], [0, 0, 1])),
            new VoltageSwitch("door", "a", "c", "h", "0", new SwitchModel { OnResistance = 1e-3, OffResistance = 1e9, Threshold = 0.5 }),
            new Resistor("opening", "c", "b", 0.25),
            new Resistor("leak", "b", "0", leak));
        var evidence = Run(circuit, new TransientOptions { Stop = stop, Accuracy = 1e-4 }).Evidence;

        // The leak's 3.3e-12 S stand in the matrix beside a siemens of the wall, whose last place is 2.2e-16.
        Near(current * current * leak * stop, evidence.SourceEnergy, 1e-4);
        Assert.InRange(evidence.PowerBalance, 0, 1e-5);
    }
}
