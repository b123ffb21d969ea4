#:project ../src/BoardSim.Reports/BoardSim.Reports.csproj

// %% [markdown]
// # The supply chain: from the plug to the reset
//
// The controller of the bakery's proofing cabinet as one board: line entry, rectifier, closed-loop supply, 5 V regulator,
// processor with its supervisor, relays, heater and chamber. A fault upstream shows downstream, and often it shows best
// where nobody looks first: a capacitor on the line side resets a program, a tired opto-coupler leaves no trace at the rail.
//
// Every picture here is seconds of the whole board, with the converter averaged over its switching cycle.

// %%
using BoardSim.Boards;
using BoardSim.Reports.Notebooks;
using BoardSim.Scenarios;

// The folder that this runs in is that of the repository, or the notebook's own.
var here = "out/notebooks/09-chain";
var page = new NotebookPage(here);
var file = (Directory.Exists("scenarios") ? "" : "../") + "scenarios/boards/proofer-120v.yaml";
var board = Path.GetRelativePath(here, file).Replace('\\', '/');
var plan = BoardFile.Read(file);
Console.WriteLine(plan.Title);
Console.WriteLine(string.Join(" - ", plan.Blocks.Select(b => b.Name)));
NotebookPage.Caution(Cautions.For(plan.Make().Build()));

// %% [markdown]
// ## The bench
//
// What is looked at in every run. States such as the count of resets are the board's own; no probe can see them.

// %%
var bench = $$"""
    board: {{board}}
    observe:
      bulk: {label: Bulk voltage, point: bridge.bulk, instrument: none}
      vcc: {label: "Controller's supply", point: supply.vcc, instrument: none}
      rail: {label: 12 V rail, point: rail-12v, instrument: none}
      rectified: {label: In front of the post filter, point: supply.rectified, instrument: none}
      five: {label: 5 V supply, point: rail-5v, instrument: none}
      led: {label: Current to the LED and its bias resistor, current: supply.led}
      line: {label: Line current, current: entry.line}
      melting: {label: Melting of the fuse, state: entry.fuse-melting}
      open: {label: Fuse open, state: entry.fuse-open}
      resets: {label: Resets, state: processor.reset-count}
      starts: {label: Starts of the converter, state: supply.starts}
      relay: {label: Armature of the fan relay, state: fan-relay.armature}
    """;

// %% [markdown]
// ## The healthy picture
//
// The bulk capacitor is charged within a few milliseconds; then nothing seems to happen for most of a second, until the start
// resistor has charged the controller's supply. Rail, 5 V and program follow within some tens of milliseconds, the fan relay when the program says so.

// %%
page.Run("healthy", bench, """
    title: From the plug to the program
    run: {start: switch-on, stop: 1.6 s, accuracy: 0.002}
    conditions:
      healthy: {label: Healthy}
    metrics:
      rail-mean: {label: 12 V rail, take: mean, of: rail, over: 1.4 s to 1.6 s}
      rail-up: {label: Rail is up, take: time-to-rise, of: rail, with: {level: 11 V}}
      counted: {label: Resets, take: maximum, of: resets}
    expect:
      - {that: rail-mean of healthy = 12.1 V within 2 %, why: "2.5 V (1 + 38.3/10)."}
      - {that: counted of healthy < 0.5, why: Nothing resets it.}
    figures:
      picture: {kind: waveforms, title: From the plug to the program, show: [bulk, vcc, rail, five, relay], call-outs: [{metric: rail-up}]}
    """);

// %% [markdown]
// ## Dried-out bulk capacitor at low line: resets
//
// 4 % of the bulk capacitance is left, the line is at 90 V, and a lamp hangs on the rail. Between two crests the converter finds nothing: its rail
// falls, its own supply falls with it, it stops, charges up and tries again. The supervisor resets the processor each time, the relay drops and pulls.
// Seen from the program's side this is "it keeps restarting"; the cause sits four blocks upstream.

