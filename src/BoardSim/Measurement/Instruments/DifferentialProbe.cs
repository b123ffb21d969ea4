using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Measurement;

/// <summary>
/// High-voltage differential probe on an earthed oscilloscope. Each lead has its own resistance and capacitance to earth; the output is the
/// difference of the leads and, divided by the common-mode rejection ratio, their mean against earth. The rejection is constant up to a corner and
/// falls by 20 dB per decade beyond it, as the matching of the two input capacitances gives out (values: common practice, no source).
/// </summary>
public sealed record DifferentialProbe
{
    // Impedance level of the network that makes the falling rejection; it has no say in the result.
    private const double Ohms = 1e3;

    /// <summary>What tables call it.</summary>
    public string Name { get; init; } = "differential probe";

    /// <summary>Resistance between the leads in ohms, positive; 8 Mohm, half of it from either lead to earth.</summary>
    public double Resistance { get; init; } = 8e6;

    /// <summary>Capacitance between the leads in farads, positive; 3.5 pF, twice that from either lead to earth.</summary>
    public double Capacitance { get; init; } = 3.5e-12;

    /// <summary>Common-mode rejection at direct voltage and line frequency in decibels, 0 or more: twenty times the logarithm of the gain for the
    /// difference over that for what both leads have in common.</summary>
    public double Rejection { get; init; } = 80;

    /// <summary>Frequency in hertz at which the rejection has lost 3 dB, positive.</summary>
    public double RejectionCorner { get; init; } = 3e3;

    /// <summary>Frequency of 3 dB loss of probe and oscilloscope in hertz, one pole, positive.</summary>
    public double Bandwidth { get; init; } = 25e6;

    /// <summary>Largest difference in volts that it passes on, positive; what is beyond is cut off.</summary>
    public double Range { get; init; } = 700;

    /// <summary>True when a coupling capacitor at the oscilloscope keeps the mean away.</summary>
    public bool AcCoupled { get; init; }

    /// <summary>Connects the probe: adds the inputs <c>R</c>name<c>_1</c> and on, and the sources that make its output.</summary>
    /// <param name="circuit">The circuit; it must not have parts of those names.</param>
    /// <param name="node">Node under the positive lead.</param>
    /// <param name="referenceNode">Node under the negative lead.</param>
    /// <param name="earthNode">Node of protective earth, which the oscilloscope is bonded to.</param>
    /// <param name="name">Name of the connection, without spaces.</param>
    /// <returns>Where the output is recorded, before bandwidth and range (<see cref="Pass"/>).</returns>
    public Tap Attach(Circuit circuit, string node, string referenceNode, string earthNode, string name)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        foreach (var (lead, number) in new[] { (node, 1), (referenceNode, 2) })
        {
            circuit.Add(new Resistor($"R{name}_{number}", lead, earthNode, Resistance / 2));
            circuit.Add(new Capacitor($"C{name}_{number}", lead, earthNode, 2 * Capacitance));
        }

        var common = Math.Pow(10, -Rejection / 20);
        Add("mean1", earthNode, node, earthNode, 0.5);
        Add("mean", "mean1", referenceNode, earthNode, 0.5);

        // A high-pass far below its corner differentiates: its output grows with frequency, and ends where the probe's bandwidth does.
        circuit.Add(new Capacitor($"C{name}_fast", $"{name}_mean", $"{name}_fast", 1 / (2 * Math.PI * Bandwidth * Ohms)));
        circuit.Add(new Resistor($"R{name}_fast", $"{name}_fast", earthNode, Ohms));
        Add("difference", earthNode, node, referenceNode, 1);
        Add("steady", "difference", $"{name}_mean", earthNode, common);
        Add("output", "steady", $"{name}_fast", earthNode, common * Bandwidth / RejectionCorner);
        return new Tap($"{name}_output", earthNode);

        void Add(string output, string below, string plus, string minus, double gain) =>
            circuit.Add(new VoltageControlledVoltageSource($"E{name}_{output}", $"{name}_{output}", below == earthNode ? below : $"{name}_{below}", plus, minus, gain));
    }

    /// <summary>What bandwidth and range leave of the output.</summary>
    /// <param name="wave">The output where it was recorded.</param>
    /// <param name="start">State of bandwidth and coupling at the start.</param>
    public Waveform Pass(Waveform wave, FilterStart start = FilterStart.FirstValue) =>
        new Oscilloscope { Bandwidth = Bandwidth, AcCoupled = AcCoupled }.Pass(wave.Clipped(-Range, Range), start);
}
