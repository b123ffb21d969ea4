#:project ../src/BoardSim.Reports/BoardSim.Reports.csproj

// %% [markdown]
// # The thermistor input
//
// What the proofing cabinet's controller knows of its chamber comes through one thermistor: a divider turns its
// resistance into a voltage, a converter into a number, and the program looks the number up in a table. The program
// believes what comes out.
//
// What fails: the sensor opens, shorts or drifts; somebody fits one of another type; steam condenses in the plug and
// conducts; its contacts corrode; the divider's resistor drifts; the board has the program of another model. Most of
// these read as a temperature that is plausible and wrong.
//
// This block has no line side. On boards without an isolating supply the sensor's wires are connected to the line all
// the same: find out before you touch them.

// %%
using BoardSim.Blocks.Thermistors;
using BoardSim.Boards;
using BoardSim.Reports.Notebooks;

var page = new NotebookPage("out/notebooks/03-thermistor-input");
var block = new ThermistorInput();
Console.WriteLine(block.Topology);
NotebookPage.Caution(Cautions.For(block.Build()));

// %% [markdown]
// ## The bench
//
// The chamber is at 35 degC, a good temperature for dough. Sweeps show the whole range from a freezer to a hot
// electronics box.

// %%
var bench = """
    block: thermistor-input
    values: {sensor.temperature: 35 degC}
    run: {compute: operating-point}
    observe:
      pin: {label: Pin of the converter, point: adc, instrument: dc-voltmeter}
      indicated: {label: Indicated temperature, readout: indicated-temperature}
      error: {label: Error, readout: indicated-temperature, show: error}
    """;
var chamber = """
    sweep: {vary: sensor.temperature, label: Chamber temperature, from: -20 degC, to: 60 degC, count: 9,
        record: [indicated, error]}
    """;

// %% [markdown]
// ## The healthy picture
//
// The thermistor stands between pin and ground: the warmer, the lower the voltage. Ten bits and a table of thirty
// entries keep the error within a fraction of a kelvin.

// %%
page.Run("healthy", bench, """
    sweep: {vary: sensor.temperature, label: Chamber temperature, from: -20 degC, to: 60 degC, count: 9,
        record: [pin, indicated, error]}
    title: A healthy thermistor input
    conditions:
      healthy: {label: Healthy}
    expect:
      - {that: error of healthy = 0 K within 1 K, why: Straight lines between the entries and steps of the converter.}
    figures:
      curve: {kind: sweep, title: "Healthy: pin voltage and indicated temperature", show: [pin, indicated]}
    """);

// %% [markdown]
// ## Open and shorted
//
// Open puts the pin at the supply, which the table reads as its coldest entry: the heater runs. Shorted puts it at
// ground, the hottest. Neither follows the chamber, and a program that checks its limits finds both.

// %%
page.Run("open-shorted", bench, chamber, """
    title: Sensor open and shorted
    conditions:
      healthy: {label: Healthy}
      open: {label: Open, faults: {sensor-open: present}}
      shorted: {label: Shorted, faults: {sensor-shorted: present}}
    expect:
      - {that: indicated of open < -30 degC, why: The table ends at its coldest entry.}
      - {that: indicated of shorted > 100 degC, why: The table ends at its hottest entry.}
    figures:
      indicated: {kind: sweep, title: Sensor open and shorted, show: [indicated]}
    """);

// %% [markdown]
// ## Drifted, or of another type
//
// A sensor that has drifted up by 30 % reads too cold everywhere. One of another beta is right at 25 degC and nowhere
// else: a check at room temperature passes it.

// %%
page.Run("wrong-sensor", bench, chamber, """
    title: Sensor drifted and of another type
    conditions:
      healthy: {label: Healthy}
      drifted: {label: Drifted by 30 %, faults: {sensor-drifted: 1.3}}
      beta: {label: Beta 500 K lower, faults: {sensor-beta-shifted: -500 K}}
      table: {label: Wrong table, faults: {firmware-wrong-curve: 3435 K}}
    expect:
      - {that: error of drifted < -4 K, why: More resistance reads as colder.}
      - {that: error of drifted at 20 degC < -4 K, why: It is off over the whole range.}
    figures:
      error: {kind: sweep, title: Error of a drifted and of a wrong sensor, show: [indicated, error]}
    """);

// %% [markdown]
// ## Plug and divider
//
// A damp plug puts a resistance in parallel and reads too warm, most of all when the sensor is cold and its own
// resistance high. Corroded contacts add resistance and read too cold, most of all when it is hot. The divider's
// resistor is on the board: an ohmmeter at the plug finds nothing.

