#:project ../src/BoardSim.Reports/BoardSim.Reports.csproj

// %% [markdown]
// # The supply and its loop
//
// The controller of the bakery's proofing cabinet lives on 12 V from a flyback supply. A start resistor charges the
// controller's own supply; it starts, and from then on an auxiliary winding feeds it. On the other side of the
// barrier a shunt reference compares the rail with 2.5 V and tells the controller through an opto-coupler.
//
// What fails: the start resistor opens; the small capacitor at the controller dries out; the opto-coupler fades or
// opens; a divider resistor drifts; a load shorts the rail. Each of these has its own picture in time.
//
// The supply is computed averaged over its switching cycle: seconds of board time in a fraction of a second.

// %%
using BoardSim.Blocks.Converters;
using BoardSim.Boards;
using BoardSim.Reports.Notebooks;

var page = new NotebookPage("out/notebooks/05-closed-loop-supply");
var block = new FlybackSupply();
Console.WriteLine(block.Topology);
NotebookPage.Caution(Cautions.For(block.Build()));

// %% [markdown]
// ## The bench
//
// 160 V of bulk voltage comes on at once; 10 ohm hang on the rail.

// %%
var bench = """
    block: flyback-supply
    run: {start: switch-on, stop: 3 s}
    observe:
      rail: {label: 12 V rail, point: rail, instrument: none}
      vcc: {label: "Controller's supply", point: vcc, instrument: none}
      feedback: {label: Feedback pin, point: feedback, instrument: none}
      led: {label: LED current, current: led}
      starts: {label: Starts, state: starts}
    metrics:
      rail-mean: {label: Rail at the end, take: mean, of: rail, over: from 2.8 s}
      rail-highest: {label: Highest rail, take: maximum, of: rail}
      rail-up: {label: Rail is up, take: time-to-rise, of: rail, with: {level: 11 V}}
      starts-counted: {label: Starts in three seconds, take: maximum, of: starts}
      period: {label: Hiccup period, take: period, of: vcc, over: from 1.2 s}
    """;

// %% [markdown]
// ## The healthy picture
//
// For most of a second nothing seems to happen: the start resistor charges the controller's supply to 16 V. Then the
// rail comes up within some milliseconds, overshoots a little, and the feedback pin finds its place.

// %%
page.Run("healthy", bench, """
    title: A healthy start
    conditions:
      healthy: {label: Healthy}
    expect:
      - {that: rail-mean of healthy = 12.1 V within 2 %, why: "2.5 V (1 + 38.3/10)."}
      - {that: starts-counted of healthy = 1 within 1 %, why: It starts once.}
    figures:
      picture: {kind: waveforms, title: "Healthy: rail, controller's supply, feedback", show: [rail, vcc, feedback], over: 0 s to 1.2 s,
          call-outs: [{metric: rail-up}]}
    """);

// %% [markdown]
// ## The start: resistor drifted, resistor open, capacitor dried out
//
// A drifted start resistor makes it late, an open one keeps it dead with all voltage there. A dried-out capacitor
// charges quickly and does not last until the auxiliary winding takes over: the supply ticks.

// %%
page.Run("start", bench, """
    title: Faults of the start-up
    conditions:
      healthy: {label: Healthy}
      drifted: {label: Start resistor three times as large, faults: {start-resistor-drifted: 3}}
      open: {label: Start resistor open, faults: {start-resistor-open: present}}
      dried-out: {label: A tenth of the capacitor left, faults: {vcc-capacitance-lost: 0.1}}
    expect:
      - {that: rail-up of drifted / rail-up of healthy > 2.5, why: The capacitor charges through it.}
      - {that: rail-up of open has no value, why: Nothing charges the controller.}
      - {that: starts-counted of dried-out > 3, why: It stops before the auxiliary winding feeds it and starts again.}
    figures:
      picture: {kind: waveforms, title: Start-up with a fault, show: [rail, vcc], call-outs: [{metric: starts-counted}]}
    """);

// %% [markdown]
// ## The loop: opto-coupler faded, opto-coupler open, divider drifted
//
// A faded opto-coupler is driven harder, and the rail hardly moves until the LED's resistor can give no more. An open
// one lets the rail run away until the overload timer ends it. A drifted divider makes a clean, stable, wrong rail.

