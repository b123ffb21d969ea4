using BoardSim.Blocks;
using BoardSim.Blocks.AcLoads;
using BoardSim.Blocks.Chambers;
using BoardSim.Blocks.Converters;
using BoardSim.Blocks.Lines;
using BoardSim.Blocks.Motors;
using BoardSim.Blocks.Processors;
using BoardSim.Blocks.Rectifiers;
using BoardSim.Blocks.Regulators;
using BoardSim.Blocks.Relays;
using BoardSim.Blocks.Selectors;
using BoardSim.Blocks.Sensors;
using BoardSim.Blocks.SerialLinks;
using BoardSim.Blocks.Thermistors;
using BoardSim.Blocks.Transformers;
using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Faults;
using BoardSim.Measurement;
using BoardSim.Tests.Blocks;

namespace BoardSim.Tests.Faults;

/// <summary>
/// Every fault of every block: what it does to the number that gives it away. The signs are common practice (no source); a
/// fault with a severity has to show more of its symptom the worse it is.
/// </summary>
public class BlockFaultTests
{
    private const double Year = 31_557_600;

    // Symptom, then the severities from mild to bad; the symptom has to grow along them, from the healthy board's on.
    private static readonly Symptom[] Symptoms =
    [
        Of<BridgeBulk>("limiter-open", "bulk voltage lost", r => -r.V("bulk").Mean()),
        Of<BridgeBulk>("limiter-bypassed", "first charge", r => r.I("line").Peak().Value, whole: true),
        Of<BridgeBulk>("limiter-drifted", "bulk voltage lost", r => -r.V("bulk").Mean(), 1.5, 6),
        Of<BridgeBulk>("limiter-wrong-part", "first charge", r => r.I("line").Peak().Value, whole: true, 5, 1),
        .. new[] { "d1", "d2", "d3", "d4" }.SelectMany(d => new[]
        {
            Of<BridgeBulk>($"diode-{d}-open", "ripple", r => r.V("bulk").PeakToPeak()),
            Of<BridgeBulk>($"diode-{d}-shorted", "line current", r => r.I("line").Rms()),
        }),
        Of<BridgeBulk>("bulk-esr-high", "ripple", r => r.V("bulk").PeakToPeak(), 5, 15, 40),
        Of<BridgeBulk>("bulk-capacitance-lost", "ripple", r => r.V("bulk").PeakToPeak(), 0.8, 0.3, 0.1),
        Of<BridgeBulk>("bulk-leaky", "line current", r => r.I("line").Rms(), 20e3, 2e3),
        Of<BridgeBulk>("bulk-shorted", "line current", r => r.I("line").Rms()),
        Of<BridgeBulk>("bulk-open", "ripple", r => r.V("bulk").PeakToPeak()),

        Of<BridgeBulk>("aged-in-service", "ripple", r => r.V("bulk").PeakToPeak(), 20 * Year, 50 * Year),

        Of<TransformerSupply>("primary-open", "output lost", r => -r.V("unregulated").Mean()),
        Of<TransformerSupply>("secondary-open", "output lost", r => -r.V("unregulated").Mean()),
        Of<TransformerSupply>("shorted-turns", "primary current", r => r.I("primary").Rms(), 0.02, 0.1),
        .. new[] { "d1", "d2", "d3", "d4" }.SelectMany(d => new[]
        {
            Of<TransformerSupply>($"diode-{d}-open", "ripple", r => r.V("unregulated").PeakToPeak()),
            Of<TransformerSupply>($"diode-{d}-shorted", "primary current", r => r.I("primary").Rms()),
        }),
        Of<TransformerSupply>("reservoir-esr-high", "ripple", r => r.V("unregulated").PeakToPeak(), 0.5, 3),
        Of<TransformerSupply>("reservoir-capacitance-lost", "ripple", r => r.V("unregulated").PeakToPeak(), 0.6, 0.2),
        Of<TransformerSupply>("reservoir-open", "ripple", r => r.V("unregulated").PeakToPeak()),
        Of<TransformerSupply>("aged-in-service", "ripple", r => r.V("unregulated").PeakToPeak(), 20 * Year, 50 * Year),

        Of<Regulator5V>("open", "output lost", r => -r.V("output").Mean()),
        Of<Regulator5V>("shorted-through", "output too high", r => r.V("output").Mean(), 5, 0.2),
        Of<Regulator5V>("weak", "output lost", r => -r.V("output").Mean(), 0.15, 0.05),
        Of<Regulator5V>("ground-open", "output too high", r => r.V("output").Mean()),
        Of<Regulator5V>("heat-sink-loose", "junction too hot", r => r.StateAtRest("junction-temperature"), 90, 120),
        Of<Regulator5V>("output-capacitance-lost", "dip at a load step", r => r.V("output").PeakToPeak(), 0.01, 0.001),
        Of<Regulator5V>("output-esr-high", "dip at a load step", r => r.V("output").PeakToPeak(), 1, 10),
        Of<Regulator5V>("output-capacitor-open", "dip at a load step", r => r.V("output").PeakToPeak()),
        Of<Regulator5V>("input-capacitor-open", "current of the input capacitor lost", r => -r.I("input-capacitor").Rms()),

        Of<ProcessorSupply>("reset-threshold-drifted", "command lost", r => -r.V("out1").Mean(), 5.2),
        Of<ProcessorSupply>("brown-out-detector-dead", "command stays on after a dip", r => r.V("out1").At(0.24)),
        Of<ProcessorSupply>("reset-line-leaky", "command lost", r => -r.V("out1").Mean(), 12e3),
        Of<ProcessorSupply>("reset-line-held-low", "command lost", r => -r.V("out1").Mean()),
        Of<ProcessorSupply>("decoupling-open", "current of the decoupling capacitor lost", r => -r.I("decoupling").Rms()),
        Of<ProcessorSupply>("time-base-off", "command too long", r => r.V("out1").Mean(), 0.8, 0.6),
        Of<ProcessorSupply>("time-base-dead", "command lost", r => -r.V("out1").Mean()),
        Of<ProcessorSupply>("out1-weak", "level lost", r => -r.V("out1").Maximum().Value, 400, 3000),
        Of<ProcessorSupply>("out1-stuck-high", "level while it should be low", r => r.V("out1").At(0.24), 50, 3),
        Of<ProcessorSupply>("out1-stuck-low", "level lost", r => -r.V("out1").Maximum().Value, 200, 3),

        Of<FlybackOutput>("output-esr-high", "ripple", r => r.V("output").PeakToPeak(), 0.1, 0.5),
        Of<FlybackOutput>("output-capacitance-lost", "ripple", r => r.V("output").PeakToPeak(), 0.05, 0.01),
        Of<FlybackOutput>("output-capacitor-open", "ripple", r => r.V("output").PeakToPeak()),
        Of<FlybackOutput>("aged-in-service", "ripple", r => r.V("output").PeakToPeak(), 20 * Year, 50 * Year),
        Of<FlybackOutput>("rectifier-open", "output lost", r => -r.V("output").Mean()),
        Of<FlybackOutput>("rectifier-shorted", "primary current", r => r.I("primary").Maximum().Value),
        Of<FlybackOutput>("rectifier-leaky", "output lost", r => -r.V("output").Mean(), 200, 20),
        Of<FlybackOutput>("clamp-open", "drain spike", r => r.V("drain").Maximum().Value),
        Of<FlybackOutput>("switch-shorted", "input current", r => r.I("input").Mean()),
        Of<FlybackOutput>("switch-open", "output lost", r => -r.V("output").Mean()),
        Of<FlybackOutput>("shorted-turns", "primary current", r => r.I("primary").Maximum().Value, 0.005, 0.03),
        Of<FlybackOutput>("overload", "output lost", r => -r.V("output").Mean(), 6, 2),

        Of<ThermistorInput>("sensor-open", "indicated too cold", r => -r.Error),
        Of<ThermistorInput>("sensor-shorted", "indicated too warm", r => r.Error),
        Of<ThermistorInput>("sensor-drifted", "indicated too cold", r => -r.Error, 1.05, 1.3, 2),
        Of<ThermistorInput>("sensor-beta-shifted", "indicated too cold at 40 degC", r => -r.Error, -200, -800),
        Of<ThermistorInput>("connector-damp", "indicated too warm", r => r.Error, 100e3, 20e3, 5e3),
        Of<ThermistorInput>("connector-corroded", "indicated too cold", r => -r.Error, 300, 3000),
        Of<ThermistorInput>("divider-drifted", "indicated too warm", r => r.Error, 1.1, 1.5),
        Of<ThermistorInput>("firmware-wrong-curve", "indicated too warm at 40 degC", r => r.Error, 3600, 3000),

        Of<MainsOutlet>("earth-open", "neutral against earth", r => r.V("neutral").Rms()),
        Of<MainsOutlet>("neutral-loose", "neutral against earth", r => r.V("neutral").Rms(), 10, 50),
        Of<MainsOutlet>("line-weak", "line voltage lost", r => -r.V("line").Rms(), 20, 100),

        Of<LineEntry>("fuse-open", "line voltage lost", r => -r.V("output").Rms()),
        Of<LineEntry>("fuse-wrong", "melting", r => r.S("fuse-melting").Maximum().Value, 3, 0.3),
        Of<LineEntry>("varistor-leaky", "line current", r => r.I("line").Rms(), 2000, 500),
        Of<LineEntry>("varistor-worn", "varistor current", r => r.I("varistor").Rms(), 0.7, 0.6),
        Of<LineEntry>("varistor-shorted", "fuse opens", r => r.S("fuse-open").Maximum().Value, 0.1),
        Of<LineEntry>("varistor-open", "let-through of a surge", r => r.V("output").Maximum().Value),
        Of<LineEntry>("x-faded", "capacitor's current lost", r => -r.I("x-capacitor").Rms(), 0.5, 0.1),
        Of<LineEntry>("x-shorted", "fuse opens", r => r.S("fuse-open").Maximum().Value),
        Of<LineEntry>("bleeder-open", "pulled plug stays charged", r => Math.Abs(r.V("fused").At(0.14))),
        Of<LineEntry>("y-open", "current to earth lost", r => -r.I("earth-from-line").Rms()),
        Of<LineEntry>("y-leaky", "current to earth", r => r.I("earth").Rms(), 100e3, 10e3),
        Of<LineEntry>("choke-open", "line voltage lost", r => -r.V("output").Rms()),
        Of<LineEntry>("choke-shorted", "common-mode noise at the line", r => r.Noise(150e3), 0.1),
        Of<LineEntry>("y2-open", "common-mode noise on neutral", r => r.NoiseOnNeutral(1e6)),
        Of<LineEntry>("y2-leaky", "current to earth", r => r.I("earth").Rms(), 100, 10),
        Of<LineEntry>("choke2-open", "line voltage lost", r => -r.V("output").Rms()),
        Of<LineEntry>("choke2-shorted", "common-mode noise at the line", r => r.Noise(150e3), 0.1),
        Of<LineEntry>("terminal-loose", "line voltage lost", r => -r.V("output").Rms(), 10, 50),

        Of<FlybackSupply>("output-esr-high", "dip at a load step", r => r.V("rectified").PeakToPeak(), 0.5, 3),
        Of<FlybackSupply>("output-capacitance-lost", "dip at a load step", r => r.V("rectified").PeakToPeak(), 0.3, 0.05),
        Of<FlybackSupply>("vcc-esr-high", "dip of the controller's supply", r => -r.V("vcc").Slice(0.7, 0.9).Minimum().Value, whole: true, 1300, 1600),
        Of<FlybackSupply>("vcc-capacitance-lost", "charges too fast", r => r.V("vcc").At(0.1), whole: true, 0.5, 0.25),
        Of<FlybackSupply>("output-aged-in-service", "dip at a load step", r => r.V("rectified").PeakToPeak(), 3 * Year, 6 * Year),
        Of<FlybackSupply>("vcc-aged-in-service", "charges too fast", r => r.V("vcc").At(0.1), whole: true, 1 * Year, 3 * Year),
        Of<FlybackSupply>("filter-open", "rail lost", r => -r.V("rail").Mean()),
        Of<FlybackSupply>("opto-led-open", "rail too high", r => r.V("rail").Maximum().Value, whole: true),
        Of<FlybackSupply>("opto-transistor-open", "rail too high", r => r.V("rail").Maximum().Value, whole: true),
        Of<FlybackSupply>("opto-transistor-shorted", "rail lost", r => -r.V("rail").Mean(), 10),
        Of<FlybackSupply>("opto-transfer-low", "LED current", r => r.I("led").Mean(), 0.5, 0.1),
        Of<FlybackSupply>("divider-upper-drifted", "rail too high", r => r.V("rail").Mean(), 1.1, 1.3),
        Of<FlybackSupply>("divider-lower-drifted", "rail too low", r => -r.V("rail").Mean(), 1.1, 1.3),
        Of<FlybackSupply>("reference-shorted", "rail too low", r => -r.V("rail").Mean(), 5),
        Of<FlybackSupply>("start-resistor-open", "no start", r => -r.V("vcc").Maximum().Value, whole: true),
        Of<FlybackSupply>("start-resistor-drifted", "late start", r => -r.V("vcc").At(0.5), whole: true, 2, 6),
        Of<FlybackSupply>("sense-drifted", "highest rail of any attempt lost", r => -r.V("rail").Maximum().Value, whole: true, 1.7, 2.5),
        Of<FlybackSupply>("rail-overloaded", "rail lost", r => -r.V("rail").Mean(), 1),

        Of<Heater>("element-open", "current lost", r => -r.I("element").Rms()),
        Of<Heater>("element-shorted", "current", r => r.I("element").Rms(), 0.8, 0.4),
        Of<Heater>("terminal-burnt", "current lost", r => -r.I("element").Rms(), 10, 60),

        Of<SwitchedLoad>("contact-worn", "volts across the contact", r => r.V("contact-drop").Slice(0.1, 0.35).Rms(), 0.02, 0.06),
        Of<SwitchedLoad>("contact-welded", "current after the command", r => r.I("load").Slice(0.42, 0.449).Rms()),
        Of<SwitchedLoad>("contact-never-closes", "current lost", r => -r.I("load").Rms()),
        Of<SwitchedLoad>("joint-resistance-high", "joint too hot", r => r.S("joint-temperature").Maximum().Value, 10e-3, 40e-3),
        Of<SwitchedLoad>("joint-cracked", "current lost", r => -r.I("load").Rms(), 373.15, 348.15),
        Of<SwitchedLoad>("coil-open", "current lost", r => -r.I("load").Rms()),
        Of<SwitchedLoad>("element-open", "current lost", r => -r.I("load").Rms()),

        Of<SolenoidValve>("plunger-stuck", "current", r => r.I("winding").Rms(), 0.5, 0),
        Of<SolenoidValve>("shorted-turns", "current", r => r.I("winding").Rms(), 0.05, 0.3),
        Of<SolenoidValve>("winding-open", "current lost", r => -r.I("winding").Rms()),
        Of<SolenoidValve>("shading-ring-broken", "least pull lost", r => -r.S("force").Minimum().Value, 1e-3, 10e-6),
        Of<SolenoidValve>("pressure-too-high", "current", r => r.I("winding").Rms(), 12),

        Of<AcMotor>("capacitor-faded", "speed lost", r => -r.S("speed").Mean(), 0.5, 0.25),
        Of<AcMotor>("capacitor-open", "speed lost", r => -r.S("speed").Mean()),
        Of<AcMotor>("capacitor-shorted", "current of the start winding", r => r.I("start").Rms(), 0.5),
        Of<AcMotor>("start-winding-open", "speed lost", r => -r.S("speed").Mean()),
        Of<AcMotor>("run-winding-open", "speed lost", r => -r.S("speed").Mean()),
        Of<AcMotor>("rotor-locked", "current", r => r.I("line").Rms()),
        Of<AcMotor>("bearing-drag", "speed lost", r => -r.S("speed").Mean(), 0.05, 0.2),

        Of<MotorReversal>("capacitor-faded", "run-up lost", r => -r.S("speed").At(0.1), 0.7, 0.1),
        Of<MotorReversal>("capacitor-open", "speed forwards lost", r => -r.S("speed").Slice(0.4, 0.5).Mean()),
        Of<MotorReversal>("capacitor-shorted", "speed forwards lost", r => -r.S("speed").Slice(0.4, 0.5).Mean(), 0.5),
        Of<MotorReversal>("forward-coil-open", "speed forwards lost", r => -r.S("speed").Slice(0.4, 0.5).Mean()),
        Of<MotorReversal>("reverse-coil-open", "speed in reverse lost", r => r.S("speed").Slice(1.2, 1.3).Mean()),
        Of<MotorReversal>("forward-contact-welded", "speed without a command", r => r.S("speed").Slice(0.7, 0.8).Mean()),
        Of<MotorReversal>("reverse-contact-welded", "speed in reverse without a command", r => -r.S("speed").Slice(0.7, 0.8).Mean()),
        Of<MotorReversal>("forward-contact-never-closes", "speed forwards lost", r => -r.S("speed").Slice(0.4, 0.5).Mean()),
        Of<MotorReversal>("reverse-contact-never-closes", "speed in reverse lost", r => r.S("speed").Slice(1.2, 1.3).Mean()),
        Of<MotorReversal>("winding-1-open", "speed forwards lost", r => -r.S("speed").Slice(0.4, 0.5).Mean()),
        Of<MotorReversal>("winding-2-open", "speed forwards lost", r => -r.S("speed").Slice(0.4, 0.5).Mean()),
        Of<MotorReversal>("gear-stuck", "speed forwards lost", r => -r.S("speed").Slice(0.4, 0.5).Mean()),
        Of<MotorReversal>("gear-drag", "speed forwards lost", r => -r.S("speed").Slice(0.4, 0.5).Mean(), 3e-3, 20e-3),

        Of<HeatedChamber>("door-ajar", "air too cold", r => -r.AtRest("air-temperature"), 2, 10),
        Of<HeatedChamber>("insulation-wet", "air too cold", r => -r.AtRest("air-temperature"), 1.5, 4),
        Of<HeatedChamber>("air-not-moving", "element too hot", r => r.AtRest("heater-temperature"), 0.5, 0.1),

        Of<ActuatorBridge>("a-high-open", "vent does not open", r => -r.S("vent-position").Maximum().Value),
        Of<ActuatorBridge>("b-low-open", "vent does not open", r => -r.S("vent-position").Maximum().Value),
        Of<ActuatorBridge>("a-low-open", "vent does not close", r => r.S("vent-position").At(8.5)),
        Of<ActuatorBridge>("b-high-open", "vent does not close", r => r.S("vent-position").At(8.5)),
        Of<ActuatorBridge>("a-high-shorted", "rail current while closing", r => r.I("rail").At(6), 3, 0.1),
        Of<ActuatorBridge>("b-low-shorted", "rail current while closing", r => r.I("rail").At(6), 3, 0.1),
        Of<ActuatorBridge>("a-low-shorted", "rail current while opening", r => r.I("rail").At(2), 3, 0.1),
        Of<ActuatorBridge>("b-high-shorted", "rail current while opening", r => r.I("rail").At(2), 3, 0.1),
        Of<ActuatorBridge>("dead-time-lost", "charge through one side when the brake comes", r => r.I("a-low").Slice(4.1, 4.1 + 10e-6).Mean(), 4e-6, 6e-6),
        Of<ActuatorBridge>("control-a-open", "vent does not open", r => -r.S("vent-position").Maximum().Value),
        Of<ActuatorBridge>("control-b-open", "vent does not close", r => r.S("vent-position").At(8.5)),
        Of<ActuatorBridge>("motor-open", "current lost", r => -r.I("motor").Rms()),
        Of<ActuatorBridge>("motor-shorted-turns", "current while it moves", r => r.I("motor").Slice(1, 2).Mean(), 0.1, 0.4),
        Of<ActuatorBridge>("plug-corroded", "current at the start lost", r => -r.I("motor").Slice(0.1, 0.2).Maximum().Value, 20, 100),
        Of<ActuatorBridge>("vent-jammed", "vent does not open all the way", r => -r.S("vent-position").Maximum().Value, 60, 20),
        Of<ActuatorBridge>("vent-stiff", "current while it moves", r => r.I("motor").Slice(1, 2).Mean(), 1e-3, 3e-3),
        Of<ActuatorBridge>("end-stop-broken", "vent opens too far", r => r.S("vent-position").Maximum().Value, 10, 40),

        Of<FanDrive>("bearing-drag", "speed lost", r => -r.S("fan-speed").Maximum().Value, 2e-3, 5e-3),
        Of<FanDrive>("winding-open", "speed lost", r => -r.S("fan-speed").Maximum().Value),
        Of<FanDrive>("winding-shorted", "current of the fan in the end", r => r.I("motor").At(0.99), 0.1, 0.5),
        Of<FanDrive>("buffer-open", "speed lost", r => -r.S("fan-speed").Maximum().Value),
        Of<FanDrive>("buffer-shorted", "turns without pulses", r => r.S("fan-speed").Maximum().Value, 100, 1),
        Of<FanDrive>("level-shifter-open", "speed lost", r => -r.S("fan-speed").Maximum().Value),
        Of<FanDrive>("level-shifter-shorted", "turns without pulses", r => r.S("fan-speed").Maximum().Value, 30e3, 10),
        Of<FanDrive>("resistor-drifted", "speed lost", r => -r.S("fan-speed").Maximum().Value, 2, 10),
        Of<FanDrive>("fan-capacitor-open", "ripple of the torque", r => r.S("fan-torque").Slice(0.05, 0.1).PeakToPeak()),
        Of<FanDrive>("tachometer-dead", "pulses lost", r => -r.V("tacho").PeakToPeak()),
        Of<FanDrive>("pull-up-open", "pulses lost", r => -r.V("tacho").PeakToPeak()),
        Of<FanDrive>("rail-ripple", "ripple of the torque in the end", r => r.S("fan-torque").Slice(0.9, 1).PeakToPeak(), 0.3, 2),
        .. Enumerable.Range(1, 4).SelectMany(n => new[]
        {
            Of<SensorInputs>($"sensor{n}-open", "indicated too cold", r => -r.StateAtRest($"error-{n}")),
            Of<SensorInputs>($"sensor{n}-shorted", "indicated too warm", r => r.StateAtRest($"error-{n}"), 0.5),
            Of<SensorInputs>($"sensor{n}-drifted", "indicated too cold", r => -r.StateAtRest($"error-{n}"), 1.1, 1.3, 2),
            Of<SensorInputs>($"connector{n}-damp", "indicated too warm", r => r.StateAtRest($"error-{n}"), 20e3, 2e3),
            Of<SensorInputs>($"connector{n}-corroded", "indicated too cold", r => -r.StateAtRest($"error-{n}"), 300, 3000),
        }),
        Of<SensorInputs>("common-resistance-high", "indicated too warm", r => r.StateAtRest("error-1"), 100, 1000),
        Of<SensorInputs>("common-capacitor-leaky", "indicated too warm", r => r.StateAtRest("error-1"), 1000, 100),
        Of<SensorInputs>("reference-off", "indicated too warm", r => r.StateAtRest("error-1"), 0.01, 0.03),

        .. Enumerable.Range(0, 4).SelectMany(k => Enumerable.Range(1, 2).SelectMany(n => new[]
        {
            Of<SelectorSwitches>($"selector{n}-contact{k}-dirty", "wrong position", r => r.WrongPositions, 20e3),
            Of<SelectorSwitches>($"diode{n}{k}-shorted", "wrong position", r => r.WrongPositions, 1),
            Of<SelectorSwitches>($"diode{n}{k}-open", "wrong position", r => r.WrongPositions),
        })),
        .. Enumerable.Range(0, 4).SelectMany(k => new[]
        {
            Of<SelectorSwitches>($"line{k}-open", "wrong position", r => r.WrongPositions),
            Of<SelectorSwitches>($"line{k}-shorted", "wrong position", r => r.WrongPositions, 10),
            Of<SelectorSwitches>($"line{k}-pull-up-lost", "wrong position", r => r.WrongPositions),
        }),
        .. Enumerable.Range(0, 3).Select(k => Of<SelectorSwitches>($"lines-{k}-{k + 1}-bridged", "wrong position", r => r.WrongPositions, 1)),
        .. Enumerable.Range(1, 2).SelectMany(n => new[]
        {
            Of<SelectorSwitches>($"enable{n}-stuck-low", "wrong position", r => r.WrongPositions, 2),
            Of<SelectorSwitches>($"enable{n}-stuck-high", "wrong position", r => r.WrongPositions, 2),
            Of<SelectorSwitches>($"enable{n}-open", "wrong position", r => r.WrongPositions),
        }),
        Of<SelectorSwitches>("firmware-wrong-table", "wrong position", r => r.WrongPositions),

        Of<SerialLink>("line-stuck-low", "frames lost", r => r.S("lost-frames").Maximum().Value, 2),
        Of<SerialLink>("line-stuck-high", "frames lost", r => r.S("lost-frames").Maximum().Value, 2),
        Of<SerialLink>("line-leaky", "high level lost", r => -r.V("line").Maximum().Value, 100e3, 20e3, 5e3),
        Of<SerialLink>("pull-up-lost", "frames lost", r => r.S("lost-frames").Maximum().Value),
        Of<SerialLink>("pull-up-drifted", "margin of highs lost", r => -r.S("margin-high").At(15e-3), 10, 40),
        Of<SerialLink>("slow-edges", "margin of highs lost", r => -r.S("margin-high").At(15e-3), 7e-9, 15e-9),
        Of<SerialLink>("ground-corroded", "margin of lows lost", r => -r.S("margin-low").At(15e-3), 1, 3),
        Of<SerialLink>("line-open", "frames lost", r => r.S("lost-frames").Maximum().Value),
        Of<SerialLink>("sender-weak", "low level lifted", r => r.V("line").Minimum().Value, 500, 3300),
        Of<SerialLink>("sender-dead", "frames lost", r => r.S("lost-frames").Maximum().Value),
        Of<SerialLink>("receiver-clock-off", "frames misread", r => r.S("misread-frames").Maximum().Value, 0.08),

        Of<RelayDriver>("transistor-open", "contact voltage lost", r => -r.V("contact").Mean()),
        Of<RelayDriver>("transistor-shorted", "coil current", r => r.I("coil").Mean(), 1000, 1),
        Of<RelayDriver>("transistor-weak", "collector voltage while on", r => r.V("collector").At(40e-3), 25, 10),
        Of<RelayDriver>("base-resistor-open", "contact voltage lost", r => -r.V("contact").Mean()),
        Of<RelayDriver>("free-wheel-open", "collector peak", r => r.V("collector").Maximum().Value),
        Of<RelayDriver>("free-wheel-shorted", "rail current", r => r.I("rail").At(40e-3)),
        Of<RelayDriver>("coil-open", "coil current lost", r => -r.I("coil").Mean()),
        Of<RelayDriver>("coil-shorted-turns", "coil current", r => r.I("coil").At(40e-3), 0.1, 0.5),
        Of<RelayDriver>("contact-worn", "load voltage lost", r => -r.V("contact").At(40e-3), 50, 500),
        Of<RelayDriver>("contact-welded", "load on before its time", r => r.V("contact").At(1e-3)),
        Of<RelayDriver>("contact-never-closes", "load voltage lost", r => -r.V("contact").At(40e-3)),
        Of<RelayDriver>("rail-sagging", "coil current lost", r => -r.I("coil").At(40e-3), 10.5, 7),
    ];

