using System.Numerics;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Lines;

/// <summary>The bench for conducted noise: in place of the mains a line impedance network in each conductor, and the same noise on a second pair of networks with no
/// filter between, so that the insertion loss is a ratio of two voltages of one circuit.</summary>
public sealed partial class LineEntry
{
    private static readonly string[] NoiseParts =
    [
        .. from twin in (string[])["", "bare_"] from wire in (string[])["line", "neutral"] from part in (string[])["L", "C", "R"] select $"{part}_{twin}net_{wire}",
        "V_noise", "R_noise1", "R_noise2", "V_bare_noise", "R_bare_noise1", "R_bare_noise2", "R_bare_load",
    ];

    private void AddNoise(Circuit circuit)
    {
        AddNetwork(circuit, "net-line", "inlet");
        AddNetwork(circuit, "net-neutral", "neutral");
        AddNetwork(circuit, "bare-net-line", "bare-out");
        AddNetwork(circuit, "bare-net-neutral", "bare-neutral-out");
        circuit.Add(new Resistor("R_bare_load", "bare-out", "bare-neutral-out", LoadResistance));
        AddSource(circuit, "", "out", "neutral-out");
        AddSource(circuit, "bare-", "bare-out", "bare-neutral-out");
    }

    /// <summary>CISPR 16-1-2: 50 uH towards the mains, taken as a short to noise; the receiver's 50 ohm behind a capacitor that is one as well.</summary>
    private static void AddNetwork(Circuit circuit, string name, string conductor)
    {
        var part = name.Replace('-', '_');
        circuit.Add(new Inductor($"L_{part}", Circuit.Ground, conductor, 50e-6));
        circuit.Add(new Capacitor($"C_{part}", conductor, $"{name}-receiver", 10e-6));
        circuit.Add(new Resistor($"R_{part}", $"{name}-receiver", Circuit.Ground, 50));
    }

    private void AddSource(Circuit circuit, string twin, string line, string neutral)
    {
        // Common mode: each conductor gets its share, so that the resistance is that of both together; differential mode: it stands in series.
        var part = twin.Replace('-', '_');
        var isCommon = Noise == NoiseKind.CommonMode;
        var share = isCommon ? 2 * NoiseResistance : NoiseResistance / 2;
        var far = isCommon ? Circuit.Ground : $"{twin}noise-minus";
        circuit.Add(new VoltageSource($"V_{part}noise", $"{twin}noise-plus", far, new SineWaveform { Amplitude = 1, Frequency = NoiseFrequency }) { SmallSignal = Complex.One });
        circuit.Add(new Resistor($"R_{part}noise1", $"{twin}noise-plus", line, share));
        circuit.Add(new Resistor($"R_{part}noise2", isCommon ? $"{twin}noise-plus" : far, neutral, share));
    }

    private static IEnumerable<TestPoint> Receivers() =>
    [
        Point("receiver", "net-line-receiver", Circuit.Ground, Reference.ProtectiveEarth, "What the receiver on the line conductor's network sees: the noise that comes through the filter."),
        Point("receiver-of-neutral", "net-neutral-receiver", Circuit.Ground, Reference.ProtectiveEarth, "The same on the neutral conductor's network."),
        Point("receiver-without-filter", "bare-net-line-receiver", Circuit.Ground, Reference.ProtectiveEarth, "What a receiver sees of the same noise with no filter between; divided by what comes through it is the insertion loss."),
    ];
}