// %%
page.Run("loop", bench, """
    title: Faults of the loop
    conditions:
      healthy: {label: Healthy}
      faded: {label: Transfer ratio 0.3, faults: {opto-transfer-low: 0.3}}
      open: {label: LED open, faults: {opto-led-open: present}}
      divider: {label: Upper resistor 20 % up, faults: {divider-upper-drifted: 1.2}}
    expect:
      - {that: rail-mean of faded = 12.1 V within 2 %, why: The reference asks for more LED current and gets it.}
      - {that: rail-highest of open > 15 V, why: Nothing tells the controller to stop.}
      - {that: rail-mean of divider between 13.5 V and 15 V, why: "2.5 V (1 + 1.2 x 38.3/10)."}
    figures:
      picture: {kind: waveforms, title: Faults of the loop, show: [rail, led, feedback], over: from 0.7 s, call-outs: [{metric: rail-highest}]}
    """);

// %% [markdown]
// ## A shorted rail: hiccup
//
// The auxiliary winding follows the rail, so a short starves the controller; it stops and starts anew. How often is a
// matter of its capacitor and the start resistor alone.

// %%
page.Run("sweep", bench, """
    title: Hiccup against the capacitor at the controller
    conditions:
      healthy: {label: No short}
      shorted: {label: 0.3 ohm across the rail, faults: {rail-overloaded: 0.3 ohm}}
    sweep: {vary: vcc.capacitance, label: Capacitor of the controller's supply, points: [10 uF, 15 uF, 22 uF, 33 uF], record: [period],
        conditions: [shorted]}
    expect:
      - {that: period of shorted rises over the sweep, why: A larger capacitor takes longer to charge.}
    figures:
      period: {kind: sweep, title: Hiccup period, show: [period]}
    """);

// %% [markdown]
// ## Change this and see
//
// Three numbers to play with. When does the current limit decide? When does the supply no longer start?

// %%
var load = "8 ohm";
var resistor = "470 kohm";
var limit = "0.7 ohm";

page.Run("yours", bench, $$"""
    title: Your supply
    conditions:
      healthy: {label: As above}
      yours:
        label: Yours
        values:
          load.resistance: {{load}}
          start.resistance: {{resistor}}
          sense.resistance: {{limit}}
    expect:
      - {that: rail-mean of yours has a value, why: Whatever you set it to.}
    figures:
      picture: {kind: waveforms, title: "Yours: {{load}}, {{resistor}}, {{limit}}", show: [rail, vcc], call-outs: [{metric: rail-mean}]}
    """);

// %% [markdown]
// ## Two questions for the class
//
// 1. A supply is dead after lightning. 165 V stand on the bulk capacitor, 0.4 V at the controller. A colleague has
// changed the controller. What would you have measured first?
// 2. A rail reads 14 V, rock steady. The opto-coupler is suspected. Is it that?
//
// Think before scrolling on: the answers are computed below.

// %% [markdown]
// ## Answers
//
// **1.** The start resistor, on the unplugged and discharged board. With it open the controller never sees its start
// voltage, old or new.
//
// **2.** No. A faded opto-coupler does not move the rail, and a dead one lets it run away and stop. A steady wrong rail
// is a drifted divider.

// %%
var answer = page.Run("answers", bench, """
    title: Two answers
    conditions:
      healthy: {label: Healthy}
      start: {label: Start resistor open, faults: {start-resistor-open: present}}
      faded: {label: Transfer ratio 0.3, faults: {opto-transfer-low: 0.3}}
      divider: {label: Upper resistor 20 % up, faults: {divider-upper-drifted: 1.2}}
    expect:
      - {that: starts-counted of start < 0.5, why: Without the start resistor nothing starts.}
      - {that: rail-mean of faded = 12.1 V within 2 %, why: The loop holds the rail.}
      - {that: rail-mean of divider > 13.5 V, why: The loop holds the wrong rail.}
    figures:
      answers: {kind: bars, title: What the rail reads, show: [rail-mean]}
    """);
Console.WriteLine($"With the faded opto-coupler the rail is at {answer.Condition("faded").Value("rail-mean"):0.00} V, with the drifted divider at {answer.Condition("divider").Value("rail-mean"):0.00} V.");
