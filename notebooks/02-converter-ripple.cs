#:project ../src/BoardSim.Reports/BoardSim.Reports.csproj

// %% [markdown]
// # The converter's output ripple
//
// The 12 V supply of the proofing cabinet's controller is a *flyback converter*. 65,000 times a second its switch
// stores a packet of energy in the transformer, and the rectifier hands it to the output capacitor. The capacitor
// takes each packet as a pulse of current; its series resistance (ESR) turns the pulse into a step of voltage. That
// is the ripple.
//
// What fails: the output capacitor dries out, first its ESR, then its capacitance; the rectifier opens, shorts or
// leaks; the clamp at the switch cracks open and the switch takes the spike; the switch opens or shorts; turns of the
// transformer short; the load takes too much. The duty is fixed by hand here, so that no control loop hides what the
// parts do.

// %%
using BoardSim.Blocks.Converters;
using BoardSim.Boards;
using BoardSim.Reports.Notebooks;

var page = new NotebookPage("out/notebooks/02-converter-ripple");
var block = new FlybackOutput();
Console.WriteLine(block.Topology);
NotebookPage.Caution(Cautions.For(block.Build()));

// %% [markdown]
// ## The bench
//
// Four milliseconds from switch-on are enough to settle; we look at the last cycles. The output is isolated and can
// be probed against board ground. The drain is on the line side: here it costs nothing to look, on a bench it takes a
// differential probe and belongs to licensed practice.

// %%
var bench = """
    block: flyback-output
    run: {stop: 4.2 ms, record-from: 3.8 ms}
    observe:
      output: {label: 12 V rail, point: output}
      drain: {label: Drain of the switch, point: drain}
      primary: {label: Primary current, current: primary}
      capacitor: {label: Current into the output capacitor, current: output-capacitor}
      output-dc: {label: 12 V rail as DC volts, point: output, instrument: dc-voltmeter,
          over: last 20 switching cycles}
    metrics:
      ripple: {label: Ripple, take: ripple-peak-to-peak, of: output, over: last 20 switching cycles}
      heating: {label: Capacitor current, take: capacitor-rms-current, of: capacitor, over: last 20 switching cycles}
      spike: {label: Highest drain voltage, take: maximum, of: drain, over: last 20 switching cycles}
      peak: {label: Highest primary current, take: maximum, of: primary, over: last 20 switching cycles}
    """;

// %% [markdown]
// ## The healthy picture
//
// While the switch is on, the output capacitor feeds the load alone. When it opens, the secondary's current starts at
// its peak and falls: the rail steps up by that current times the ESR, and slopes down again.

// %%
page.Run("healthy", bench, """
    title: A healthy output
    conditions:
      healthy: {label: Healthy}
    expect:
      - {that: ripple of healthy < 0.4 V, why: Some amperes across 30 mohm are tenths of a volt.}
    figures:
      picture: {kind: waveforms, title: "Healthy: rail, capacitor current, drain", show: [output, capacitor, drain],
          over: last 3 switching cycles, call-outs: [{metric: ripple}, {metric: spike}]}
    """);

// %% [markdown]
// ## The output capacitor: ESR, capacitance, open
//
// The voltmeter sees nothing of the ripple. The oscilloscope tells the kinds apart: ESR makes steps, lost capacitance
// slopes, an open capacitor leaves the bare packets.

// %%
page.Run("capacitor", bench, """
    title: Faults of the output capacitor
    conditions:
      healthy: {label: Healthy}
      esr: {label: "ESR 0.5 ohm", faults: {output-esr-high: 0.5 ohm}}
      lost: {label: 2 % of capacitance left, faults: {output-capacitance-lost: 0.02}}
      open: {label: Open, faults: {output-capacitor-open: present}}
    expect:
      - {that: ripple of esr / ripple of healthy > 8,
          why: The same pulse now drops across sixteen times the resistance.}
      - {that: ripple of lost > ripple of healthy, why: Less capacitance moves further for the same charge.}
    figures:
      ripple: {kind: waveforms, title: The output capacitor ages, show: [output], conditions: [healthy, esr, lost],
          over: last 4 switching cycles, call-outs: [{metric: ripple}, {metric: output-dc}]}
      open: {kind: waveforms, title: The output capacitor is open, show: [output], conditions: [healthy, open],
          over: last 4 switching cycles, call-outs: [{metric: ripple}, {metric: output-dc}]}
    """);

