#:project ../src/BoardSim.Reports/BoardSim.Reports.csproj

// %% [markdown]
// # The relay and its driver
//
// A relay switches the heater of the bakery's proofing cabinet. Its coil wants 30 mA from 12 V, more than the
// processor's port can give; a transistor stands in between. When the transistor turns off, the coil's current has to
// go somewhere: through the *free-wheel diode*.
//
// What fails: the transistor opens, shorts or loses its gain; the diode opens and each turn-off drives the collector
// into breakdown; the coil opens or burns turns together; the base resistor cracks; the rail sags.
//
// This block has no line side, and the load behind its contact here hangs on the 12 V rail. The contacts on a real
// board switch the line: there the cautions of the first notebook hold, also for the connector of a heater that is
// off.

// %%
using BoardSim.Blocks.Relays;
using BoardSim.Boards;
using BoardSim.Reports.Notebooks;

var page = new NotebookPage("out/notebooks/04-relay-driver");
var block = new RelayDriver();
Console.WriteLine(block.Topology);
NotebookPage.Caution(Cautions.For(block.Build()));

// %% [markdown]
// ## The bench
//
// The port goes high at 5 ms and low at 45 ms. Behind the contact a resistor on the 12 V rail stands for the load, so
// that we can see when it is on.

// %%
var bench = """
    block: relay-driver
    run: {accuracy: 1e-4}
    observe:
      collector: {label: Collector, point: collector}
      coil: {label: Coil current, current: coil}
      contact: {label: Load behind the contact, point: contact}
    metrics:
      current: {label: Coil current when on, take: value-at, of: coil, with: {at: 44 ms}}
      saturation: {label: Collector when on, take: value-at, of: collector, with: {at: 44 ms}}
      peak: {label: Highest collector voltage, take: maximum, of: collector}
      operate: {label: Port high to contact closed, take: time-to-rise, of: contact, with: {level: 6 V, from: 5 ms}}
      release: {label: Port low to contact open, take: time-to-fall, of: contact, over: from 44 ms,
          with: {level: 6 V, from: 45 ms}}
    """;

// %% [markdown]
// ## The healthy picture
//
// The coil's current rises slowly, dips where the armature closes (the closing gap takes energy), and settles. At
// turn-off the collector jumps a diode drop above the rail while the current dies down.

// %%
page.Run("healthy", bench, """
    title: A healthy relay driver
    conditions:
      healthy: {label: Healthy}
    expect:
      - {that: current of healthy between 25 mA and 31 mA, why: 12 V across 400 ohm.}
    figures:
      picture: {kind: waveforms, title: "Healthy: collector, coil current, load", show: [collector, coil, contact],
          call-outs: [{metric: current}, {metric: operate}, {metric: release}]}
    """);

// %% [markdown]
// ## The transistor: open, shorted, weak
//
// Open: nothing happens, the collector stays at the rail. Shorted: the relay is on for good, whatever the port says.
// Weak: the collector no longer comes down to ground, and what stands across the transistor heats it.

// %%
page.Run("transistor", bench, """
    title: Faults of the driver transistor
    conditions:
      healthy: {label: Healthy}
      open: {label: Open, faults: {transistor-open: present}}
      shorted: {label: Shorted, faults: {transistor-shorted: 1 ohm}}
      weak: {label: Gain of 25, faults: {transistor-weak: 25}}
    expect:
      - {that: saturation of weak > 1 V, why: The transistor cannot carry what the coil wants.}
      - {that: operate of open has no value, why: "No current, no pull."}
    figures:
      picture: {kind: waveforms, title: The driver transistor, show: [collector, coil, contact],
          call-outs: [{metric: saturation}]}
    """);

// %% [markdown]
// ## The free-wheel diode: open, shorted
//
// Open: only the transistor's own breakdown stops the coil's voltage. The relay even lets go sooner, so nobody
// notices until the transistor gives in. Shorted: the transistor switches the bare rail and the coil gets nothing.

// %%
page.Run("diode", bench, """
    title: Faults of the free-wheel diode
    conditions:
      healthy: {label: Healthy}
      open: {label: Diode open, faults: {free-wheel-open: present}}
      shorted: {label: Diode shorted, faults: {free-wheel-shorted: present}}
    expect:
      - {that: peak of open > 60 V, why: Only the breakdown of the transistor stops it.}
      - {that: release of open < release of healthy, why: A higher voltage empties the coil sooner.}
    figures:
      turn-off: {kind: waveforms, title: Turn-off with a faulty diode, show: [collector, coil], over: 43 ms to 56 ms,
          call-outs: [{metric: peak}, {metric: release}]}
    """);

// %% [markdown]
// ## Coil, base resistor, rail
//
// An open coil and an open base resistor look alike at the load. At the collector they do not: with an open coil it
// hangs low, with an open base resistor it stays at the rail.

