using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>
/// Ohms and diode test: the meter drives a current of its own through whatever lies between its leads, on an unplugged connector or on a board
/// without power, and whatever lies in parallel there takes its share. One source behind one resistance stands for all ranges of a
/// function; a real meter's current changes with the range, which only shows where a junction lies in parallel.
/// </summary>
public sealed partial record Multimeter
{
    /// <summary>Part of a reading that it may still change by in the last tenth of a measurement without being told as rising.</summary>
    private const double Settled = 0.01;

    /// <summary>Voltage at the open leads of the resistance function in volts, positive; low enough to leave junctions off.</summary>
    public double OhmsVoltage { get; init; } = 0.5;

    /// <summary>Resistance in series with that voltage in ohms, positive.</summary>
    public double OhmsSeriesResistance { get; init; } = 10e3;

    /// <summary>Accuracy of the resistance function.</summary>
    public Accuracy OhmsAccuracy { get; init; } = new(0.009, 2);

    /// <summary>Voltage at the open leads of the diode test in volts, positive; 3 V (common practice, no source).</summary>
    public double DiodeVoltage { get; init; } = 3;

    /// <summary>Resistance in series with that voltage in ohms, positive: about a milliampere through a silicon junction.</summary>
    public double DiodeSeriesResistance { get; init; } = 2.4e3;

    /// <summary>Largest voltage in volts that the diode test shows; beyond it the line is open.</summary>
    public double DiodeFullScale { get; init; } = 2;

    /// <summary>Voltage of the circuit's own in volts, zero or more, from which ohms and diode test refuse to measure: a charged capacitor falsifies
    /// them, and in earnest may destroy the meter (value: common practice, no source).</summary>
    public double OwnVoltageLimit { get; init; } = 0.02;

    /// <summary>Voltage of the circuit's own in volts, positive, from which the input protection of ohms and diode test opens and the meter draws nothing; well
    /// above what it drives itself (common practice, no source).</summary>
    public double ProtectionVoltage { get; init; } = 6;

    private double TestVoltage => Function == MultimeterFunction.DiodeTest ? DiodeVoltage : OhmsVoltage;

    private double TestResistance => Function == MultimeterFunction.DiodeTest ? DiodeSeriesResistance : OhmsSeriesResistance;

    /// <summary>Measures ohms or a junction on a circuit at rest; the circuit is left as it is. The leads are put on without the test current first, to
    /// see whether the circuit carries a voltage of its own.</summary>
    /// <param name="circuit">The circuit, without power.</param>
    /// <param name="node">Node under the red lead.</param>
    /// <param name="referenceNode">Node under the black lead.</param>
    /// <param name="name">What is measured.</param>
    /// <param name="limits">What may end the computation early; nothing when null.</param>
    /// <exception cref="InvalidOperationException">The meter is set to another function.</exception>
    /// <exception cref="SolverException">The circuit has no operating point.</exception>
    public InstrumentReading MeasureAtRest(Circuit circuit, string node, string referenceNode, string name = "connector", RunLimits? limits = null)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        ThrowUnlessTest();
        var options = new OperatingPointOptions { Limits = limits ?? new RunLimits() };
        var own = OperatingPoint.Solve(new CircuitSystem(circuit.Clone()), options).Voltage(node, referenceNode);
        var loaded = circuit.Clone();
        Attach(loaded, node, referenceNode, "_meter");
        return ReadTest(own, OperatingPoint.Solve(new CircuitSystem(loaded), options).Voltage(node, referenceNode), name);
    }

    /// <summary>What ohms or diode test show.</summary>
    /// <param name="own">Voltage between the leads in volts before the test current flows.</param>
    /// <param name="volts">Voltage between the leads in volts while it flows.</param>
    /// <param name="name">What is measured.</param>
    /// <exception cref="InvalidOperationException">The meter is set to another function.</exception>
    public InstrumentReading ReadTest(double own, double volts, string name = "connector")
    {
        ThrowUnlessTest();
        if (Math.Abs(own) > OwnVoltageLimit)
        {
            return new InstrumentReading
            {
                Instrument = Name,
                Function = FunctionName,
                TestPoint = name,
                Value = null,
                Unit = ReadingUnit,
                Display = "----",
                Note = $"Refused: the circuit carries {Quantity.Format(own, Unit.Volt)} of its own. Power off, discharge the capacitors, prove it dead, then measure.",
            };
        }

        return Function == MultimeterFunction.Ohms
            ? ReadOhms(volts, name)
            : Show(name, volts > DiodeFullScale ? double.PositiveInfinity : volts, 0, Unit.Volt, [DiodeFullScale], DcAccuracy) is { IsOverload: true } open
            ? open with { Note = "Open in this direction, or beyond what the test drives." }
            : Show(name, volts, 0, Unit.Volt, [DiodeFullScale], DcAccuracy);
    }

    /// <summary>What ohms or diode test show at the end of a waveform.</summary>
    /// <param name="volts">Voltage between the leads over time, from before the lead is put on where that is known.</param>
    /// <param name="at">Instant in seconds when the lead was put on; null when it was on all the time.</param>
    /// <exception cref="InvalidOperationException">The meter is set to another function.</exception>
    public InstrumentReading ReadTest(Waveform volts, double? at = null)
    {
        ArgumentNullException.ThrowIfNull(volts);
        if (at is { } late && late >= volts.End)
        {
            throw new ArgumentException($"{volts.Name} ends before the meter's lead is put on.", nameof(at));
        }

        var own = at is { } instant && instant >= volts.Start ? volts.AtLeft(instant) : 0;
        var shown = ReadTest(own, volts.Values[^1], volts.Name);
        var from = Math.Max(at ?? volts.Start, volts.Start);
        if (shown.Value is not { } last || last == 0 || volts.Duration == 0)
        {
            return shown;
        }

        // A capacitor in parallel takes the test current first, and the display climbs while it does.
        var before = ReadTest(own, volts.At(from + 0.9 * (volts.End - from)), volts.Name);
        return before.Value is { } earlier && Math.Abs(last - earlier) > Settled * Math.Abs(last) + shown.Uncertainty / 10
            ? shown with { Note = "Still changing: the meter charges a capacitor in parallel; wait for the end." }
            : shown;
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

    private void ThrowUnlessTest()
    {
        if (!DrivesCurrent)
        {
            throw new InvalidOperationException($"A meter set to {FunctionName} drives no test current.");
        }
    }
}
