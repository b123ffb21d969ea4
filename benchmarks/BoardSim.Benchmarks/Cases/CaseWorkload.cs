using System.Globalization;
using BoardSim.Scenarios;

namespace BoardSim.Benchmarks.Cases;

/// <summary>A sweep or a tolerance run of one block, of any number of cases.</summary>
/// <param name="Name">What the table calls it.</param>
/// <param name="Cases">Cases when no number is given.</param>
/// <param name="Text">The scenario, with <c>COUNT</c> where the number of cases stands.</param>
internal sealed record CaseWorkload(string Name, int Cases, string Text)
{
    /// <summary>Two of each block. The converter is run for twenty switching periods from switch-on only: a settled one is the business of a
    /// periodic run.</summary>
    public static IReadOnlyList<CaseWorkload> All { get; } =
    [
        Sweep("bridge-bulk, ESR", Rectifier, "severity-of: bulk-esr-high, from: 0.5 ohm, to: 50 ohm, spacing: logarithmic", "ripple"),
        Tolerance("bridge-bulk", Rectifier, "bulk.capacitance: 20 %, bulk.esr: 30 %, line.voltage: 10 %", "ripple"),
        Sweep("flyback-output, ESR", Converter, "severity-of: output-esr-high, from: 30 mohm, to: 3 ohm, spacing: logarithmic", "ripple"),
        Tolerance("flyback-output", Converter, "output.capacitance: 20 %, output.esr: 30 %, transformer.primary-inductance: 10 %", "ripple"),
        Sweep("thermistor-input, leak", Sensor, "severity-of: connector-damp, from: 10 kohm, to: 10 Mohm, spacing: logarithmic", "error"),
        Tolerance("thermistor-input", Sensor, "sensor.r25: 1 %, sensor.beta: 1 %, divider.resistance: 1 %", "error"),
        Sweep("relay-driver, coil", Relay, "vary: coil.resistance, from: 200 ohm, to: 800 ohm", "current"),
        Tolerance("relay-driver", Relay, "coil.resistance: 10 %, relay.pull-in: 10 %, rail.voltage: 5 %", "current"),
    ];

    private const string Rectifier = """
        title: Rectifier, twelve line cycles
        block: bridge-bulk
        values: {line.voltage: 120 V}
        run: {start: switch-on, stop: 200 ms}
        conditions:
          healthy:
          aged: {faults: {bulk-esr-high: 10 ohm}}
        observe:
          bulk: {point: bulk}
        metrics:
          ripple: {take: ripple-peak-to-peak, of: bulk, over: last 4 line cycles}
        expect:
          - {that: ripple of aged > ripple of healthy, why: Resistance adds to it.}

        """;

    private const string Converter = """
        title: Converter, twenty periods
        block: flyback-output
        run: {stop: 308 us, record-from: 154 us}
        conditions:
          healthy:
          aged: {faults: {output-esr-high: 0.5 ohm}}
        observe:
          output: {point: output}
        metrics:
          ripple: {take: ripple-peak-to-peak, of: output, over: last 4 switching cycles}
        expect:
          - {that: ripple of aged > ripple of healthy, why: Resistance adds to it.}

        """;

    private const string Sensor = """
        title: Thermistor input at rest
        block: thermistor-input
        run: {compute: operating-point}
        conditions:
          healthy:
          aged: {faults: {connector-damp: 500 kohm}}
        observe:
          error: {readout: indicated-temperature, show: error}
        expect:
          - {that: error of aged > error of healthy, why: A leak to ground.}

        """;

    private const string Relay = """
        title: Relay, one operation
        block: relay-driver
        conditions:
          healthy:
          aged: {values: {coil.temperature: 110 degC}}
        observe:
          coil: {current: coil}
        metrics:
          current: {take: value-at, of: coil, with: {at: 44 ms}}
        expect:
          - {that: current of aged < current of healthy, why: Copper's resistance rises.}

        """;

    /// <summary>The scenario with a number of cases.</summary>
    /// <param name="cases">How many.</param>
    public Scenario Make(int cases) =>
        ScenarioFile.Parse(Text.Replace("COUNT", cases.ToString(CultureInfo.InvariantCulture), StringComparison.Ordinal), "workload.yaml");

    private static CaseWorkload Sweep(string name, string block, string range, string record) =>
        new($"sweep of {name}", 1000, block + $"sweep: {{{range}, count: COUNT, conditions: [aged], record: [{record}]}}\n");

    private static CaseWorkload Tolerance(string name, string block, string of, string record) =>
        new($"tolerances of {name}", 10_000, block + $"tolerance: {{of: {{{of}}}, samples: COUNT, conditions: [healthy], record: [{record}]}}\n");
}
