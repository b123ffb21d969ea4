using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>
/// A hand-held digital multimeter. It loads the circuit while it measures (<see cref="Attach"/>) and reads off the waveform
/// that the loaded circuit gives (<see cref="Read"/>). Defaults are those of a common 6000-count instrument (common practice,
/// no source). Its accuracy is told as an uncertainty, never added as noise.
/// </summary>
public sealed record Multimeter
{
    /// <summary>Form factor of the sine, pi/(2 sqrt 2): what an average-responding meter multiplies by.</summary>
    private static readonly double SineFormFactor = Math.PI / (2 * Math.Sqrt(2));

    /// <summary>What tables call it.</summary>
    public string Name { get; init; } = "multimeter";

    /// <summary>Position of the function switch.</summary>
    public MultimeterFunction Function { get; init; } = MultimeterFunction.DcVolts;

    /// <summary>True in the low-impedance mode of the voltage functions, which loads down stray voltages.</summary>
    public bool LowImpedance { get; init; }

    /// <summary>Input resistance of the voltage functions in ohms, positive; 10 Mohm.</summary>
    public double InputResistance { get; init; } = 10e6;

    /// <summary>Input resistance of the low-impedance mode in ohms, positive; 3 kohm.</summary>
    public double LowInputResistance { get; init; } = 3e3;

    /// <summary>Input capacitance with leads in farads, zero or more; 100 pF.</summary>
    public double InputCapacitance { get; init; } = 100e-12;

    /// <summary>Shunt of the current functions in ohms, positive; 10 mohm.</summary>
    public double Burden { get; init; } = 10e-3;

    /// <summary>Frequency of 3 dB loss of the alternating functions in hertz, one pole, positive; 100 kHz.</summary>
    public double Bandwidth { get; init; } = 100e3;

    /// <summary>Counts of the display, at least 100; 6000.</summary>
    public int Counts { get; init; } = 6000;

    /// <summary>Largest crest factor at full scale of the true-RMS functions; a range whose peak would be exceeded is left for the next.</summary>
    public double CrestFactorLimit { get; init; } = 3;

    /// <summary>Full scales of the voltage ranges in volts, rising.</summary>
    public IReadOnlyList<double> VoltRanges { get; init; } = [0.6, 6, 60, 600, 1000];

    /// <summary>Full scales of the current ranges in amperes, rising.</summary>
    public IReadOnlyList<double> AmpereRanges { get; init; } = [0.06, 0.6, 6, 10];

    /// <summary>Full scales of the resistance ranges in ohms, rising.</summary>
    public IReadOnlyList<double> OhmRanges { get; init; } = [600, 6e3, 60e3, 600e3, 6e6, 60e6];

    /// <summary>Voltage at the open leads of the resistance function in volts, positive; low enough to leave junctions off.</summary>
    public double OhmsVoltage { get; init; } = 0.5;

    /// <summary>Resistance in series with that voltage in ohms, positive.</summary>
    public double OhmsSeriesResistance { get; init; } = 10e3;

    /// <summary>Accuracy of the direct functions.</summary>
    public Accuracy DcAccuracy { get; init; } = new(0.005, 2);

    /// <summary>Accuracy of the alternating functions for a sine.</summary>
    public Accuracy AcAccuracy { get; init; } = new(0.01, 3);

    /// <summary>Accuracy of the resistance function.</summary>
    public Accuracy OhmsAccuracy { get; init; } = new(0.009, 2);

    /// <summary>The function in words.</summary>
    public string FunctionName => Function switch
    {
        MultimeterFunction.DcVolts => "DC volts",
        MultimeterFunction.AcVoltsTrueRms => "AC volts, true RMS",
        MultimeterFunction.AcVoltsAverage => "AC volts, average-responding",
        MultimeterFunction.AcDcVoltsTrueRms => "AC+DC volts, true RMS",
        MultimeterFunction.DcAmperes => "DC amperes",
        MultimeterFunction.AcAmperesTrueRms => "AC amperes, true RMS",
        _ => "ohms",
    } + (LowImpedance && MeasuresVolts ? ", low impedance" : "");

    private bool MeasuresVolts => Function <= MultimeterFunction.AcDcVoltsTrueRms;

    private bool MeasuresAmperes => Function is MultimeterFunction.DcAmperes or MultimeterFunction.AcAmperesTrueRms;

