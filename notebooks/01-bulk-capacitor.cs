#:project ../src/BoardSim.Reports/BoardSim.Reports.csproj

// %% [markdown]
// # The bulk capacitor, and the rush of current that fills it
//
// The controller of a bakery's proofing cabinet lives on a rectified line. Four diodes fill the *bulk capacitor* at
// the crests of the line; between the crests the capacitor alone carries the converter behind it. A thermistor in the
// line, the *inrush limiter*, holds the first charge down and then gets out of the way by getting hot.
//
// What fails: the capacitor dries out (its series resistance, ESR, rises and its capacitance falls), leaks or shorts;
// a diode opens or shorts in a surge; the limiter cracks open, or somebody links it out. A DC voltmeter shows little
// of the slow ones. The oscilloscope does.

// %%
using BoardSim.Blocks.Rectifiers;
using BoardSim.Boards;
using BoardSim.Reports.Notebooks;

var page = new NotebookPage("out/notebooks/01-bulk-capacitor");
var block = new BridgeBulk();
Console.WriteLine(block.Topology);
NotebookPage.Caution(Cautions.For(block.Build()));

// %% [markdown]
// ## The bench
//
// A 120 V line, a converter that takes 20 W, the values of the schematic for the rest. Each run below adds its
// conditions to this bench. What stands here is a scenario file: every run leaves its own in the output folder, ready
// for the `run` of the command line.

// %%
var bench = """
    block: bridge-bulk
    values: {supply: mains-120v, load.power: 20 W, limiter.start-temperature: 60 degC}
    run: {start: switch-on, stop: 250 ms}
    observe:
      bulk: {label: Bulk voltage, point: bulk}
      charging: {label: Current into the bulk capacitor, current: bulk-capacitor}
      bulk-dc: {label: DC volts, point: bulk, instrument: dc-voltmeter, over: last 4 line cycles}
      bulk-ac: {label: AC volts, point: bulk, instrument: ac-voltmeter-true-rms, over: last 4 line cycles}
    metrics:
      ripple: {label: Ripple, take: ripple-peak-to-peak, of: bulk, over: last 4 line cycles}
      valley: {label: Lowest bulk voltage, take: minimum, of: bulk, over: last 4 line cycles}
      pulses: {label: Charging pulses, take: peak, of: charging, over: last 4 line cycles}
      heating: {label: Capacitor current, take: capacitor-rms-current, of: charging, over: last 4 line cycles}
    """;

// %% [markdown]
// ## The healthy picture
//
// The bulk voltage is a saw-tooth at twice the line frequency just under the crest of the line, 170 V. The capacitor
// is filled in short pulses of some amperes: its current is far larger than what the converter takes, and it is this
// current that heats and dries it.

// %%
page.Run("healthy", bench, """
    title: A healthy bulk capacitor
    conditions:
      healthy: {label: Healthy}
    expect:
      - {that: bulk-dc of healthy between 150 V and 170 V, why: A 120 V line has crests of 170 V.}
    figures:
      picture: {kind: waveforms, title: "Healthy: bulk voltage and charging pulses", show: [bulk, charging],
          over: last 4 line cycles, call-outs: [{metric: ripple}, {metric: pulses}]}
    """);

// %% [markdown]
// ## A dried-out capacitor
//
// ESR up to 22 ohm, four tenths of the capacitance left. The voltmeter loses seven per cent, which nobody would
// wonder at; the ripple nearly triples, and the converter has to work from the valleys.

// %%
page.Run("dried-out", bench, """
    title: A dried-out bulk capacitor
    conditions:
      healthy: {label: Healthy}
      dried: {label: Dried out, faults: {bulk-esr-high: 22 ohm, bulk-capacitance-lost: 0.4}}
    expect:
      - {that: ripple of dried / ripple of healthy > 2.5,
          why: The load's current steps across the resistance and less capacitance falls further.}
    figures:
      ripple: {kind: waveforms, title: A dried-out capacitor, show: [bulk, charging], over: last 4 line cycles,
          call-outs: [{metric: ripple}, {metric: valley}]}
    """);

// %% [markdown]
// ## A capacitor that leaks, and one that is open
//
// A leaky capacitor is a second load: more ripple, stronger pulses, and watts of heat inside the can. An open one
// leaves the bare rectified sine, and the converter stops at every zero of the line.