// %%
var starving = page.Run("dried-out-bulk", bench, """
    title: Dried-out bulk capacitor at low line
    values: {mains.line.voltage: 90 V, rail-load.resistance: 8 ohm}
    run: {start: switch-on, stop: 4 s, accuracy: 0.002}
    conditions:
      healthy: {label: New capacitor}
      dried-out: {label: 4 % of it left, faults: {bridge.bulk-capacitance-lost: 0.04}}
    metrics:
      cycle: {label: From one reset to the next, take: period, of: five, over: 1.2 s to 4 s}
      counted: {label: Resets until 4 s, take: maximum, of: resets}
      starts-counted: {label: Starts until 4 s, take: maximum, of: starts}
      valley: {label: Lowest bulk voltage, take: minimum, of: bulk, over: 2 s to 4 s}
    expect:
      - {that: counted of healthy < 0.5, why: A healthy board runs at 90 V.}
      - {that: counted of dried-out >= 2, why: Each time the rail collapses 5 V go with it.}
      - {that: starts-counted of dried-out >= 2, why: The controller stops with its own supply and starts anew.}
    figures:
      chain: {kind: waveforms, title: Starving at 90 V, show: [bulk, rail, five, resets, relay], over: 0.8 s to 4 s, call-outs: [{metric: counted}]}
    """);
Console.WriteLine($"That is {60 / starving.Condition("dried-out").Value("cycle"):0} resets a minute.");

// %% [markdown]
// ## Aged output capacitors: look in front of the post filter
//
// A tenth of the capacitance and 2 ohm: fan and relay come on (its contact bounces), and the voltage in front of the post filter jumps. The rail, behind the
// filter's own capacitor, looks as it does when new; at 5 V nothing is left. The probe has to go to the capacitors themselves.

// %%
page.Run("aged-output", bench, """
    title: Aged output capacitors under load
    values: {fan.resistance: 12 ohm}
    run: {start: switch-on, stop: 1.5 s, accuracy: 0.002}
    conditions:
      healthy: {label: New}
      aged: {label: A tenth and 2 ohm, faults: {supply.output-capacitance-lost: 0.1, supply.output-esr-high: 2 ohm}}
    metrics:
      swing-in-front: {label: Swing in front of the post filter, take: ripple-peak-to-peak, of: rectified, over: 1 s to 1.5 s}
      swing-rail: {label: Swing of the rail, take: ripple-peak-to-peak, of: rail, over: 1 s to 1.5 s}
      swing-five: {label: Swing of 5 V, take: ripple-peak-to-peak, of: five, over: 1 s to 1.5 s}
      counted: {label: Resets, take: maximum, of: resets}
    expect:
      - {that: swing-in-front of aged / swing-in-front of healthy > 1.5, why: Less capacitance and more resistance let the load step through.}
      - {that: counted of aged < 0.5, why: The supervisor sees nothing of it yet.}
    figures:
      step: {kind: waveforms, title: Fan and relay come on, show: [rectified, rail, relay], over: 1.07 s to 1.1 s, call-outs: [{metric: swing-in-front}]}
    """);

// %% [markdown]
// ## A shorted bridge diode: when does the fuse open?
//
// Every other half-wave meets a short through the neighbouring diode. The inrush limiter holds it at first, warms up, and lets more and more through.

// %%
var fuse = page.Run("diode-shorted", bench, """
    title: Bridge diode shorted
    run: {start: switch-on, stop: 200 ms, accuracy: 0.002}
    conditions:
      healthy: {label: Healthy}
      shorted: {label: D1 shorted, faults: {bridge.diode-d1-shorted: present}}
    metrics:
      opens-at: {label: Fuse opens, take: time-to-rise, of: open, with: {level: 0.5}}
      peak: {label: Highest line current, take: peak, of: line}
    expect:
      - {that: opens-at of healthy has no value, why: The inrush is nothing to a time-lag fuse.}
      - {that: opens-at of shorted < 200 ms, why: A few half-waves make up its melting I2t.}
    figures:
      fuse: {kind: waveforms, title: The fuse with a shorted bridge diode, show: [line, melting], over: 0 s to 60 ms, call-outs: [{metric: opens-at}]}
    """);
