#:project ../src/BoardSim.Reports/BoardSim.Reports.csproj

// %% [markdown]
// # What the controller is told
//
// A proofing cabinet's controller knows the world through three kinds of wires: two coded knobs on four lines, four
// thermistors on one supply, and a single data wire from the panel. In each of them several signals share something:
// lines, a supply, a ground wire. What fails there shows where nobody looks for it.
//
// These blocks have no line side. On boards without an isolating supply their wires are connected to the line all the
// same: find out before you touch them.

// %%
using BoardSim.Blocks;
using BoardSim.Boards;
using BoardSim.Reports.Notebooks;

var page = new NotebookPage("out/notebooks/08-sensing");
foreach (var id in new[] { "selector-switches", "sensor-inputs", "serial-link" })
{
    var block = BlockCatalogue.Create(id);
    Console.WriteLine($"{block.Title}\n{block.Topology}");
    NotebookPage.Caution(Cautions.For(block.Build()));
}

// %% [markdown]
// ## Two knobs on four lines
//
// The program pulls one enable low at a time and reads which of the four lines are low. Diodes keep one switch out of
// the other one's reading. The program knob stands at 7 (0111), the temperature knob at 9 (1001): line 1 is low while
// the first is read, line 3 while the second is.

// %%
var knobs = """
    block: selector-switches
    values: {selector1.position: 7, selector2.position: 9, enable.drive: open-drain}
    run: {start: settled, stop: 60 ms}
    observe:
      program: {label: Program as read, state: position-1}
      temperature: {label: Temperature as read, state: position-2}
      line1: {label: Line 1, point: line1}
      line3: {label: Line 3, point: line3}
    metrics:
      program-read: {label: Program as read, take: value-at, of: program, with: {at: 59 ms}}
      temperature-read: {label: Temperature as read, take: value-at, of: temperature, with: {at: 59 ms}}
      level: {label: Line 1 while it is read, take: value-at, of: line1, with: {at: 35 ms}}
    """;

page.Run("knobs", knobs, """
    title: Two knobs, sound
    conditions:
      healthy: {label: Sound}
    expect:
      - {that: program-read of healthy = 7 within 0.1, why: That is where it stands.}
      - {that: temperature-read of healthy = 9 within 0.1, why: That is where it stands.}
    figures:
      lines: {kind: waveforms, title: Lines 1 and 3 over one scan, show: [line1, line3], over: 19 ms to 41 ms}
    """);

// %% [markdown]
// ## A shorted diode: the program turns the temperature
//
// Current can now go back from the program switch into line 0. While the temperature switch is read and pulls line 0
// low, it pulls the program switch's common low through the shorted diode, and with it all lines that this switch has
// closed. But only at positions where both have contact 0 closed.

// %%
page.Run("ghost", knobs, """
    title: Diode of the program switch shorted
    conditions:
      healthy: {label: Sound}
      ghost: {label: Diode shorted, faults: {diode10-shorted: 1 ohm}}
    sweep: {vary: selector1.position, label: Position of the program knob, from: 0, to: 15, count: 16,
        record: [temperature-read]}
    expect:
      - {that: temperature-read of ghost = 15 within 0.1, why: 0111 and 1001 together are 1111.}
      - {that: temperature-read of ghost at 6 = 9 within 0.1, why: 6 has contact 0 open.}
    figures:
      read: {kind: sweep, title: "Temperature knob as read, standing at 9", show: [temperature-read]}
    """);

// %% [markdown]
// ## Lines and enables
//
// A fault of a line goes with a bit and shows in both knobs. A fault of an enable goes with a knob.

// %%
page.Run("lines", knobs, """
    title: One fault of the ribbon cable at a time
    conditions:
      healthy: {label: Sound}
      open: {label: Line 0 open, faults: {line0-open: present}}
      shorted: {label: Line 3 to ground, faults: {line3-shorted: 10 ohm}}
      bridged: {label: Lines 0 and 1 bridged, faults: {lines-0-1-bridged: 1 ohm}}
      stuck: {label: Enable 1 stuck low, faults: {enable1-stuck-low: 2 ohm}}
      dirty: {label: "Contact 3 dirty, 20 kohm", faults: {selector2-contact3-dirty: 20 kohm}}
    expect:
      - {that: program-read of open = 6 within 0.1, why: 0111 without bit 0.}
      - {that: temperature-read of open = 8 within 0.1, why: 1001 without bit 0.}
      - {that: program-read of shorted = 15 within 0.1, why: 0111 with bit 3.}
      - {that: temperature-read of bridged = 11 within 0.1, why: 1001 with bit 1.}
      - {that: temperature-read of stuck = 15 within 0.1, why: Both knobs at once.}
      - {that: temperature-read of dirty = 1 within 0.1, why: 1001 without bit 3.}
    figures:
      read: {kind: bars, title: What the program makes of 7 and 9, show: [program-read, temperature-read]}
    """);