// %%
page.Run("no-pull", bench, """
    title: Faults of coil, base resistor and rail
    conditions:
      healthy: {label: Healthy}
      coil: {label: Coil open, faults: {coil-open: present}}
      turns: {label: 40 % of turns shorted, faults: {coil-shorted-turns: 0.4}}
      base: {label: Base resistor open, faults: {base-resistor-open: present}}
      rail: {label: "Rail at 7 V", faults: {rail-sagging: 7 V}}
    expect:
      - {that: operate of rail has no value,
          why: 7 V across 400 ohm are less than the 19.5 mA that the armature needs.}
      - {that: current of turns > current of healthy, why: "Less wire, less resistance."}
    figures:
      picture: {kind: waveforms, title: "Coil, base resistor, rail", show: [collector, coil, contact],
          call-outs: [{metric: current}]}
    """);

// %% [markdown]
// ## Release time against the kind of clamp
//
// A slow release lets the contacts part slowly, and an arc burns on them. A resistor or a Zener diode in series with
// the free-wheel diode lets the coil work against a higher voltage. The transistor has to stand it.

// %%
page.Run("clamps", bench, """
    title: Three kinds of clamp
    conditions:
      healthy: {label: Diode}
      resistor: {label: Diode and 390 ohm, values: {free-wheel: diode-and-resistor}}
      zener: {label: "Diode and 24 V Zener", values: {free-wheel: diode-and-zener}}
      none: {label: No clamp, faults: {free-wheel-open: present}}
    expect:
      - {that: release of zener < release of resistor, why: The Zener's voltage stays up when the current falls.}
      - {that: release of resistor < release of healthy, why: The resistor adds its drop to the diode's.}
    figures:
      turn-off: {kind: waveforms, title: Turn-off with three kinds of clamp and with none, show: [collector, coil],
          over: 44 ms to 54 ms, call-outs: [{metric: peak}, {metric: release}]}
    """);

// %%
page.Run("sweep", bench, """
    title: Release time against the Zener's voltage
    conditions:
      healthy: {label: Diode and Zener, values: {free-wheel: diode-and-zener}}
    sweep: {vary: free-wheel.zener-voltage, label: Voltage of the Zener diode, points: [3.3 V, 6.8 V, 12 V, 24 V, 36 V, 47 V], record: [release, peak]}
    expect:
      - {that: release of healthy falls over the sweep, why: The higher the voltage the sooner the coil is empty.}
    figures:
      release: {kind: sweep, title: Release time against the Zener's voltage, show: [release, peak]}
    """);

// %% [markdown]
// ## Change this and see
//
// Three numbers to play with. When does the relay no longer pull in? When does the transistor no longer saturate?

// %%
var rail = "10 V";
var temperature = "90 degC";
var resistor = "10 kohm";

page.Run("yours", bench, $$"""
    title: Your relay driver
    conditions:
      healthy: {label: As above}
      yours:
        label: Yours
        values:
          rail.voltage: {{rail}}
          coil.temperature: {{temperature}}
          base.resistance: {{resistor}}
    expect:
      - {that: current of yours has a value, why: Whatever you set it to.}
    figures:
      picture: {kind: waveforms, title: "Yours: {{rail}}, {{temperature}}, base {{resistor}}",
          show: [collector, coil, contact], call-outs: [{metric: current}, {metric: operate}]}
    """);

// %% [markdown]
// ## Two questions for the class
//
// 1. The relay works in the morning and fails in the afternoon, when the electronics box has reached 110 degC at the
// coil. Is the heat enough, or does it need a second fault?
// 2. A repair puts a Zener diode of 68 V in series with the free-wheel diode to speed up the release. The transistor
// stands 70 V. What is the highest voltage at the collector?
//
// Think before scrolling on: the answers are computed below.

// %% [markdown]
// ## Answers
//
// **1.** Heat alone is not enough. Copper gains 0.39 % per kelvin, which costs the coil a quarter of its current;
// with the rail at 10 V as well it no longer reaches its pull-in current.

// %%
page.Run("answer-1", bench, """
    title: A hot coil on a sagging rail
    conditions:
      healthy: {label: 20 degC}
      hot: {label: 110 degC, values: {coil.temperature: 110 degC}}
      both: {label: "110 degC, 10 V", values: {coil.temperature: 110 degC}, faults: {rail-sagging: 10 V}}
    expect:
      - {that: operate of hot has a value, why: A quarter less current still pulls in.}
      - {that: operate of both has no value, why: Both together do not.}
    """);

// %% [markdown]
// **2.** Not 80 V: the transistor breaks down before the Zener does, and takes the coil's energy itself at each
// turn-off. Rail and Zener together have to stay below the transistor's breakdown.

// %%
var repair = page.Run("answer-2", bench, """
    title: A Zener diode that is too high
    conditions:
      healthy: {label: 24 V Zener, values: {free-wheel: diode-and-zener}}
      high: {label: 68 V Zener, values: {free-wheel: diode-and-zener, free-wheel.zener-voltage: 68 V}}
    expect:
      - {that: peak of high < 80 V, why: The transistor clamps before the Zener does.}
    """);
Console.WriteLine($"With the 68 V Zener the collector reaches {repair.Condition("high").Value("peak"):0.0} V, with that of 24 V {repair.Condition("healthy").Value("peak"):0.0} V.");