Console.WriteLine($"The fuse opens after {fuse.Condition("shorted").Value("opens-at") * 120:0.0} half-cycles of the line.");

// %% [markdown]
// ## The opto-coupler: faded, worn out, open
//
// Half the light: the loop asks for twice the LED current and gets it, the rail does not move. Two hundredths: the LED's resistor can give no more, and the rail
// climbs. LED open: the rail runs to more than twice its value, until the overload timer ends each attempt; what flows then flows through the bias resistor beside the LED.

// %%
page.Run("opto", bench, """
    title: Faults of the opto-coupler
    run: {start: switch-on, stop: 2 s, accuracy: 0.001}
    conditions:
      healthy: {label: Healthy}
      faded: {label: Half the transfer ratio, faults: {supply.opto-transfer-low: 0.5}}
      worn-out: {label: 2 %, faults: {supply.opto-transfer-low: 0.02}}
      open: {label: LED open, faults: {supply.opto-led-open: present}}
    metrics:
      rail-mean: {label: 12 V rail, take: mean, of: rail, over: 1.4 s to 2 s}
      rail-highest: {label: Highest rail, take: maximum, of: rail}
      led-mean: {label: Current to LED and bias, take: mean, of: led, over: 1.4 s to 2 s}
    expect:
      - {that: rail-mean of faded = 12.1 V within 2 %, why: The loop makes up for it.}
      - {that: led-mean of faded - led-mean of healthy > 0.3 mA, why: Half the ratio takes close to twice the current.}
      - {that: rail-mean of worn-out > 13 V, why: The loop has lost its grip.}
      - {that: rail-highest of open > 20 V, why: Nothing but the overload timer ends the rise.}
    figures:
      rail: {kind: waveforms, title: The rail and the opto-coupler, show: [rail, led], over: 0.7 s to 2 s, call-outs: [{metric: rail-highest}]}
    """);

// %% [markdown]
// ## What a meter shows: right and wrong reference
//
// The same healthy board and the starved one, with a voltmeter at each test point, on DC and on AC, against the point's own reference and against the wrong one. Meters against the wrong
// reference are put on one after the other: several at once would pull the low-voltage side, which hangs on a megohm, and read less than one alone does. The last two rows are the low-impedance range on the primary side: against the primary return it only burns watts; against board ground it reads next to nothing on a live capacitor, and ties the
// low-voltage side to it. A reading of nothing is no proof that a part is dead.

