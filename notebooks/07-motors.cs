#:project ../src/BoardSim.Reports/BoardSim.Reports.csproj

// %% [markdown]
// # Motors: what turns them, what stops them
//
// A proofing cabinet has four kinds: a circulating fan with a run capacitor, a drain pump with a start relay, a vent that two relays drive
// forwards and back, and on the low-voltage side a vent with gears and a fan with a tachometer. All of them are told by two numbers:
// torque against load, and current. A motor that stands with its volts on takes several times its running current.
//
// The first three are line side.

// %%
using BoardSim.Blocks.AcLoads;
using BoardSim.Blocks.Motors;
using BoardSim.Boards;
using BoardSim.Reports.Notebooks;

var page = new NotebookPage("out/notebooks/07-motors");
var fan = new AcMotor();
Console.WriteLine(fan.Topology);
NotebookPage.Caution(Cautions.For(fan.Build()));

// %% [markdown]
// ## Starting torque is what the capacitor gives
//
// One winding makes a field that swings; it takes a second one, out of step, to make it turn. At standstill the capacitor's reactance (663 ohm for
// 4 uF at 60 Hz) is far above that of everything else in the start winding's path. So half the capacitance is half its current, and half the
// torque. The rotor is too heavy to turn here, so that it is held, as by a scale at the shaft.

// %%
page.Run("torque", """
    title: Starting torque over what is left of the capacitor
    block: ac-motor
    values: {load.inertia: 10 kgm2}
    run: {stop: 250 ms}
    observe:
      torque: {label: Torque, state: torque}
    metrics:
      start-torque: {label: Torque at standstill, take: mean, of: torque, over: last 6 line cycles}
    conditions:
      healthy: {label: New capacitor}
      faded: {label: Faded capacitor, faults: {capacitor-faded: 0.5}}
    sweep: {severity-of: capacitor-faded, label: Capacitance left, from: 0.1, to: 1, count: 10, conditions: [faded], record: [start-torque]}
    expect:
      - {that: start-torque of faded at 0.5 / start-torque of healthy between 0.44 and 0.52, why: "1/(1326 - 60) against 1/(663 - 60) ohm of reactance are 0.476; the start winding leads by a few degrees more besides, which is further beyond the right angle."}
      - {that: start-torque of faded rises over the sweep, why: More current in the start winding.}
    figures:
      torque: {kind: sweep, title: Torque at standstill, show: [start-torque]}
    """);

// %% [markdown]
// A fan's blades take nothing at standstill, so a fan starts with little. Its bearing is what decides. With half the capacitance a
// sound fan runs up more slowly and then runs as ever; with a dragging bearing as well it hums.

// %%
page.Run("fade", """
    title: Half a capacitor, and a bearing
    block: ac-motor
    run: {stop: 1.5 s}
    observe:
      speed: {label: Speed, state: speed}
      line: {label: Motor current, current: line}
    metrics:
      up: {label: 1500 rpm after, take: time-to-rise, of: speed, with: {level: 1500 rpm}}
      amperes: {label: Current at the end, take: rms, of: line, over: last 6 line cycles}
      settled: {label: Speed at the end, take: mean, of: speed, over: last 6 line cycles}
    conditions:
      healthy: {label: In order}
      half: {label: Half the capacitance, faults: {capacitor-faded: 0.5}}
      both: {label: Half and a dragging bearing, faults: {capacitor-faded: 0.5, bearing-drag: 60 mNm}}
    expect:
      - {that: up of half > up of healthy, why: Half the torque.}
      - {that: settled of half > 1500 rpm, why: At speed the run winding alone does nearly all.}
      - {that: settled of both < 30 rpm, why: "55 mNm against 70."}
      - {that: amperes of both / amperes of healthy > 2, why: A standing motor is a transformer with a shorted secondary.}
    figures:
      start: {kind: waveforms, title: "In order, slow, humming", show: [speed], call-outs: [{metric: up}, {metric: amperes}]}
    """);

// %% [markdown]
// ## A start relay has half a second
//
// The drain pump's start winding is thin wire: its resistance makes the phase, and its resistance makes it hot. A relay
// in the run winding's current puts it on while that is high and takes it off at speed. Heat capacities are a twentieth of the real
// ones here, so seconds stand for a minute.