// %% [markdown]
// ## Four thermistors on one supply
//
// Chamber 38 degC, goods 30 degC, water 80 degC, room 20 degC. All dividers get their supply through one small
// resistor. As long as that is ten ohms, each channel is alone. When its joint has become a kilohm, all are not.

// %%
var sensors = """
    block: sensor-inputs
    run: {compute: operating-point}
    observe:
      chamber: {label: Error of the chamber, state: error-1}
      goods: {label: Error of the goods, state: error-2}
      water: {label: Error of the water, state: error-3}
      room: {label: Room as indicated, state: indicated-4}
      common: {label: Common supply, point: sensor-supply, instrument: dc-voltmeter}
    """;

page.Run("common", sensors, """
    title: A short in the room's sensor
    conditions:
      healthy: {label: Sound}
      shorted: {label: Room sensor shorted, faults: {sensor4-shorted: 0.5 ohm}}
      joint: {label: Joint of 1 kohm, faults: {common-resistance-high: 1 kohm}}
      both: {label: Both, faults: {common-resistance-high: 1 kohm, sensor4-shorted: 0.5 ohm}}
      ratiometric:
        label: Both, ratiometric converter
        values: {adc.reference: sensor-supply}
        faults: {common-resistance-high: 1 kohm, sensor4-shorted: 0.5 ohm}
    expect:
      - {that: chamber of shorted - chamber of healthy between -0.15 K and 0.15 K, why: A millivolt of 5 V.}
      - {that: common of joint between 3.9 V and 4.1 V, why: "252 uS of dividers behind a kilohm: 5 V over 1.252."}
      - {that: chamber of both - chamber of joint between 1.2 K and 2 K, why: The short draws the supply down further.}
      - {that: chamber of ratiometric between -0.3 K and 0.8 K, why: What both have in common cancels out.}
    figures:
      errors: {kind: bars, title: Errors of the three sound sensors, show: [chamber, goods, water]}
    """);

// %% [markdown]
// ## The reference
//
// A reference that is off makes all temperatures wrong, and each by another amount: the cold ones most.

// %%
page.Run("reference", sensors, """
    title: Error of the reference
    conditions:
      healthy: {label: Sound}
      off: {label: Reference off, faults: {reference-off: 3 %}}
    sweep: {severity-of: reference-off, label: Error of the reference, from: -5 %, to: 5 %, count: 21,
        conditions: [off], record: [chamber, goods, water]}
    expect:
      - {that: chamber of off rises over the sweep, why: "Smaller ratios are warmer for a thermistor towards ground."}
    figures:
      errors: {kind: sweep, title: Errors against that of the reference, show: [goods, chamber, water],
          conditions: [off]}
    """);

// %% [markdown]
// ## One data wire
//
// The panel pulls the line low for zeros and lets the pull-up make the ones. Eight bits after a start bit, each read
// in its middle by the controller's own clock. The lamp at the panel goes on at 7.6 ms, in the middle of a byte.

// %%
var link = """
    block: serial-link
    run: {start: settled, stop: 19 ms, accuracy: 1e-4}
    observe:
      line: {label: Line at the controller, point: line}
      ground: {label: "Panel's ground", point: panel-ground}
      byte: {label: Last byte, state: last-byte}
      lost: {label: Lost frames, state: lost-frames}
      silent: {label: Misread and not noticed, state: unnoticed}
    metrics:
      last-byte: {label: Last byte read, take: value-at, of: byte, with: {at: 18.9 ms}}
      frames-lost: {label: Frames lost of 8, take: value-at, of: lost, with: {at: 18.9 ms}}
      not-noticed: {label: Misread and not noticed, take: value-at, of: silent, with: {at: 18.9 ms}}
    """;