    /// <summary>
    /// Connects the meter: adds <c>R</c>name (input resistance, or the shunt of a current function, which must lie in a cut
    /// wire) and, for voltages, <c>C</c>name (input capacitance). The resistance function adds its source, <c>V</c>name behind <c>R</c>name, with the node name<c>_source</c> between them.
    /// </summary>
    /// <param name="circuit">The circuit; it must not have parts of those names.</param>
    /// <param name="node">Node under the red lead.</param>
    /// <param name="referenceNode">Node under the black lead.</param>
    /// <param name="name">Name of the connection, without spaces.</param>
    public void Attach(Circuit circuit, string node, string referenceNode, string name)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        if (MeasuresVolts)
        {
            circuit.Add(new Resistor($"R{name}", node, referenceNode, LowImpedance ? LowInputResistance : InputResistance));
            circuit.Add(new Capacitor($"C{name}", node, referenceNode, InputCapacitance));
        }
        else if (MeasuresAmperes)
        {
            circuit.Add(new Resistor($"R{name}", node, referenceNode, Burden));
        }
        else
        {
            circuit.Add(new VoltageSource($"V{name}", $"{name}_source", referenceNode, OhmsVoltage));
            circuit.Add(new Resistor($"R{name}", $"{name}_source", node, OhmsSeriesResistance));
        }
    }

    /// <summary>
    /// What the display shows once it has settled on the waveform. A steady state should be given as whole cycles: the direct
    /// functions average over the window, the alternating ones take it as one period of an endless repetition.
    /// </summary>
    /// <param name="wave">Voltage between the leads, or current into the red one, cut to the window.</param>
    /// <exception cref="InvalidOperationException">The meter is set to ohms; use <see cref="ReadOhms(double, double, string)"/>.</exception>
    /// <exception cref="ArgumentException">The waveform is of another quantity than the function.</exception>
    public InstrumentReading Read(Waveform wave)
    {
        ArgumentNullException.ThrowIfNull(wave);
        if (Function == MultimeterFunction.Ohms)
        {
            throw new InvalidOperationException("A meter set to ohms reads from its own test current, not from a waveform.");
        }

        var unit = MeasuresVolts ? Unit.Volt : Unit.Ampere;
        if (wave.Unit != unit)
        {
            throw new ArgumentException($"{Name} is set to {FunctionName}; {wave.Name} is a {wave.Unit.Kind}.", nameof(wave));
        }

        var ranges = MeasuresVolts ? VoltRanges : AmpereRanges;
        return Function switch
        {
            MultimeterFunction.DcVolts or MultimeterFunction.DcAmperes => Show(wave.Name, wave.Mean(), 0, unit, ranges, DcAccuracy),
            MultimeterFunction.AcDcVoltsTrueRms => Rms(wave, Passed(wave), unit, ranges),
            MultimeterFunction.AcVoltsAverage => Average(wave, unit, ranges),
            _ => Rms(wave, Passed(wave.Scaled(1, -wave.Mean())), unit, ranges),
        };
    }

    /// <summary>What the resistance function shows for what its leads meet.</summary>
    /// <param name="volts">Voltage between the leads in volts.</param>
    /// <param name="amperes">Current out of the red lead in amperes.</param>
    /// <param name="name">What is measured.</param>
    public InstrumentReading ReadOhms(double volts, double amperes, string name = "connector")
    {
        var meter = this with { Function = MultimeterFunction.Ohms };
        // No current, or one that comes back out of the circuit, is an open line to the meter.
        var open = !(amperes > 0) || !(volts / amperes <= OhmRanges[^1]);
        var note = volts > OhmsVoltage * (1 + 1e-6) || volts < -1e-6 * OhmsVoltage
            ? "The circuit carries a voltage of its own; resistance is read with power off and capacitors discharged."
            : "";
        var shown = meter.Show(name, open ? double.PositiveInfinity : volts / amperes, 0, Unit.Ohm, OhmRanges, OhmsAccuracy);
        return note.Length > 0 ? shown with { Note = note } : shown;
    }

    /// <summary>What the resistance function shows when its own source (<see cref="Attach"/>) drives the circuit.</summary>
    /// <param name="volts">Voltage between the leads in volts, from an operating point with the meter attached.</param>
    /// <param name="name">What is measured.</param>
    public InstrumentReading ReadOhms(double volts, string name = "connector") =>
        ReadOhms(volts, (OhmsVoltage - volts) / OhmsSeriesResistance, name);

    private Waveform Passed(Waveform wave) => SinglePole.LowPass(wave, Bandwidth, FilterStart.Periodic);

    private InstrumentReading Rms(Waveform wave, Waveform passed, Unit unit, IReadOnlyList<double> ranges)
    {
        var (rms, peak) = (passed.Rms(), Math.Abs(passed.Peak().Value));
        var reading = Show(wave.Name, rms, peak / CrestFactorLimit, unit, ranges, AcAccuracy);
        return reading.Value is > 0 ? reading with { Uncertainty = reading.Uncertainty + CrestFactorError(peak / rms) * rms } : reading;
    }

    private InstrumentReading Average(Waveform wave, Unit unit, IReadOnlyList<double> ranges)
    {
        var passed = Passed(wave.Scaled(1, -wave.Mean()));
        var reading = Show(wave.Name, SineFormFactor * passed.MeanAbsolute(), 0, unit, ranges, AcAccuracy);
        return reading.Value is > 0 && Math.Abs(passed.Rms() / reading.Value.Value - 1) > 0.01
            ? reading with { Note = $"The waveform is no sine: its RMS value is {Quantity.Format(passed.Rms(), unit)}." }
            : reading;
    }

    /// <summary>Additional error by crest factor, Keysight, crest factor note for digital multimeters (tip 3); its last figure stands for more than 5 too.</summary>
    private static double CrestFactorError(double crest) => crest switch
    {
        <= 2 => 0.0005,
        <= 3 => 0.0015,
        <= 4 => 0.003,
        _ => 0.004,
    };

    private InstrumentReading Show(string name, double value, double alsoHolds, Unit unit, IReadOnlyList<double> ranges, Accuracy accuracy)
    {
        var reading = new InstrumentReading { Instrument = Name, Function = FunctionName, TestPoint = name, Value = null, Unit = unit, Display = "OL" };
        foreach (var fullScale in ranges)
        {
            var range = DisplayRange.For(fullScale, Counts);
            if (range.Holds(value) && range.Holds(alsoHolds))
            {
                var shown = range.Round(value);
                return reading with { Value = shown, Display = range.Show(value, unit), Uncertainty = accuracy.At(shown, range.Resolution) };
            }
        }

        return reading with { IsOverload = true, Note = unit == Unit.Ohm ? "Open, or beyond the top range." : $"Beyond the top range of {Quantity.FormatShort(ranges[^1], unit)}." };
    }
}