// %%
page.Run("meter", $"board: {board}", """
    title: What a meter shows
    values: {mains.line.voltage: 90 V, rail-load.resistance: 8 ohm}
    run: {start: switch-on, stop: 4.4 s, accuracy: 0.002}
    conditions:
      healthy: {label: New capacitor}
      dried-out: {label: 4 % of it left, faults: {bridge.bulk-capacitance-lost: 0.04}}
    observe:
      fused-ac: {label: "Line behind the fuse, AC", point: entry.fused, instrument: ac-voltmeter-true-rms, over: 1.5 s to 3 s}
      bulk-dc: {label: "Bulk, DC", point: bridge.bulk, instrument: dc-voltmeter, over: 1.5 s to 3 s}
      bulk-ac: {label: "Bulk, AC", point: bridge.bulk, instrument: ac-voltmeter-true-rms, over: 1.5 s to 3 s}
      bulk-wrong-dc: {label: "Bulk against board ground, DC", point: bridge.bulk, against: board-ground, instrument: dc-voltmeter, settings: {connect-at: 3 s, disconnect-at: 3.3 s}, over: 3.04 s to 3.29 s}
      bulk-wrong-ac: {label: "Bulk against board ground, AC", point: bridge.bulk, against: board-ground, instrument: ac-voltmeter-true-rms, settings: {connect-at: 3.3 s, disconnect-at: 3.6 s}, over: 3.34 s to 3.59 s}
      vcc-dc: {label: "Controller's supply, DC", point: supply.vcc, instrument: dc-voltmeter, over: 1.5 s to 3 s}
      rail-dc: {label: "12 V rail, DC", point: rail-12v, instrument: dc-voltmeter, over: 1.5 s to 3 s}
      rail-ac: {label: "12 V rail, AC", point: rail-12v, instrument: ac-voltmeter-true-rms, over: 1.5 s to 3 s}
      rail-wrong-dc: {label: "12 V rail against primary return, DC", point: rail-12v, against: primary-return, instrument: dc-voltmeter, settings: {connect-at: 3.6 s, disconnect-at: 3.9 s}, over: 3.64 s to 3.89 s}
      five-dc: {label: "5 V supply, DC", point: rail-5v, instrument: dc-voltmeter, over: 1.5 s to 3 s}
      five-ac: {label: "5 V supply, AC", point: rail-5v, instrument: ac-voltmeter-true-rms, over: 1.5 s to 3 s}
      bulk-low: {label: "Bulk, low-impedance DC", point: bridge.bulk, instrument: low-impedance-dc-voltmeter, settings: {connect-at: 3.9 s, disconnect-at: 4.15 s}, over: 3.94 s to 4.14 s}
      bulk-wrong-low: {label: "Bulk against board ground, low-impedance DC", point: bridge.bulk, against: board-ground, instrument: low-impedance-dc-voltmeter,
          settings: {connect-at: 4.15 s}, over: 4.19 s to 4.39 s}
    expect:
      - {that: rail-dc of healthy = 12.1 V within 2 %, why: The healthy board runs at 90 V.}
      - {that: rail-dc of dried-out < 11 V, why: A DC meter averages over ups and downs.}
      - {that: rail-ac of dried-out > 0.5 V, why: "The AC range tells that the rail does not stand still."}
      - {that: bulk-wrong-low of healthy < 5 V, why: Three kilohms against a megohm; the capacitor is live all the same.}
    figures:
      meter: {kind: bars, title: What the meter shows, show: [bulk-dc, bulk-ac, rail-dc, rail-ac, five-dc]}
    """);

// %% [markdown]
// ## Change this and see
//
// At which line voltage does a capacitor with a tenth of its capacitance begin to cost resets? What does the lamp on the rail have to do with it?

// %%
var volts = "80 V";
var left = "0.08";
var lamp = "8 ohm";

page.Run("yours", bench, $$"""
    title: Your board
    run: {start: switch-on, stop: 2.5 s, accuracy: 0.002}
    conditions:
      healthy: {label: As above}
      yours:
        label: Yours
        faults:
          bridge.bulk-capacitance-lost: {{left}}
        values:
          mains.line.voltage: {{volts}}
          rail-load.resistance: {{lamp}}
    metrics:
      counted: {label: Resets, take: maximum, of: resets}
      valley: {label: Lowest bulk voltage, take: minimum, of: bulk, over: 2 s to 2.5 s}
    expect:
      - {that: valley of yours has a value, why: Whatever you set it to.}
    figures:
      picture: {kind: waveforms, title: "Yours: {{volts}}, {{left}} of the capacitor, {{lamp}}", show: [bulk, rail, resets], over: 0.5 s to 2.5 s}
    """);

// %% [markdown]
// ## Two questions for the class
//
// 1. A cabinet restarts some seventy times a minute, and only in the evening. The DC meter reads 5 V at the processor for a moment, then 2 V, then 5 V. Which capacitor do you measure, and when?
// 2. A board is dead with a blown fuse. A new fuse blows at once, after about one cycle. Name two parts that do this and one measurement on the unplugged, discharged board that tells them
// apart.
//
// Think before scrolling on.

// %% [markdown]
// ## Answers
//
// **1.** The bulk capacitor, on the unplugged and discharged board: in the evening the line is low, and only then do the valleys reach below what the converter needs. At noon everything reads right.
//
// **2.** A shorted bridge diode and a shorted bulk capacitor (a varistor that has fused together would be a third, in front of the limiter). The ohmmeter or the diode test across each diode of the bridge, and across the capacitor: a
// shorted diode reads a short both ways, the capacitor's nodes charge up.
