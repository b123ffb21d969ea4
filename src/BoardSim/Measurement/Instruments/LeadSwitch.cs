using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Measurement;

/// <summary>A lead that somebody puts on at a given instant: open before, closed after.</summary>
internal static class LeadSwitch
{
    // Far above the input of any instrument, so that an open lead shows nowhere.
    private const double OpenOhms = 1e12;
    private const double ClosedOhms = 1e-3;

    // The hand is fast against what it measures and slow against the solver's shortest step.
    private const double Edge = 1e-6;

    /// <summary>Adds the lead <c>S</c>name and the hand that closes it, <c>V</c>name<c>_hand</c>.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="name">Name of the connection.</param>
    /// <param name="instrument">Node at the instrument.</param>
    /// <param name="point">Node under the lead.</param>
    /// <param name="at">Instant in seconds, positive.</param>
    public static void Add(Circuit circuit, string name, string instrument, string point, double at)
    {
        var hand = $"{name}_hand";
        circuit.Add(new VoltageSource($"V{hand}", hand, Circuit.Ground, new PiecewiseLinearWaveform([0, at, at + Edge], [0, 0, 1])));
        circuit.Add(new VoltageSwitch($"S{name}", instrument, point, hand, Circuit.Ground, new SwitchModel
        {
            OnResistance = ClosedOhms,
            OffResistance = OpenOhms,
            Threshold = 0.5,
            Hysteresis = 0.1,
        }));
    }
}
