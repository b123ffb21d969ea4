using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses.PeriodicStates;

/// <summary>Step-down converter with peak current control: a deviation is multiplied by -D/(1 - D) per period.</summary>
internal static class PeakCurrentBuck
{
    /// <summary>Period of its clock in seconds.</summary>
    public const double Clock = 10e-6;

    /// <summary>Makes one of 10 V of input. The clock turns the switch on, the inductor's current turns it off at 2 A; between them the hysteresis is the memory.</summary>
    /// <param name="output">Output in volts; the duty is a tenth of it.</param>
    public static Circuit Make(double output) => Circuit(
        new VoltageSource("vin", "in", "0", 10),
        new VoltageSwitch("s", "in", "sw", "clock", "sense", new SwitchModel { OnResistance = 1e-3, OffResistance = 1e7, Threshold = 1.5, Hysteresis = 3.5 }),
        new Diode("d", "0", "sw", new DiodeModel { SaturationCurrent = 1e-12, EmissionCoefficient = 0.05 }),
        new Inductor("l", "sw", "out", 50e-6) { InitialCurrent = 1.7 },
        new VoltageSource("vout", "out", "0", output),
        new VoltageSource("clk", "clock", "0", new PulseWaveform { High = 10, Rise = 50e-9, Fall = 50e-9, Width = 200e-9, Period = Clock }),
        new CurrentControlledVoltageSource("h", "sense", "0", "l", 1),
        new Resistor("rs", "sense", "0", 1e3),
        new Resistor("rc", "clock", "0", 1e3));
}
