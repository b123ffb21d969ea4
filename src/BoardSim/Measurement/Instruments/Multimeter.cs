using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>
/// A hand-held digital multimeter. It loads the circuit while it measures (<see cref="Attach"/>) and reads off the waveform
/// that the loaded circuit gives (<see cref="Read"/>). Defaults are those of a common 6000-count instrument (common practice,
/// no source). Its accuracy is told as an uncertainty, never added as noise.
/// </summary>
public sealed partial record Multimeter
{
    /// <summary>Form factor of the sine, pi/(2 sqrt 2): what an average-responding meter multiplies by.</summary>
    private static readonly double SineFormFactor = Math.PI / (2 * Math.Sqrt(2));

    /// <summary>Surge impedance of a pair of test leads in ohms (common practice, no source): what a point feels in the first nanoseconds after a lead of some
    /// capacitance has been put on it. Without it that charge would flow at once, and its spike would reset a processor.</summary>
    private const double LeadImpedance = 150;

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

    /// <summary>Accuracy of the direct functions.</summary>
    public Accuracy DcAccuracy { get; init; } = new(0.005, 2);

    /// <summary>Accuracy of the alternating functions for a sine.</summary>
    public Accuracy AcAccuracy { get; init; } = new(0.01, 3);

    /// <summary>The function in words.</summary>
    public string FunctionName => Function switch
    {
        MultimeterFunction.DcVolts => "DC volts",
        MultimeterFunction.AcVoltsTrueRms => "AC volts, true RMS",
        MultimeterFunction.AcVoltsAverage => "AC volts, average-responding",
        MultimeterFunction.AcDcVoltsTrueRms => "AC+DC volts, true RMS",
        MultimeterFunction.Frequency => "frequency",
        MultimeterFunction.DutyCycle => "duty cycle",
        MultimeterFunction.DcAmperes => "DC amperes",
        MultimeterFunction.AcAmperesTrueRms => "AC amperes, true RMS",
        MultimeterFunction.DiodeTest => "diode test",
        _ => "ohms",
    } + (LowImpedance && MeasuresVolts ? ", low impedance" : "");

    /// <summary>True for the functions that drive a current of their own through what they measure: ohms and diode test.</summary>
    public bool DrivesCurrent => Function is MultimeterFunction.Ohms or MultimeterFunction.DiodeTest;

    /// <summary>Unit of what the display shows.</summary>
    public Unit ReadingUnit => Function switch
    {
        MultimeterFunction.Frequency => Unit.Hertz,
        MultimeterFunction.DutyCycle => Unit.Percent,
        MultimeterFunction.DcAmperes or MultimeterFunction.AcAmperesTrueRms => Unit.Ampere,
        MultimeterFunction.Ohms => Unit.Ohm,
        _ => Unit.Volt,
    };

    private bool MeasuresVolts => Function <= MultimeterFunction.DutyCycle;

    private bool MeasuresAmperes => Function is MultimeterFunction.DcAmperes or MultimeterFunction.AcAmperesTrueRms;

    /// <summary>
    /// Connects the meter: adds <c>R</c>name (input resistance, or the shunt of a current function, which must lie in a cut
    /// wire) and, for voltages, <c>C</c>name (input capacitance). Ohms and diode test add their source, <c>V</c>name behind <c>R</c>name, with the node name<c>_source</c> between them.
    /// </summary>
    /// <param name="circuit">The circuit; it must not have parts of those names.</param>
    /// <param name="node">Node under the red lead.</param>
    /// <param name="referenceNode">Node under the black lead.</param>
    /// <param name="name">Name of the connection, without spaces.</param>
    /// <param name="at">Instant in seconds when the red lead is put on, for all but the current functions; null for a lead that is on all the time.</param>
    /// <param name="until">Instant in seconds when it is taken off again, later than <paramref name="at"/>; null for a lead that stays.</param>
    /// <returns>Where the voltage is recorded that the meter reads: at its own input, which is the point once the lead is on.</returns>
    public Tap Attach(Circuit circuit, string node, string referenceNode, string name, double? at = null, double? until = null)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        if (MeasuresAmperes)
        {
            circuit.Add(new Resistor($"R{name}", node, referenceNode, Burden));
            return new Tap(node, referenceNode);
        }

        var lead = at is null ? node : $"{name}_lead";
        if (MeasuresVolts)
        {
            circuit.Add(new Resistor($"R{name}", lead, referenceNode, LowImpedance ? LowInputResistance : InputResistance));
            circuit.Add(new Capacitor($"C{name}", lead, referenceNode, InputCapacitance) { SeriesResistance = at is null ? 0 : LeadImpedance });
        }
        else
        {
            circuit.Add(new VoltageSource($"V{name}", $"{name}_source", referenceNode, TestVoltage));
            var inside = at is null ? lead : $"{name}_inside";
            circuit.Add(new Resistor($"R{name}", $"{name}_source", inside, TestResistance));
            if (at is not null)
            {
                LeadSwitch.AddProtection(circuit, name, inside, lead, node, referenceNode, ProtectionVoltage);
            }
        }

        if (at is { } instant)
        {
            LeadSwitch.Add(circuit, name, lead, node, instant, until: until);
        }

        // A tester looks for a voltage of the circuit's own before it drives any current, so it looks at the point.
        return new Tap(MeasuresVolts ? lead : node, referenceNode);
    }

    /// <summary>
    /// What the display shows once it has settled on the waveform. A steady state should be given as whole cycles: the direct
    /// functions average over the window, the alternating ones take it as one period of an endless repetition.
    /// </summary>
    /// <param name="wave">Voltage between the leads, or current into the red one, cut to the window.</param>
    /// <exception cref="InvalidOperationException">The meter is set to ohms or diode test; use <see cref="ReadTest(Waveform, double?)"/>.</exception>
    /// <exception cref="ArgumentException">The waveform is of another quantity than the function.</exception>
    public InstrumentReading Read(Waveform wave)
    {
        ArgumentNullException.ThrowIfNull(wave);
        if (DrivesCurrent)
        {
            throw new InvalidOperationException($"A meter set to {FunctionName} reads from its own test current, not from a waveform.");
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
            MultimeterFunction.Frequency => CountFrequency(wave),
            MultimeterFunction.DutyCycle => CountDuty(wave),
            _ => Rms(wave, Passed(wave.Scaled(1, -wave.Mean())), unit, ranges),
        };
    }

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
