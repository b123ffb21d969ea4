namespace BoardSim.Tests.Scenarios;

/// <summary>Scenario texts for tests of reader, schema and runner.</summary>
internal static class Samples
{
    /// <summary>Every part of the format at least once.</summary>
    public const string Complete = """
        # Comments are allowed anywhere.
        title: Output ripple of a dried-out capacitor
        about: >
          The supply works, the voltmeter shows nothing wrong,
          and the ripple at the switching frequency gives the capacitor away.
        block: flyback-output
        values:
          load.resistance: 6 ohm
          output.capacitors: one
        run:
          compute: waveforms
          start: switch-on
          stop: 4 ms
          record-from: 3 ms
          accuracy: 0.001
        conditions:
          healthy:
            label: New capacitor
          aged:
            label: Dried out
            faults:
              output-esr-high: 0.5 ohm
            values:
              output.temperature: 25 degC
          open:
            faults:
              output-capacitor-open: present
        observe:
          output:
            label: Output
            point: output
            instrument: oscilloscope
            coupling: dc
          output-dc:
            label: Output, DC volts
            point: output
            instrument: dc-voltmeter
            over: last 10 switching cycles
          capacitor:
            current: output-capacitor
          wrong:
            label: Output against the wrong reference
            point: output
            against: input
            instrument: none
        metrics:
          ripple:
            label: Ripple
            take: ripple-peak-to-peak
            of: output
            over: last 10 switching cycles
          heating:
            take: rms
            of: capacitor
            over: 3.5 ms to 4 ms
        sweep:
          severity-of: output-esr-high
          label: ESR of the output capacitor
          from: 50 mohm
          to: 0.8 ohm
          count: 4
          spacing: logarithmic
          record: [ripple, output-dc]
        expect:
          - that: ripple of aged / ripple of healthy > 3
            why: The capacitor's current crosses ten times the resistance.
          - that: ripple of aged rises over the sweep
            why: More resistance, more voltage across it.
          - that: ripple of aged at 0.4 ohm > ripple of healthy
            why: The same, at a point in between.
        figures:
          ripple:
            kind: waveforms
            title: Output ripple
            show: [output]
            over: last 3 switching cycles
            conditions: [healthy, aged]
            call-outs:
              - metric: ripple
              - note: The capacitor's ESR makes this step
                at: 3.9 ms
          sweep:
            kind: sweep
            title: Ripple against ESR
            show: [ripple]
          bars:
            kind: bars
            title: Ripple
            show: [ripple]
        """;

    /// <summary>A divider at rest; computed in no time.</summary>
    public const string Thermistor = """
        title: Sensor open
        block: thermistor-input
        values:
          sensor.r25: 10 kohm
          sensor.beta: 3950 K
          sensor.dissipation: 1 W/K
          divider.resistance: 10 kohm
          supply.voltage: 5 V
        run:
          compute: operating-point
        conditions:
          healthy:
          open:
            faults:
              sensor-open: present
        observe:
          pin:
            point: adc
            instrument: none
          indicated:
            readout: indicated-temperature
        sweep:
          vary: sensor.temperature
          points: [0 degC, 25 degC, 50 degC]
          record: [pin, indicated]
        expect:
          - that: pin of open > 4.9 V
            why: Nothing pulls the divider down.
          - that: pin of healthy falls over the sweep
            why: The sensor lies between pin and ground.
          - that: indicated of healthy at 50 degC = 50 degC within 1 K
            why: The table was made for this sensor.
        """;

    /// <summary>A few line cycles of the rectifier.</summary>
    public const string Rectifier = """
        title: Lost capacitance
        block: bridge-bulk
        values:
          supply: mains-120v
        run:
          start: switch-on
          stop: 100 ms
        conditions:
          healthy:
          dry:
            faults:
              bulk-capacitance-lost: 0.3
        observe:
          bulk:
            point: bulk
          bulk-dc:
            point: bulk
            instrument: dc-voltmeter
            over: last 2 line cycles
          line:
            current: line
        metrics:
          ripple:
            take: ripple-peak-to-peak
            of: bulk
            over: last 1 line cycle
          top:
            take: maximum
            of: bulk
        sweep:
          severity-of: bulk-capacitance-lost
          points: [1, 0.5]
          record: [ripple]
        expect:
          - that: ripple of dry / ripple of healthy > 2
            why: A third of the capacitance gives up three times the voltage.
          - that: ripple of dry at 0.5 > ripple of dry at 1
            why: The same, half-way.
        """;
}