    public static TheoryData<string, string> Names
    {
        get
        {
            var data = new TheoryData<string, string>();
            foreach (var (block, fault) in Pairs)
            {
                data.Add(block, fault);
            }

            return data;
        }
    }

    /// <summary>Blocks and faults that are run here.</summary>
    internal static IEnumerable<(string Block, string Fault)> Pairs => Symptoms.Select(s => (s.Block, s.Fault));

    [Fact]
    public void Every_fault_has_a_symptom_here() => Assert.Equal(
        BlockCatalogue.All.SelectMany(b => b.Faults.Select(f => $"{b.Id} {f.Id}")).Order(StringComparer.Ordinal),
        Symptoms.Select(s => $"{s.Block} {s.Fault}").Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(Names))]
    public void Symptom_grows_from_healthy_to_bad(string block, string fault)
    {
        var symptom = Symptoms.Single(s => s.Block == block && s.Fault == fault);
        var values = new List<double> { symptom.Take(null) };
        if (symptom.Severities.Length == 0)
        {
            values.Add(symptom.Take((fault, null)));
        }

        values.AddRange(symptom.Severities.Select(s => symptom.Take((fault, s))));

        // By more than any solver tolerance.
        var least = 0.005 * values.Max(Math.Abs);
        for (var k = 1; k < values.Count; k++)
        {
            Assert.True(values[k] > values[k - 1] + least, $"{symptom.What}: {string.Join(", ", values)}");
        }
    }

    private static Symptom Of<T>(string fault, string what, Func<Outcome, double> measure, params double[] severities)
        where T : Block, new() => Of<T>(fault, what, measure, false, severities);

    private static Symptom Of<T>(string fault, string what, Func<Outcome, double> measure, bool whole, params double[] severities)
        where T : Block, new() => new(new T().Id, fault, what, severities, set =>
    {
        var block = new T();
        if (block is ThermistorInput sensor)
        {
            sensor.Temperature = 273.15 + 40;
        }

        if (block is SelectorSwitches selectors)
        {
            (selectors.Position1, selectors.Position2) = Telling(fault);
        }

        if (block is Regulator5V regulator)
        {
            regulator.StepAt = 30e-3;
        }

        if (block is ProcessorSupply processor)
        {
            // On from 47 ms until a dip at 65 ms, and once more from 130 to 170 ms.
            (processor.Out1OffAt, processor.DipAt, processor.DipVoltage, processor.DipFor) = (60e-3, 65e-3, 3, 20e-3);
        }

        if (block is FlybackSupply supply)
        {
            (supply.StepAt, supply.StepFor) = (0.98, 30e-3);

            // In the warm, years are enough.
            (supply.OutputTemperature, supply.VccTemperature) = fault.EndsWith("aged-in-service", StringComparison.Ordinal) ? (358.15, 358.15) : (298.15, 298.15);
        }

        if (block is FanDrive fan)
        {
            // Steady, but where the pulses or their absence are what the fault shows in.
            fan.Control = SpeedControl.OpenLoop;
            (fan.Duty, fan.RunFor) = fault switch
            {
                "buffer-shorted" or "level-shifter-shorted" => (0, 1),
                "fan-capacitor-open" => (0.5, 0.1),
                _ => (1, 1),
            };
        }

        if (block is SwitchedLoad load)
        {
            // Warm within a tenth of a second.
            (load.JointHeatCapacity, load.ContactHeatCapacity) = (2e-3, 2e-3);
        }

        if (block is LineEntry entry)
        {
            entry.Noise = fault is "choke-shorted" or "choke2-shorted" or "y2-open" ? NoiseKind.CommonMode : NoiseKind.None;
            entry.SurgeLevel = fault is "varistor-open" ? 1000 : null;
            if (fault == "bleeder-open")
            {
                (entry.UnplugAt, entry.LoadResistance) = (40e-3, 1e7);
            }
        }

        var board = block.Build();
        if (set is { } s)
        {
            Assert.Equal(block.Fault(s.Fault).Severity is null, s.Severity is null);
            board = board.With(block.Fault(s.Fault), s.Severity);
        }

        return measure(new Outcome(board, whole));
    });

    /// <summary>Positions of the two selectors at which a fault shows.</summary>
    private static (double First, double Second) Telling(string fault)
    {
        var bit = fault.FirstOrDefault(char.IsAsciiDigit) - '0';
        if (fault.StartsWith("diode", StringComparison.Ordinal) && fault.EndsWith("shorted", StringComparison.Ordinal))
        {
            // The switch with the shorted diode has all contacts closed, the other one the one of that line.
            var other = 1 << (fault[6] - '0');
            return bit == 1 ? (15, other) : (other, 15);
        }

        return fault switch
        {
            _ when fault.StartsWith("line", StringComparison.Ordinal) && fault.EndsWith("bridged", StringComparison.Ordinal) => (1 << (fault[6] - '0'), 0),
            _ when fault.EndsWith("pull-up-lost", StringComparison.Ordinal) => (15, 0),
            _ when fault.StartsWith("line", StringComparison.Ordinal) && fault.EndsWith("shorted", StringComparison.Ordinal) => (0, 0),
            "enable1-stuck-low" => (15, 0),
            "enable2-stuck-low" => (0, 15),
            _ => (15, 15),
        };
    }

    private sealed record Symptom(string Block, string Fault, string What, double[] Severities, Func<(string Fault, double? Severity)?, double> Take);

    /// <summary>What a board shows: waveforms when it runs over time, the program's reading when it is at rest.</summary>
    private sealed class Outcome(Board board, bool whole)
    {
        // A switching converter shows its faults long before its output has settled to the last millivolt.
        private readonly Lazy<Bench> run = new(() => board.SwitchingFrequency is { } f
            ? Bench.Run(board, 120 / f, 130 / f)
            : Bench.Run(board, whole ? 0 : null));

        /// <summary>Indicated less true temperature in kelvin.</summary>
        public double Error
        {
            get
            {
                var readout = board.Readout("indicated-temperature");
                return readout.Convert(OperatingPoint.Solve(new CircuitSystem(board.Circuit)).Voltage(readout.Node, readout.ReferenceNode)) - readout.TrueValue!.Value;
            }
        }

        /// <summary>A readout at the operating point.</summary>
        public double AtRest(string name)
        {
            var readout = board.Readout(name);
            return readout.Convert(OperatingPoint.Solve(new CircuitSystem(board.Circuit)).Voltage(readout.Node, readout.ReferenceNode));
        }

        /// <summary>A state at the operating point.</summary>
        public double StateAtRest(string name)
        {
            var state = board.State(name);
            return OperatingPoint.Solve(new CircuitSystem(board.Circuit)).State(state.Part, state.State);
        }

        /// <summary>By how many positions the program takes the two selectors for others than they are, at the end of the run.</summary>
        public double WrongPositions =>
            Enumerable.Range(1, 2).Sum(n => Math.Abs(S($"position-{n}").Values[^1] - S($"true-position-{n}").Values[^1]));

        /// <summary>Volts at the receiver of a line impedance network for a volt of noise behind the filter, at a frequency.</summary>
        public double Noise(double hertz) =>
            AcAnalysis.Run(new CircuitSystem(board.Circuit), [hertz], [Probe.Voltage(board.TestPoint("receiver").Node)]).Values(0)[0].Magnitude;

        /// <summary>The same on the neutral conductor.</summary>
        public double NoiseOnNeutral(double hertz) =>
            AcAnalysis.Run(new CircuitSystem(board.Circuit), [hertz], [Probe.Voltage(board.TestPoint("receiver-of-neutral").Node)]).Values(0)[0].Magnitude;

        public Waveform V(string point) => run.Value.V(point);

        public Waveform I(string point) => run.Value.I(point);

        public Waveform S(string state) => run.Value.S(state);
    }
}
