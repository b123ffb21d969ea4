#:project ../src/BoardSim.Reports/BoardSim.Reports.csproj

// %% [markdown]
// # Loads on the line: contact, valve, motor
//
// What a proofing cabinet's board switches hangs on the line: a heater behind a relay's contact and its solder joint, a steam
// valve with a solenoid, a circulating fan with a run capacitor, and a vent that two relays drive forwards and back.
//
// These loads fail with the line's volts still on them. So volts alone tell little: a clamp on the current tells most, heat and time the rest.
// All of it is line side.

// %%
using BoardSim.Blocks.AcLoads;
using BoardSim.Boards;
using BoardSim.Reports.Notebooks;

var page = new NotebookPage("out/notebooks/06-loads");
var contact = new SwitchedLoad();
Console.WriteLine(contact.Topology);
NotebookPage.Caution(Cautions.For(contact.Build()));

// %% [markdown]
// ## Milliohms make watts
//
// A kilowatt at 120 V is 8.3 A. Through the forty milliohms of a cracked solder joint that is a third of a volt, nearly three watts in a spot
// of solder, and 80 K of heat. A warm pin stretches; at some temperature it no longer touches. The heater goes off with the
// relay still pulled in, the joint cools, and it touches again.

// %%
page.Run("joint", """
    block: switched-load
    values: {command.off-at: 40 s, element.heat-capacity: 60 J/K}
    run: {stop: 30 s, accuracy: 2e-3}
    observe:
      joint: {label: Temperature of the joint, state: joint-temperature}
      armature: {label: Relay pulled in, state: contact-closed}
      open: {label: Joint open, state: joint-open}
      openings: {label: Openings, state: joint-openings}
    metrics:
      first: {label: Opens after, take: time-to-rise, of: open, with: {level: 0.5}}
      counted: {label: Openings, take: maximum, of: openings}
    """, """
    title: A joint that opens when it is warm
    conditions:
      healthy: {label: Sound joint}
      cracked: {label: Cracked joint, faults: {joint-cracked: 80 degC}}
    expect:
      - {that: counted of cracked > 1, why: It opens and closes by its own heat.}
      - {that: counted of healthy < 0.5, why: Half a milliohm does not warm anything.}
    figures:
      crack: {kind: waveforms, title: The relay stays pulled in and the heater comes and goes, show: [armature, joint],
          call-outs: [{metric: first}, {metric: counted}]}
    """);

// %% [markdown]
// ## A solenoid tells by its current whether its plunger is in
//
// With the plunger out, its gap keeps the inductance low. Once it is in, the current falls to half. A plunger that sticks leaves the
// current where it was, and the heat at four times its usual.

// %%
var valve = """
    block: solenoid-valve
    values: {supply.on-at: 16.667 ms}
    run: {stop: 210 ms}
    observe:
      current: {label: Winding current, current: winding}
      position: {label: Plunger, state: position}
      force: {label: Pull, state: force}
    metrics:
      hold: {label: Held, take: rms, of: current, over: last 6 line cycles}
      least: {label: Least pull, take: minimum, of: force, over: last 6 line cycles}
    """;

page.Run("valve", valve, """
    title: Inrush and hold
    conditions:
      healthy: {label: In order}
      stuck: {label: Plunger stuck, faults: {plunger-stuck: 0}}
      shorted: {label: 5 % of the turns shorted, faults: {shorted-turns: 0.05}}
    expect:
      - {that: hold of stuck / hold of healthy > 1.7, why: "An open gap, a low inductance."}
    figures:
      inrush: {kind: waveforms, title: The current falls when the plunger is in, show: [current, position], over: 0 ms to 100 ms, call-outs: [{metric: hold}]}
    """);

// %% [markdown]
// An alternating current lets go twice a cycle. A copper ring in the pole keeps some flux for the moment in which the rest has none. When it
// cracks, the valve buzzes.

// %%
page.Run("ring", valve, """
    title: The shading ring
    conditions:
      healthy: {label: Ring in order}
      broken: {label: Ring broken, faults: {shading-ring-broken: 10 us}}
    expect:
      - {that: least of broken < 0.1 N, why: Flux goes through zero.}
      - {that: least of healthy > 1 N, why: The ring's part of the flux comes later.}
    figures:
      buzz: {kind: waveforms, title: Pull and plunger, show: [force, position], over: 150 ms to 200 ms, call-outs: [{metric: least}]}
    """);

// %% [markdown]
// ## One phase does not start a motor
//
// The fan's start winding gets its phase from a run capacitor. As that fades the fan starts more slowly; without it, it hums, at three times its
// running current, and runs whichever way somebody gives it a push.

// %%
var fan = """
    block: ac-motor
    run: {stop: 1.5 s}
    observe:
      speed: {label: Speed, state: speed}
      line: {label: Motor current, current: line}
    metrics:
      settled: {label: Speed at the end, take: mean, of: speed, over: last 6 line cycles}
      amperes: {label: Current at the end, take: rms, of: line, over: last 6 line cycles}
    """;