page.Run("ground", link, """
    title: The lamp goes on
    conditions:
      healthy: {label: Sound ground wire}
      worn: {label: Ground wire of 3 ohm, faults: {ground-corroded: 3 ohm}}
    expect:
      - {that: last-byte of healthy = 121 within 0.1, why: The last byte of the message.}
      - {that: last-byte of worn = 249 within 0.1, why: 0111 1001 with its last bit high is 1111 1001.}
      - {that: not-noticed of worn = 1 within 0.1, why: Its stop bit is sound.}
    figures:
      line: {kind: waveforms, title: Line and ground as the lamp goes on, show: [line, ground],
          over: 6.8 ms to 10.6 ms}
    """);

// %% [markdown]
// ## Slow edges and damp plugs
//
// Capacitance makes highs late, leakage makes them low. Both have a sharp limit: half a bit, and the receiver's
// threshold. Just inside it everything works, until the next humid day.

// %%
page.Run("limits", link, """
    title: Slow and low highs
    conditions:
      healthy: {label: Sound}
      slow: {label: 15 nF across the line, faults: {slow-edges: 15 nF}}
      damp: {label: Damp plug, faults: {line-leaky: 20 kohm}}
      wet: {label: Wet plug, faults: {line-leaky: 4.7 kohm}}
    expect:
      - {that: frames-lost of damp = 0 within 0.1, why: 4 V are more than 3.5 V.}
      - {that: frames-lost of slow = 8 within 0.1, why: "86 us to the threshold, half a bit is 52 us."}
      - {that: frames-lost of wet = 8 within 0.1, why: 2.5 V are never high.}
    figures:
      edges: {kind: waveforms, title: "A byte, sound, slow and damp", show: [line], over: 3 ms to 4.4 ms}
    """);

// %% [markdown]
// ## Change this and see
//
// Faster, or with a longer cable: which pull-up does it take? A stronger one costs current in the sender and lifts the
// lows.

// %%
var rate = "19.2 kBd";
var cable = "3 nF";
var pullUp = "4.7 kohm";

page.Run("yours", link, $$"""
    title: Your link
    values: {frame.rate: {{rate}}, cable.capacitance: {{cable}}, pull-up.resistance: {{pullUp}}, load.current: 0 A}
    conditions:
      healthy: {label: Yours}
    expect:
      - {that: frames-lost of healthy has a value, why: Whatever you set it to.}
    figures:
      line: {kind: waveforms, title: "Yours: {{rate}}, {{cable}}, {{pullUp}}", show: [line], over: 0.9 ms to 2.2 ms}
    """);

// %% [markdown]
// ## Two questions for the class
//
// 1. The temperature jumps when the program knob is turned, at some positions only. Which part, and where do you put
// the meter?
// 2. Chamber, goods and water read eight to nine kelvin too warm. Somebody wants to change the chamber's sensor. What
// do you measure first?
//
// Think before scrolling on: the answers are computed below.

// %% [markdown]
// ## Answers
//
// **1.** An isolation diode: in the healthy board a line that nobody pulls is at 5 V while the temperature is read; here
// it stands at two diode drops. Find the line that both have closed at the positions where it happens.

// %%
page.Run("answer-1", knobs, """
    title: Line 1 while the temperature is read
    conditions:
      healthy: {label: Sound}
      ghost: {label: Diode shorted, faults: {diode10-shorted: 1 ohm}}
    expect:
      - {that: level of healthy > 4.9 V, why: Contact 1 of the temperature knob is open at 9.}
      - {that: level of ghost between 1 V and 1.5 V, why: Two diodes.}
    """);

// %% [markdown]
// **2.** The common supply: three sensors do not fail alike on one day.

// %%
page.Run("answer-2", sensors, """
    title: One fault or three
    conditions:
      healthy: {label: Sound}
      joint: {label: Joint of 1 kohm, faults: {common-resistance-high: 1 kohm}}
      leaky: {label: Capacitor leaks, faults: {common-capacitor-leaky: 40 ohm}}
      sensor: {label: "Chamber's sensor drifted", faults: {sensor1-drifted: 0.7}}
    expect:
      - {that: common of joint < 4.2 V, why: A voltmeter finds it at once.}
      - {that: common of leaky < 4.2 V, why: The capacitor's leak does the same.}
      - {that: common of sensor > 4.9 V, why: With a bad sensor the supply is sound.}
    """);
