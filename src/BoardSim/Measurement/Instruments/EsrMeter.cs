using System.Numerics;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>What an ESR meter shows of the impedance between its leads.</summary>
public enum EsrDetection
{
    /// <summary>The part in phase with the test current: the resistance.</summary>
    InPhase,

    /// <summary>The magnitude, as simple meters do: a small capacitor's reactance counts as resistance.</summary>
    Magnitude,
}

/// <summary>
/// ESR meter: a small alternating current through the capacitor, in circuit, on a board without power. Its voltage is too low for any
/// junction to conduct (some tens of millivolts), so the circuit is linear to it and the impedance between its leads is that of a small-signal analysis at
/// the circuit's operating point; everything that lies in parallel is part of it (values: common practice, no source).
/// </summary>
public sealed record EsrMeter
{
    /// <summary>What tables call it.</summary>
    public string Name { get; init; } = "ESR meter";

    /// <summary>Frequency of the test current in hertz, positive; 100 kHz.</summary>
    public double Frequency { get; init; } = 100e3;

    /// <summary>What it shows.</summary>
    public EsrDetection Detection { get; init; } = EsrDetection.InPhase;

    /// <summary>Resistance of the leads in ohms, zero or more, which is part of the reading unless it was zeroed.</summary>
    public double LeadResistance { get; init; }

    /// <summary>Full scales of the ranges in ohms, rising.</summary>
    public IReadOnlyList<double> Ranges { get; init; } = [1, 10, 100];

    /// <summary>Counts of the display, at least 100.</summary>
    public int Counts { get; init; } = 1000;

    /// <summary>Accuracy of the display.</summary>
    public Accuracy Accuracy { get; init; } = new(0.01, 2);

    /// <summary>Voltage in volts, positive, from which the meter refuses: a charged capacitor destroys it.</summary>
    public double OwnVoltageLimit { get; init; } = 0.5;

    /// <summary>The function in words.</summary>
    public string FunctionName => $"{(Detection == EsrDetection.InPhase ? "resistance" : "impedance")} at {Quantity.FormatShort(Frequency, Unit.Hertz)}";

    /// <summary>Measures between two nodes; the circuit is left as it is.</summary>
    /// <param name="circuit">The circuit, without power.</param>
    /// <param name="node">Node under one lead.</param>
    /// <param name="referenceNode">Node under the other lead.</param>
    /// <param name="name">What is measured.</param>
    /// <param name="limits">What may end the computation early; nothing when null.</param>
    /// <exception cref="SolverException">The circuit has no operating point, or none that small signals can be taken at.</exception>
    public InstrumentReading Measure(Circuit circuit, string node, string referenceNode, string name = "capacitor", RunLimits? limits = null)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        var own = OperatingPoint.Solve(new CircuitSystem(circuit.Clone()), new OperatingPointOptions { Limits = limits ?? new RunLimits() }).Voltage(node, referenceNode);
        return Read(own, Math.Abs(own) > OwnVoltageLimit ? Complex.Zero : Impedance(circuit, node, referenceNode, limits), name);
    }

    /// <summary>Impedance in ohms between two nodes at the meter's frequency: the voltage that an ampere of small signal makes there.</summary>
    /// <param name="circuit">The circuit; it is left as it is.</param>
    /// <param name="node">One node.</param>
    /// <param name="referenceNode">The other node.</param>
    /// <param name="limits">What may end the computation early; nothing when null.</param>
    /// <exception cref="SolverException">Small signals cannot be taken there, or not within the time limit.</exception>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public Complex Impedance(Circuit circuit, string node, string referenceNode, RunLimits? limits = null)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        var loaded = circuit.Clone();
        foreach (var device in loaded.Devices)
        {
            // Signals that a block brings for its own analyses are not the meter's.
            if (device is VoltageSource voltage)
            {
                voltage.SmallSignal = 0;
            }
            else if (device is CurrentSource current)
            {
                current.SmallSignal = 0;
            }
        }

        loaded.Add(new CurrentSource("I_esr", referenceNode, node, 0) { SmallSignal = 1 });
        var response = AcAnalysis.Run(new CircuitSystem(loaded), [Frequency], [Probe.Voltage(node, referenceNode)], limits);
        if (response.Status != RunStatus.Completed)
        {
            limits?.Cancellation.ThrowIfCancellationRequested();
            throw new SolverException($"ESR meter between {node} and {referenceNode}: the time limit ran out before its signal was computed. Allow more time.");
        }

        return response.Values(0)[0];
    }

    /// <summary>What the display shows.</summary>
    /// <param name="own">Direct voltage between the leads in volts before the test.</param>
    /// <param name="impedance">Impedance between the leads in ohms.</param>
    /// <param name="name">What is measured.</param>
    public InstrumentReading Read(double own, Complex impedance, string name = "capacitor")
    {
        var reading = new InstrumentReading { Instrument = Name, Function = FunctionName, TestPoint = name, Value = null, Unit = Unit.Ohm, Display = "----" };
        if (Math.Abs(own) > OwnVoltageLimit)
        {
            return reading with { Note = $"Refused: {Quantity.Format(own, Unit.Volt)} lie between the leads. Power off, discharge the capacitor, prove it dead, then measure." };
        }

        var value = LeadResistance + (Detection == EsrDetection.InPhase ? impedance.Real : impedance.Magnitude);
        foreach (var fullScale in Ranges)
        {
            var range = DisplayRange.For(fullScale, Counts);
            if (range.Holds(value))
            {
                var shown = range.Round(value);
                return reading with { Value = shown, Display = range.Show(value, Unit.Ohm), Uncertainty = Accuracy.At(shown, range.Resolution) };
            }
        }

        return reading with { Display = "OL", IsOverload = true, Note = $"Beyond the top range of {Quantity.FormatShort(Ranges[^1], Unit.Ohm)}." };
    }
}