page.Run("start", fan, """
    title: A fan that does not start
    conditions:
      healthy: {label: In order}
      faded: {label: A quarter of the capacitance, faults: {capacitor-faded: 0.25}}
      open: {label: Capacitor open, faults: {capacitor-open: present}}
      pushed: {label: "Capacitor open, pushed backwards", faults: {capacitor-open: present}, values: {push: -350 rpm}}
    expect:
      - {that: settled of pushed < -1400 rpm, why: One winding keeps a turning motor turning.}
      - {that: amperes of open / amperes of healthy > 2, why: A standing motor is a transformer with a shorted secondary.}
    figures:
      start: {kind: waveforms, title: "In order, weak, humming, backwards", show: [speed], call-outs: [{metric: amperes}]}
    """);

// %% [markdown]
// ## Change this and see
//
// How much drag does the bearing need before the fan no longer starts with a capacitor that is half gone?

// %%
var drag = "30 mNm";
var left = "0.5";

page.Run("yours", fan, $$"""
    title: Your fan
    conditions:
      healthy: {label: In order}
      yours: {label: Yours, faults: {bearing-drag: {{drag}}, capacitor-faded: {{left}} } }
    expect:
      - {that: settled of yours has a value, why: Whatever you set it to.}
    figures:
      yours: {kind: waveforms, title: "Bearing {{drag}}, capacitance {{left}}", show: [speed], call-outs: [{metric: settled}, {metric: amperes}]}
    """);

// %% [markdown]
// ## Forwards and back
//
// Two relays, two equal windings, one capacitor between them: whichever winding the capacitor feeds leads. With one contact welded, the other
// direction puts both windings on the line: no lead, no torque, and the capacitor's charge through the closing contact.

// %%
page.Run("vent", """
    block: motor-reversal
    run: {stop: 1.4 s}
    observe:
      speed: {label: Speed, state: speed}
      contact: {label: Current of the reverse contact, current: reverse-contact}
    metrics:
      backwards: {label: Speed at the reverse command, take: mean, of: speed, over: 1.2 s to 1.3 s}
      spark: {label: Peak of the closing contact, take: peak, of: contact}
    """, """
    title: A vent that moves one way only
    conditions:
      healthy: {label: In order}
      welded: {label: Forward contact welded, faults: {forward-contact-welded: present}}
      faded: {label: A fifth of the capacitance, faults: {capacitor-faded: 0.2}}
    expect:
      - {that: backwards of healthy < -1500 rpm, why: Reverse.}
      - {that: spark of welded > 5 A, why: The capacitor is emptied through two contacts.}
    figures:
      vent: {kind: waveforms, title: Forwards from 20 ms - reverse from 800 ms, show: [speed], call-outs: [{metric: spark}]}
    """);

// %% [markdown]
// ## Two questions for the class
//
// 1. The steam valve's winding is open for the third time this year. The line is in order and so was each new valve. Which reading, taken
// on the new valve within its first minute, tells why?
// 2. The heater goes off after some minutes and works again when the housing is opened. Name two parts that do that, and one
// reading that tells them apart.
//
// Think before scrolling on: the answers are computed below.

// %% [markdown]
// ## Answers
//
// **1.** The current. A plunger that does not come in (lime, too much pressure, a sagging line) leaves it at its inrush value, and all
// of these burn any winding. Volts at the valve are the same.

// %%
page.Run("answer-1", valve, """
    title: Three ways to burn a winding
    conditions:
      healthy: {label: In order}
      lime: {label: Plunger stuck, faults: {plunger-stuck: 0}}
      pressure: {label: Pressure too high, faults: {pressure-too-high: 12 N}}
      sagging: {label: 75 V line, values: {line.voltage: 75 V}}
    expect:
      - {that: hold of lime / hold of healthy > 1.7, why: An open gap.}
      - {that: hold of pressure / hold of healthy > 1.7, why: An open gap again.}
      - {that: hold of sagging > hold of healthy, why: "Less voltage, but the current of an open gap."}
    """);

// %% [markdown]
// **2.** A cracked joint, and a motor's or heater's thermal cut-out. A hot joint has a drop of tenths of a volt before it opens; a
// cut-out has millivolts. Both show the line's volts once they are open.

// %%
page.Run("answer-2", """
    block: switched-load
    values: {command.off-at: 40 s}
    run: {stop: 2 s, accuracy: 2e-3}
    observe:
      drop: {label: AC volts across the joint, point: joint-drop, instrument: ac-voltmeter-true-rms, over: 0.5 s to 1.5 s}
    """, """
    title: A drop before it opens
    conditions:
      healthy: {label: Sound joint}
      cracked: {label: Cracked joint, faults: {joint-cracked: 80 degC}}
    expect:
      - {that: drop of cracked / drop of healthy > 50, why: Forty milliohms beside half a one.}
    """);