// %%
page.Run("plug-divider", bench, chamber, """
    title: Plug damp, plug corroded, divider drifted
    conditions:
      healthy: {label: Healthy}
      damp: {label: "Damp, 20 kohm", faults: {connector-damp: 20 kohm}}
      corroded: {label: "Corroded, 1 kohm", faults: {connector-corroded: 1 kohm}}
      divider: {label: "Divider up by 20 %", faults: {divider-drifted: 1.2}}
    expect:
      - {that: error of damp > 3 K, why: A film in parallel lowers the resistance.}
      - {that: error of corroded < 0 K, why: A resistance in series raises it.}
    figures:
      error: {kind: sweep, title: Error from plug and divider, show: [indicated, error]}
    """);

// %% [markdown]
// ## Error against leakage resistance
//
// From a drop of water to a plug that is merely not quite clean. A few tenths of a kelvin are the healthy board's
// own. At what leakage does a proofing cabinet at 35 degC go wrong by more than a kelvin?

// %%
page.Run("sweep", bench, """
    title: Error against leakage resistance
    conditions:
      healthy: {label: Healthy}
      proofing: {label: "Damp, chamber at 35 degC", faults: {connector-damp: 20 kohm}}
      cooling: {label: "Damp, chamber at 4 degC", values: {sensor.temperature: 4 degC},
          faults: {connector-damp: 20 kohm}}
    sweep: {severity-of: connector-damp, label: Leakage resistance, from: 5 kohm, to: 1 Mohm, count: 8, spacing: logarithmic, conditions: [proofing, cooling], record: [error]}
    expect:
      - {that: error of proofing falls over the sweep, why: The drier the plug the smaller the error.}
    figures:
      error: {kind: sweep, title: Error against leakage resistance, show: [error], conditions: [proofing, cooling]}
    """);

// %% [markdown]
// ## Change this and see
//
// Three numbers to play with. Which divider is best for a freezer, which for an oven? Where does the table get too
// coarse?

// %%
var divider = "4.7 kohm";
var entries = "8";
var leakage = "100 kohm";

page.Run("yours", bench, chamber, $$"""
    title: Your thermistor input
    conditions:
      healthy: {label: As above}
      yours:
        label: Yours
        values:
          divider.resistance: {{divider}}
          firmware.entries: {{entries}}
          connector.leakage: {{leakage}}
    expect:
      - {that: error of yours has a value, why: Whatever you set it to.}
    figures:
      error: {kind: sweep, title: "Yours: divider {{divider}}, {{entries}} entries, leakage {{leakage}}",
          show: [indicated, error]}
    """);

// %% [markdown]
// ## Two questions for the class
//
// 1. The cabinet shows 25 degC in a room of 25 degC, and 31 degC when a good thermometer in the chamber says 35 degC.
// Sensor drifted, or sensor of another type?
// 2. You pull the plug and measure the sensor with an ohmmeter at 25 degC. Which of corroded contacts, drifted sensor
// and drifted divider will you *not* find?
//
// Think before scrolling on: the answers are computed below.

// %% [markdown]
// ## Answers
//
// **1.** A drifted sensor is off at 25 degC too. One with another beta, or a program with the table of another
// sensor, is right there.

// %%
page.Run("answer-1", bench, """
    title: Right at 25 degC and wrong at 35 degC
    conditions:
      healthy: {label: Healthy}
      drifted: {label: Drifted, faults: {sensor-drifted: 1.17}}
      type: {label: Beta lower, faults: {sensor-beta-shifted: -1550 K}}
    sweep: {vary: sensor.temperature, label: Chamber temperature, points: [25 degC, 35 degC],
        conditions: [drifted, type], record: [indicated, error]}
    expect:
      - {that: error of drifted at 25 degC < -2 K, why: Its resistance is off at every temperature.}
    """);

// %% [markdown]
// **2.** The divider: it stayed on the board.

// %%
page.Run("answer-2", """
    title: What an ohmmeter says at the pulled plug
    block: thermistor-input
    values: {sensor.temperature: 25 degC, connector.state: unplugged}
    run: {compute: operating-point}
    observe:
      ohms: {label: Ohmmeter at the plug, readout: ohmmeter}
    conditions:
      healthy: {label: Healthy}
      corroded: {label: Corroded, faults: {connector-corroded: 1 kohm}}
      drifted: {label: Sensor drifted, faults: {sensor-drifted: 1.3}}
      divider: {label: Divider drifted, faults: {divider-drifted: 1.2}}
    expect:
      - {that: ohms of divider / ohms of healthy = 1 within 0.1 %,
          why: The divider is not in the sensor's circuit when the plug is pulled.}
    figures:
      ohms: {kind: bars, title: "Ohmmeter at the pulled plug, 25 degC", show: [ohms]}
    """);