// %%
page.Run("relay", """
    title: The start relay lets go, sticks, or never comes
    block: ac-motor
    values: {kind: split-phase, run.heat-capacity: 12 J/K, start.heat-capacity: 3 J/K}
    run: {stop: 2 s}
    observe:
      speed: {label: Speed, state: speed}
      line: {label: Motor current, current: line}
      heat: {label: Start winding, state: start-temperature}
    metrics:
      up: {label: 1500 rpm after, take: time-to-rise, of: speed, with: {level: 1500 rpm}}
      hottest: {label: Start winding at the end, take: maximum, of: heat}
      amperes: {label: Current at the end, take: rms, of: line, over: last 6 line cycles}
    conditions:
      healthy: {label: Relay in order}
      welded: {label: Contact welded, faults: {start-relay-welded: present}}
      dead: {label: Contact never closes, faults: {start-relay-never-closes: present}}
    expect:
      - {that: hottest of welded - hottest of healthy > 50 K, why: It stays on.}
      - {that: up of welded < 1 s, why: The pump pumps and nobody notices.}
      - {that: up of dead has no value, why: One winding alone.}
      - {that: amperes of dead / amperes of healthy > 2, why: It stands.}
    figures:
      relay: {kind: waveforms, title: Speed tells one fault and heat the other, show: [speed, heat], call-outs: [{metric: amperes}]}
    """);

// %% [markdown]
// ## Reversal: whichever winding the capacitor feeds
//
// Two equal windings, two relays, one capacitor between them. The relay puts one winding on the line; the other gets it through the
// capacitor, earlier. A meter at the relay that is open finds more than the line there.

// %%
var reversal = new MotorReversal();
Console.WriteLine(reversal.Topology);
var vent = """
    block: motor-reversal
    run: {stop: 1.4 s}
    observe:
      speed: {label: Speed, state: speed}
      one: {label: Winding 1, point: forward-winding, instrument: none}
      two: {label: Winding 2, point: reverse-winding, instrument: none}
    metrics:
      forwards: {label: Forwards, take: mean, of: speed, over: 400 ms to 500 ms}
      backwards: {label: Backwards, take: mean, of: speed, over: 1.2 s to 1.3 s}
      at-open: {label: Volts at the open relay, take: rms, of: two, over: 400 ms to 500 ms}
    """;

page.Run("reversal", vent, """
    title: Forwards and back
    conditions:
      healthy: {label: In order}
      faded: {label: A fifth of the capacitance, faults: {capacitor-faded: 0.2}}
      drags: {label: Gear drags, faults: {gear-drag: 6 mNm}}
    expect:
      - {that: forwards of healthy / backwards of healthy between -1.03 and -0.97, why: Equal windings.}
      - {that: at-open of healthy > 120 V, why: The winding behind the capacitor has more than the line.}
      - {that: forwards of faded < 100 rpm, why: 3 mNm against the gear's 8.}
      - {that: forwards of drags < forwards of healthy, why: More slip for more torque.}
    figures:
      speed: {kind: waveforms, title: Forwards from 20 ms - back from 800 ms, show: [speed]}
      windings: {kind: waveforms, title: Winding 2 leads going forwards, show: [one, two], over: 450 ms to 490 ms, conditions: [healthy], call-outs: [{metric: at-open}]}
    """);

// %% [markdown]
// ## A DC motor tells by its current where it is
//
// Twelve volts less the back-EMF, over the winding's thirty ohm: that is the current. At the start there is no back-EMF; on the way there is nearly all of
// it; against the end stop none again. The program drives four seconds for a way of three. What a jam costs is the rest of
// the time at full current, in a motor that is made for a quarter of a watt.

// %%
var bridge = new ActuatorBridge();
Console.WriteLine(bridge.Topology);
var actuator = """
    block: actuator-bridge
    run: {stop: 4.3 s}
    observe:
      position: {label: Vent, state: vent-position}
      current: {label: Motor current, current: motor}
      volts: {label: Across the motor, point: motor, instrument: none}
    metrics:
      reached: {label: Vent gets to, take: maximum, of: position}
      on-the-way: {label: Current on the way, take: mean, of: current, over: 600 ms to 800 ms}
      stalled: {label: Current at the end, take: mean, of: current, over: 3.7 s to 4 s}
      heat: {label: Power from 2 s on, take: power, of: volts, and: current, over: 2 s to 2.8 s}
    """;

page.Run("stop", actuator, """
    title: To the stop, and into a baking sheet
    conditions:
      healthy: {label: Way clear}
      jammed: {label: Jammed at 40 deg, faults: {vent-jammed: 40 deg}}
      open: {label: Motor open, faults: {motor-open: present}}
    expect:
      - {that: stalled of healthy between 365 mA and 390 mA, why: "12 V over 30 ohm, two switches of 0.4, a shunt of 0.47 and the rail's 0.3."}
      - {that: on-the-way of healthy = 21.4 mA within 5 %, why: "0.3 mNm of friction over 14 mNm/A."}
      - {that: reached of jammed between 40 deg and 40.5 deg, why: The sheet.}
      - {that: heat of jammed between 4.1 W and 4.5 W, why: The square of 0.38 A through 30 ohm.}
      - {that: stalled of open < 1 mA, why: No motor.}
    figures:
      stop: {kind: waveforms, title: "Start, way, stop: the same plug", show: [position, current], call-outs: [{metric: reached}, {metric: heat}]}
    """);