// %% [markdown]
// ## The rectifier: open, shorted, leaky
//
// Open, the 12 V die down: in this picture the output capacitor, charged at the start, is still running empty, and
// the packets have no way but into clamp and switch, up to its breakdown. Shorted, they are gone at once, and the
// primary current shows that the winding works into a short.

// %%
page.Run("rectifier", bench, """
    title: Faults of the output rectifier
    conditions:
      healthy: {label: Healthy}
      open: {label: Open, faults: {rectifier-open: present}}
      shorted: {label: Shorted, faults: {rectifier-shorted: present}}
      leaky: {label: "Leaky, 20 ohm", faults: {rectifier-leaky: 20 ohm}}
    expect:
      - {that: output-dc of open < output-dc of healthy, why: Nothing refills the output capacitor.}
      - {that: peak of shorted > peak of healthy, why: The primary drives a shorted winding.}
    figures:
      picture: {kind: waveforms, title: The output rectifier, show: [output, primary], over: last 4 switching cycles,
          call-outs: [{metric: output-dc}, {metric: peak}]}
    """);

// %% [markdown]
// ## Primary side: clamp and switch
//
// The energy of the leakage inductance has to go somewhere each time the switch opens. With the clamp open only the
// drain's own capacitance takes it: the spike reaches for the 650 V at which this switch breaks down, 65,000 times a
// second. With 250 V at the input in place of 160 V it gets there. The rail hardly shows it. With the switch open or
// shorted no packet comes: the rail runs empty in both, and what takes the fuse is the primary current of the short.

// %%
page.Run("primary", bench, """
    title: Clamp open, switch open, switch shorted
    conditions:
      healthy: {label: Healthy}
      clamp: {label: Clamp open, faults: {clamp-open: present}}
      open: {label: Switch open, faults: {switch-open: present}}
      shorted: {label: Switch shorted, faults: {switch-shorted: present}}
    expect:
      - {that: spike of clamp / spike of healthy > 1.5, why: Only the capacitance at the drain takes the spike.}
      - {that: output-dc of open < output-dc of healthy, why: No packet refills the output capacitor.}
    figures:
      clamp: {kind: waveforms, title: The clamp is open, show: [drain, output], conditions: [healthy, clamp],
          over: last 3 switching cycles, call-outs: [{metric: spike}, {metric: ripple}]}
      switch: {kind: waveforms, title: The switch is open or shorted, show: [drain, primary],
          conditions: [healthy, open, shorted],
          over: last 3 switching cycles, call-outs: [{metric: spike}, {metric: peak}]}
    """);

// %% [markdown]
// ## Shorted turns, and too much load
//
// Both pull the rail down. Shorted turns make the primary current jump the moment the switch closes; an overload
// leaves its triangle as it is.

// %%
page.Run("load", bench, """
    title: Shorted turns and an overload
    conditions:
      healthy: {label: Healthy}
      turns: {label: 3 % of turns shorted, faults: {shorted-turns: 0.03}}
      overload: {label: "Load of 3 ohm", faults: {overload: 3 ohm}}
    expect:
      - {that: output-dc of turns < output-dc of healthy, why: The shorted turns swallow part of each packet.}
      - {that: output-dc of overload < output-dc of healthy, why: The packets stay the same and the load takes more.}
    figures:
      picture: {kind: waveforms, title: Shorted turns and overload, show: [output, primary],
          over: last 3 switching cycles, call-outs: [{metric: output-dc}, {metric: peak}]}
    """);

// %% [markdown]
// ## Ripple against ESR
//
// On a running board ripple is a measure of ESR: this curve turns a reading of the oscilloscope into ohms.

// %%
page.Run("sweep", bench, """
    title: Ripple against ESR
    conditions:
      healthy: {label: Healthy}
      esr: {label: ESR of the output capacitor, faults: {output-esr-high: 0.5 ohm}}
    sweep: {severity-of: output-esr-high, label: ESR of the output capacitor, points: [30 mohm, 60 mohm, 0.12 ohm, 0.25 ohm, 0.5 ohm, 1 ohm], conditions: [esr], record: [ripple, output-dc]}
    expect:
      - {that: ripple of esr rises over the sweep,
          why: The capacitor's current does not change much and its resistance does.}
    figures:
      ripple: {kind: sweep, title: Ripple against ESR, show: [ripple, output-dc], conditions: [esr]}
    """);

