using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Devices.Converters;
using BoardSim.Engine.Devices.Selectors;
using BoardSim.Engine.Devices.Serial;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>One of each device with a law of its own, and the range of voltages that its points are drawn from.</summary>
internal sealed record DeviceCase(Func<Device> Make, double Low, double High, params Device[] Others);

/// <summary>The cases by name.</summary>
internal static class DeviceCases
{
    public static readonly Dictionary<string, DeviceCase> All = new()
    {
        ["diode"] = new(() => new Diode("d", "a", "k", Samples.Diode), -1.5, 0.85),
        ["diode in breakdown"] = new(() => new Diode("d", "a", "k", Samples.Diode with { BreakdownVoltage = 1 }), -1.3, 0.8),
        ["bipolar NPN"] = new(() => new BipolarTransistor("q", "c", "b", "e", Samples.Npn), -0.8, 0.8),
        ["bipolar NPN, four in parallel"] = new(() => new BipolarTransistor("q", "c", "b", "e", Samples.Npn) { Area = 4 }, -0.8, 0.8),
        ["bipolar NPN, common emitter"] = new(() => new BipolarTransistor("q", "c", "b", "0", Samples.Npn with { EmitterResistance = 0 }), 0, 0.8),
        ["bipolar PNP without resistances"] = new(() => new BipolarTransistor("q", "c", "b", "e", Samples.PlainPnp), -0.4, 0.4),
        ["MOSFET N"] = new(() => Sized(new Mosfet("m", "d", "g", "s", "b", Samples.NChannel)), -0.8, 0.8),
        ["MOSFET N at high voltages"] = new(() => Sized(new Mosfet("m", "d", "g", "s", "0", Samples.NChannel)), 0, 5),
        ["MOSFET P"] = new(() => Sized(new Mosfet("m", "d", "g", "s", "b", Samples.PChannel)), -0.8, 0.8),
        ["MOSFET P at high voltages"] = new(() => Sized(new Mosfet("m", "d", "g", "s", "0", Samples.PChannel)), -5, 0),
        ["MOSFET without gate oxide"] = new(() => Sized(new Mosfet("m", "d", "g", "s", "s", Samples.NChannel with { OxideThickness = null })), -1, 5),
        ["varistor"] = new(() => new Varistor("v", "a", "b", 430, 1e-3, 23) { Capacitance = 1e-9 }, -400, 400),
        ["varistor about zero"] = new(() => new Varistor("v", "a", "b", 1, 1e-3, 3), -1, 1),
        ["constant-power load"] = new(() => new ConstantPowerLoad("p", "a", "b", 5, 3), -6, 6),
        ["thermistor"] = new(() => new Thermistor("t", "a", "b", 10, 3000) { HeatCapacity = 0.3, Dissipation = 0.01 }, -20, 20),
        ["relay coil"] = new(() => new RelayCoil("k", "a", "b", 300, 1, 2, 0.03, 0.01), -12, 12),
        ["relay contact"] = new(() => new RelayContact("s", "a", "b", "k"), -12, 12, new RelayCoil("k", "c", "0", 300, 1, 2, 0.03, 0.01)),
        ["arcing contact"] = new(() => new ArcingContact("s", "a", "b", "k"), -12, 12, new RelayCoil("k", "c", "0", 300, 1, 2, 0.03, 0.01)),

        // Heat that flows into a thermal node is no current of the electric ones, so these two stand on the ground.
        ["thermistor in the air"] = new(() => new Thermistor("t", "a", "0", new BetaCurve(1e4, 3435), "air") { HeatCapacity = 0.3, Dissipation = 0.01 }, -20, 20),
        ["mean rectifier"] = new(() => new MeanRectifier("r", "a", "b", "p", "n", "c") { Threshold = 0.5 }, 0.5, 9, new Capacitor("c", "p", "n", 50e-6) { SeriesResistance = 1 }),
        ["mean rectifier with a limiter"] = new(() => new MeanRectifier("r", "a", "0", "p", "n", "c") { Threshold = 0.1, Limiter = new BetaCurve(10, 3000) }, 1, 12, new Capacitor("c", "p", "n", 50e-6)),
        ["fuse"] = new(() => new Fuse("f", "a", "b", 0.05, 9.7, 3.1), -5, 5),
        ["heating element"] = new(() => new HeatingElement("r", "a", "0", "h", 96) { Coefficient = 4e-3 }, -100, 100),
        ["thermal joint"] = new(() => new ThermalJoint("j", "a", "b", 0.05) { OpensAt = 600 }, -2, 2),
        ["solenoid"] = new(() => new Solenoid("y", "a", "b", 500, 1.6, 4.2) { PressureForce = 1, SpringForce = 0.7 }, -0.5, 1.2),
        ["solenoid with shorted turns"] = new(() => new Solenoid("y", "a", "b", 500, 1.6, 4.2) { ShortedShare = 0.1 }, -2, 2),
        ["solenoid with a stuck plunger"] = new(() => new Solenoid("y", "a", "b", 500, 1.6, 4.2) { StuckAt = 0.2 }, -2, 2),
        ["single-phase motor"] = new(() => new SinglePhaseMotor("m", "a", "b", "c", "d") { ConstantTorque = 0.1, FanTorque = 1e-4, Drag = 1e-3, Inertia = 0.1 }, -5, 5),
        ["single-phase motor, locked"] = new(() => new SinglePhaseMotor("m", "a", "b", "c", "b") { IsLocked = true, TurnsRatio = -1.2 }, -5, 5),
        ["start relay"] = new(() => new StartRelay("k", "a", "b", "c", "d", 10, 7), -0.5, 0.5),
        ["windings on a core"] = new(() => new CoreWindings("t", 1e-3, new Winding("a", "b", 8, 0.1), new Winding("c", "d", 1), new Winding("e", "f", 2)), -5, 5),
        ["opto-coupler"] = new(() => new OptoCoupler("u", "a", "k", "c", "e", 1), -1, 1.2),
        ["shunt reference"] = new(() => new ShuntReference("u", "r", "a", "k", 0.3) { LeastVoltage = 0.2 }, -0.3, 0.6),
        ["current-mode controller"] = new(() => new CurrentModeController("u", "v", "r", "f", "s", "g", new ControllerParameters()), -5, 5),
        ["rectifier, blocking"] = new(() => new Rectifier("d", "a", "k", 0.8, 0.3), -5, 5),
        ["controlled switch"] = new(() => new ControlledSwitch("s", "d", "s", "u", 1), -5, 5, new CurrentModeController("u", "v", "r", "f", "n", "g", new ControllerParameters())),
        ["resistive thermistor"] = new(() => new IsothermalThermistor("t", "a", "b", new BetaCurve(1e4, 3435)), -5, 5),
        ["series regulator"] = new(() => new SeriesRegulator("u", "a", "b", "g", 5) { FoldbackSlope = 0.08 }, 0, 9),
        ["series regulator, folded back"] = new(() => new SeriesRegulator("u", "a", "b", "0", 5) { FoldbackSlope = 0.08, FoldbackFrom = 3 }, -2, 14),
        ["transformer"] = new(() => new SaturableTransformer("t", [new("a", "b", 1, 0.1), new("c", "d", -0.2, 1e-3), new("d", "e", 0.1, 0)], 20) { SaturatedInductance = 0.5, CoreResistance = 5e3 }, -2, 2),
        ["reset supervisor"] = new(() => new ResetSupervisor("u", "a", "g", "r", 4.3), 0, 6),
        ["processor"] = new(() => new Processor("p", "a", "g", "r", "i"), -2, 6),
        ["processor's output in reset"] = new(() => new ProcessorPort("o", "a", "b", "g", "p", 0) { PullDown = 50e3 }, -3, 8, new Processor("p", "x", "0", "r", "i") { ResetCurrent = 0 }),
        ["motor with a fan"] = new(() => new DcMotor("m", "a", "b", 8, 5e-3, 0.02, 2e-5) { Drag = 1e-5, FanTorque = 1e-6, Friction = 1e-3 }, -12, 12),
        ["motor whose winding heats"] = new(() => new DcMotor("m", "a", "b", 8, 5e-3, 0.02, 2e-5) { Friction = 1e-3, HeatCapacity = 3 }, -12, 12),
        ["mean fan drive"] = new(() => new MeanFanDrive("u", "r", "o", "s", "g", "l", "m") { IsOpenLoop = true }, -1, 12, new DcMotor("m", "o", "0", 8, 5e-3, 0.02, 2e-5)),
        ["tachometer"] = new(() => new Tachometer("t", "a", "b", "m"), -12, 12, new DcMotor("m", "c", "0", 8, 5e-3, 0.02, 2e-5)),
        ["bridge driver"] = new(() => new BridgeDriver("u", "s", "g", "a", "b"), -2, 12),
        ["bridge switch"] = new(() => new BridgeSwitch("s", "a", "b", "u", BridgeGate.BLow), -12, 12, new BridgeDriver("u", "s", "0", "d", "e")),
        ["speed controller"] = new(() => new SpeedController("u", "s", "g", "t", "p"), 3.6, 6),
        ["serial sender"] = new(() => new SerialSender("u", "a", "g"), -1, 6),
        ["serial receiver"] = new(() => new SerialReceiver("r", "a", "g", "s", "u"), -1, 6, new SerialSender("u", "b", "0")),
        ["coded switch"] = new(() => new CodedSwitch("s", "c", "a", "b", "d", "e") { Position = 5 }, -1, 6),
        ["selector scanner"] = new(() => new SelectorScanner("u", "s", "g", "e", "f", "a", "b", "c", "d"), -1, 6),
        ["analog inputs"] = new(() => new AnalogInputs("u", "r", "g", "a", "b"), -1, 6),
        ["voltage switch"] = new(() => new VoltageSwitch("s", "a", "b", "c", "d", new SwitchModel()), -5, 5),
        ["current switch"] = new(() => new CurrentSwitch("s", "a", "b", "v", new SwitchModel()), -5, 5, new VoltageSource("v", "c", "0")),
        ["voltage-controlled voltage source"] = new(() => new VoltageControlledVoltageSource("e", "a", "b", "c", "d", 3), -5, 5),
        ["voltage-controlled current source"] = new(() => new VoltageControlledCurrentSource("g", "a", "b", "c", "d", 3), -5, 5),
        ["current-controlled current source"] = new(() => new CurrentControlledCurrentSource("f", "a", "b", "v", 3), -5, 5, new VoltageSource("v", "c", "0")),
        ["current-controlled voltage source"] = new(() => new CurrentControlledVoltageSource("h", "a", "b", "v", 3), -5, 5, new VoltageSource("v", "c", "0")),
    };

    private static Mosfet Sized(Mosfet transistor)
    {
        transistor.Width = 1e-3;
        transistor.Length = 2e-6;
        transistor.DrainArea = 1e-9;
        transistor.SourceArea = 2e-9;
        transistor.DrainPerimeter = 1e-3;
        transistor.SourcePerimeter = 1e-3;
        return transistor;
    }
}