// %%
page.Run("leaky-or-open", bench, """
    title: A leaky and an open bulk capacitor
    conditions:
      healthy: {label: Healthy}
      leaky: {label: "Leaky, 2 kohm", faults: {bulk-leaky: 2 kohm}}
      open: {label: Open, faults: {bulk-open: present}}
    expect:
      - {that: valley of open < 60 V, why: Nothing carries the converter over the zeros of the line.}
    figures:
      voltage: {kind: waveforms, title: Leaky and open, show: [bulk], over: last 4 line cycles,
          call-outs: [{metric: ripple}, {metric: bulk-dc}]}
    """);

// %% [markdown]
// ## A diode open
//
// The bridge goes on as a half-wave rectifier: one pulse per cycle instead of two, each twice as high, and a ripple
// at the line's own frequency. That frequency is the clue that tells an open diode from a tired capacitor.

// %%
page.Run("diode-open", bench, """
    title: One diode of the bridge open
    conditions:
      healthy: {label: Healthy}
      open: {label: Diode D2 open, faults: {diode-d2-open: present}}
    expect:
      - {that: ripple of open > ripple of healthy,
          why: The capacitor has to bridge a whole cycle instead of half of one.}
    figures:
      ripple: {kind: waveforms, title: One diode open, show: [bulk, charging], over: last 4 line cycles,
          call-outs: [{metric: ripple}, {metric: pulses}]}
    """);

// %% [markdown]
// ## Shorts: a diode, the capacitor
//
// Both short the line through the limiter, which heats within a few cycles until only the line's own impedance is
// left. On a board with a fuse the fuse opens within this picture; this block ends at the inlet, so that the current
// can be read at all.

// %%
var inrush = """
    block: bridge-bulk
    values: {supply: mains-120v, load.power: 20 W, line.phase: 90 deg}
    run: {start: switch-on, stop: 60 ms}
    observe:
      line: {label: Line current, current: line}
      bulk: {label: Bulk voltage, point: bulk}
      bulk-dc: {label: DC volts, point: bulk, instrument: dc-voltmeter}
    metrics:
      peak: {label: Highest line current, take: inrush-peak, of: line}
      let-through: {label: I2t, take: i2t, of: line}
    """;
page.Run("shorts", inrush, """
    title: A shorted diode and a shorted bulk capacitor
    conditions:
      healthy: {label: Healthy}
      diode: {label: Diode D2 shorted, faults: {diode-d2-shorted: present}}
      capacitor: {label: Capacitor shorted, faults: {bulk-shorted: present}}
    expect:
      - {that: let-through of diode / let-through of healthy > 5,
          why: Every other half-cycle is a short through two diodes and the limiter.}
    figures:
      current: {kind: waveforms, title: Line current from switch-on with a short behind the limiter,
          show: [line, bulk], call-outs: [{metric: peak}, {metric: let-through}]}
    """);

// %% [markdown]
// ## The limiter
//
// At the crest of the line an empty capacitor is a short. Cold, the limiter's 10 ohm hold the first pulse to some
// amperes. Linked out, or still hot after a short power cut, it lets through what ages fuses, diodes and switch
// contacts. Open, the board is dead.

// %%
page.Run("limiter", inrush, """
    title: First charge of the bulk capacitor
    conditions:
      healthy: {label: Cold limiter}
      hot: {label: Hot restart, values: {limiter.start-temperature: 150 degC}}
      bypassed: {label: Linked out, faults: {limiter-bypassed: present}}
      drifted: {label: Drifted to three times, faults: {limiter-drifted: 3}}
      wrong: {label: "Wrong part, 1 ohm", faults: {limiter-wrong-part: 1 ohm}}
      open: {label: Open, faults: {limiter-open: present}}
    expect:
      - {that: peak of bypassed / peak of healthy > 3, why: Only the line's own impedance is left.}
    figures:
      first-charge: {kind: waveforms, title: First charge at the crest of the line, show: [line, bulk],
          over: 0 ms to 4 ms, call-outs: [{metric: peak}]}
    """);

// %% [markdown]
// ## Ripple against ESR
//
// A sweep from a new part to a ruined one, with all of the capacitance and with a half of it left.