// %% [markdown]
// ## Change this and see
//
// Three numbers to play with. What does a larger capacitor of the same ESR help? What does the cold do, when ESR
// follows the temperature?

// %%
var capacitance = "470 uF";
var esr = "80 mohm";
var temperature = "-10 degC";

page.Run("yours", bench, $$"""
    title: Your output capacitor
    conditions:
      healthy: {label: As above}
      yours:
        label: Yours
        values:
          output.capacitance: {{capacitance}}
          output.esr: {{esr}}
          output.temperature: {{temperature}}
    expect:
      - {that: ripple of yours has a value, why: Whatever you set it to.}
    figures:
      ripple: {kind: waveforms, title: "Yours: {{capacitance}}, {{esr}}, {{temperature}}", show: [output, capacitor],
          over: last 3 switching cycles, call-outs: [{metric: ripple}]}
    """);

// %% [markdown]
// ## Two questions for the class
//
// 1. Two capacitors stand in parallel at the output. One ages to 0.5 ohm. By how much does the ripple rise, and what
// does the other one carry then?
// 2. A small choke and a second capacitor follow the output capacitor. The first capacitor ages to 0.5 ohm. Does a
// probe at the load still see it?
//
// Think before scrolling on: the answers are computed below.

// %% [markdown]
// ## Answers
//
// **1.** Nowhere near as much as with a single one: the healthy capacitor takes over most of the current. It is
// heated with the square of it and will be next.

// %%
var pair = page.Run("answer-1", """
    title: Two output capacitors and one of them aged
    block: flyback-output
    values: {output.capacitors: two}
    run: {stop: 4.2 ms, record-from: 3.8 ms}
    observe:
      output: {label: 12 V rail, point: output}
      first: {label: Current into the aged capacitor, current: output-capacitor}
      second: {label: Current into the other, current: second-capacitor}
    metrics:
      ripple: {label: Ripple, take: ripple-peak-to-peak, of: output, over: last 20 switching cycles}
      aged: {label: RMS current of the aged one, take: capacitor-rms-current, of: first,
          over: last 20 switching cycles}
      other: {label: RMS current of the other, take: capacitor-rms-current, of: second,
          over: last 20 switching cycles}
    conditions:
      healthy: {label: Both new}
      one-aged: {label: One aged, faults: {output-esr-high: 0.5 ohm}}
    expect:
      - {that: ripple of one-aged / ripple of healthy < 3, why: The other one is still there.}
      - {that: other of one-aged > other of healthy, why: It takes over the current.}
    """);
var heat = Math.Pow(pair.Condition("one-aged").Value("other")!.Value / pair.Condition("healthy").Value("other")!.Value, 2);
Console.WriteLine($"The other capacitor is heated {heat:0.0} times as much as before.");

// %% [markdown]
// **2.** Much less of it. Behind a post filter probe ahead of the choke, at the output capacitor itself.

// %%
page.Run("answer-2", """
    title: An aged capacitor ahead of a post filter
    block: flyback-output
    values: {filter: choke-and-capacitor}
    run: {stop: 4.2 ms, record-from: 3.8 ms}
    observe:
      load: {label: At the load, point: output}
      rectified: {label: Ahead of the choke, point: rectified}
    metrics:
      at-load: {label: Ripple at the load, take: ripple-peak-to-peak, of: load, over: last 20 switching cycles}
      ahead: {label: Ripple ahead of the choke, take: ripple-peak-to-peak, of: rectified,
          over: last 20 switching cycles}
    conditions:
      healthy: {label: New}
      aged: {label: Aged, faults: {output-esr-high: 0.5 ohm}}
    expect:
      - {that: at-load of aged / ahead of aged < 0.5, why: The choke keeps the steps away from the load.}
    figures:
      ripple: {kind: waveforms, title: Ahead of and behind the post filter, show: [rectified, load],
          over: last 3 switching cycles, call-outs: [{metric: ahead}, {metric: at-load}]}
    """);