// %% [markdown]
// ## A fan with a loop hides its bearing
//
// The tachometer's loop keeps 1800 rpm with whatever duty it takes. Speed is the one number that tells nothing; duty and current do.

// %%
page.Run("bearing", """
    title: A bearing that dries out
    block: fan-drive
    run: {stop: 3 s}
    observe:
      speed: {label: Fan speed, state: fan-speed}
      duty: {label: Duty factor, state: duty}
      current: {label: Fan current, current: motor}
    metrics:
      settled: {label: Speed, take: mean, of: speed, over: from 2.7 s}
      asked: {label: Duty, take: mean, of: duty, over: from 2.7 s}
      amperes: {label: Current, take: mean, of: current, over: from 2.7 s}
    conditions:
      healthy: {label: Sound bearing}
      drags: {label: Drags by 2 mNm, faults: {bearing-drag: 2 mNm}}
      worn: {label: Drags by 6 mNm, faults: {bearing-drag: 6 mNm}}
    expect:
      - {that: settled of drags = 1800 rpm within 2 %, why: The loop holds it.}
      - {that: amperes of drags = 117 mA within 5 %, why: "2.1 mNm of blades and 2 of bearing over 35 mNm/A."}
      - {that: asked of worn > 0.99, why: Nothing is left to give.}
      - {that: settled of worn < 1500 rpm, why: What the rail lets it.}
    figures:
      loop: {kind: waveforms, title: Speed holds until the duty is used up, show: [speed, duty], call-outs: [{metric: amperes}]}
    """);

// %% [markdown]
// ## Change this and see
//
// How stiff may the vent get before a corroded plug keeps it from moving at all? Twelve volts over thirty ohm and 14 mNm/A are 5.3 mNm, and it takes 1.3 times
// the friction to begin.

// %%
var stiff = "2.5 mNm";
var plug = "20 ohm";

page.Run("yours", actuator, $$"""
    title: Your vent
    conditions:
      healthy: {label: In order}
      yours: {label: Yours, faults: {vent-stiff: {{stiff}}, plug-corroded: {{plug}} } }
    expect:
      - {that: reached of yours has a value, why: Whatever you set it to.}
    figures:
      yours: {kind: waveforms, title: "Stiff by {{stiff}}, plug {{plug}}", show: [position, current], call-outs: [{metric: reached}]}
    """);

// %% [markdown]
// ## Two questions for the class
//
// 1. The vent does not move. The meter across its motor shows nearly the rail for four seconds, then nothing. Two very different faults look like that.
// Which reading tells them apart?
// 2. The pump runs, and its start winding burns for the second time. The line is in order, the capacitor was never there. What has not been changed?
//
// Think before scrolling on: the answers are computed below.

// %% [markdown]
// ## Answers
//
// **1.** The shunt, or a clamp. An open motor takes the volts and no current; a jammed one takes its stall current. Both have the rail across them.

// %%
page.Run("answer-1", """
    block: actuator-bridge
    run: {stop: 3 s}
    observe:
      volts: {label: DC volts across the motor, point: motor, instrument: dc-voltmeter, over: 2 s to 2.8 s}
      shunt: {label: DC volts at the shunt, point: sense, instrument: dc-voltmeter, over: 2 s to 2.8 s}
    """, """
    title: Open, or jammed
    conditions:
      healthy: {label: Moves}
      open: {label: Motor open, faults: {motor-open: present}}
      jammed: {label: Jammed where it stands, faults: {vent-jammed: 0.1 deg}}
    expect:
      - {that: volts of open / volts of jammed between 1 and 1.06, why: Both have the rail but for the switches' drop.}
      - {that: shunt of jammed > 150 mV, why: "0.38 A through 0.47 ohm: 0.18 V."}
      - {that: shunt of open < 2 mV, why: No current.}
    """);

// %% [markdown]
// **2.** The start relay. With its contact welded the pump starts and pumps as ever, and the clamp around the start winding's wire shows amperes where there should be none.

// %%
page.Run("answer-2", """
    block: ac-motor
    values: {kind: split-phase}
    run: {stop: 1.2 s}
    observe:
      clamp: {label: Clamp at the start winding, current: start, instrument: ac-clamp-meter-true-rms, over: last 12 line cycles}
      speed: {label: Speed, state: speed}
    metrics:
      settled: {label: Speed at the end, take: mean, of: speed, over: last 6 line cycles}
    """, """
    title: A clamp at the start winding
    conditions:
      healthy: {label: Relay in order}
      welded: {label: Contact welded, faults: {start-relay-welded: present}}
    expect:
      - {that: settled of welded / settled of healthy between 0.93 and 1, why: "Out of its phase at speed the start winding brakes a little: some eighty turns a minute less, which nobody hears."}
      - {that: clamp of healthy < 50 mA, why: It is off.}
      - {that: clamp of welded > 4 A, why: It is on.}
    """);