// %%
page.Run("sweep", bench, """
    title: Ripple against ESR
    conditions:
      healthy: {label: Healthy}
      esr: {label: Full capacitance, faults: {bulk-esr-high: 15 ohm}}
      both: {label: Half of it left, faults: {bulk-esr-high: 15 ohm, bulk-capacitance-lost: 0.5}}
    sweep: {severity-of: bulk-esr-high, label: ESR of the bulk capacitor, from: 0.5 ohm, to: 40 ohm, count: 7, spacing: logarithmic, conditions: [esr, both], record: [ripple, valley]}
    expect:
      - {that: ripple of esr at 40 ohm > ripple of esr at 0.5 ohm,
          why: The load's current steps across the resistance.}
    figures:
      ripple: {kind: sweep, title: Ripple against ESR of the bulk capacitor, show: [ripple, valley],
          conditions: [esr, both]}
    """);

// %% [markdown]
// ## Change this and see
//
// Three numbers to play with. Which of them moves the valley, which the first charge?

// %%
var power = "30 W";
var capacitance = "47 uF";
var esr = "5 ohm";

page.Run("yours", bench, $$"""
    title: Your bulk capacitor
    conditions:
      healthy: {label: As above}
      yours:
        label: Yours
        values:
          load.power: {{power}}
          bulk.capacitance: {{capacitance}}
          bulk.esr: {{esr}}
    expect:
      - {that: ripple of yours has a value, why: Whatever you set it to.}
    figures:
      ripple: {kind: waveforms, title: "Yours: {{power}}, {{capacitance}}, {{esr}}", show: [bulk, charging],
          over: last 4 line cycles, call-outs: [{metric: ripple}, {metric: valley}]}
    """);

// %% [markdown]
// ## Two questions for the class
//
// 1. A board comes in with 100 Hz hum in its supply on a 50 Hz line, its neighbour with 50 Hz hum. Which has the
// tired capacitor, and which the open diode?
// 2. The same capacitor loses 60 % of its capacitance. How much hold-up is left when the plug is pulled: 40 % of it,
// more, or less?
//
// Think before scrolling on: the answers are computed below.

// %% [markdown]
// ## Answers
//
// **1.** Count the pulses per second. Two per line cycle with a tired capacitor, one with an open diode.

// %%
var watch = """
    block: bridge-bulk
    values: {supply: mains-230v, bulk.capacitance: 22 uF, limiter.start-temperature: 60 degC, load.minimum-voltage: 120 V, unplug.at: 250 ms}
    run: {start: switch-on, stop: 500 ms}
    observe:
      bulk: {label: Bulk voltage, point: bulk}
    """;
page.Run("answer-1", watch, """
    title: Hum of a tired capacitor and of an open diode
    metrics:
      frequency: {label: Frequency of the ripple, take: frequency, of: bulk, over: 140 ms to 240 ms}
    conditions:
      healthy: {label: Healthy}
      tired: {label: Tired capacitor, faults: {bulk-capacitance-lost: 0.4}}
      diode: {label: Open diode, faults: {diode-d2-open: present}}
    expect:
      - {that: frequency of tired / frequency of diode = 2 within 5 %,
          why: Two charging pulses per cycle against one.}
    """);

// %% [markdown]
// **2.** Close to 40 %. The converter takes constant power, so the time is the energy between the voltage at which
// the plug is pulled and the one at which the converter gives up: C (V1^2 - V2^2) / 2P, proportional to the
// capacitance. Pulled in a valley, it would be less.

// %%
var held = page.Run("answer-2", watch, """
    title: Hold-up of a tired capacitor
    metrics:
      hold-up: {label: From the pulled plug to 120 V, take: time-to-fall, of: bulk,
          with: {level: 120 V, from: 250 ms}}
    conditions:
      healthy: {label: Rated capacitance}
      faded: {label: 40 % left, faults: {bulk-capacitance-lost: 0.4}}
    expect:
      - {that: hold-up of faded < hold-up of healthy, why: There is less energy to live on.}
    figures:
      hold-up: {kind: waveforms, title: Hold-up after the plug is pulled, show: [bulk], over: 230 ms to 450 ms,
          call-outs: [{metric: hold-up}]}
    """);
var share = held.Condition("faded").Value("hold-up") / held.Condition("healthy").Value("hold-up");
Console.WriteLine($"Hold-up that is left: {share:0.0%} of the healthy one.");
