using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Measurement;

/// <summary>A lead that somebody puts on at a given instant, and may take off again: open before, closed after.</summary>
internal static class LeadSwitch
{
    // Far above the input of any instrument, so that an open lead shows nowhere.
    private const double OpenOhms = 1e12;
    private const double ClosedOhms = 1e-3;

    // The hand is fast against what it measures and slow against the solver's shortest step.
    private const double Edge = 1e-6;

    /// <summary>Adds what keeps an instrument off a voltage that it cannot take, <c>S</c>name<c>_plus</c> and <c>S</c>name<c>_minus</c>: open while the point
    /// is beyond a limit on either side.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="name">Name of the connection.</param>
    /// <param name="instrument">Node at the instrument.</param>
    /// <param name="lead">Node at the lead.</param>
    /// <param name="point">Node under the lead, whose voltage decides.</param>
    /// <param name="reference">Node that it is taken against.</param>
    /// <param name="limit">The limit in volts, positive.</param>
    public static void AddProtection(Circuit circuit, string name, string instrument, string lead, string point, string reference, double limit)
    {
        var model = new SwitchModel { OnResistance = ClosedOhms, OffResistance = OpenOhms, Threshold = -limit, Hysteresis = 0.02 * limit };
        var between = $"{name}_between";
        circuit.Add(new VoltageSwitch($"S{name}_plus", instrument, between, reference, point, model) { InitiallyOn = true });
        circuit.Add(new VoltageSwitch($"S{name}_minus", between, lead, point, reference, model) { InitiallyOn = true });
    }

    /// <summary>Adds the lead <c>S</c>name and the hand that closes it, <c>V</c>name<c>_hand</c>.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="name">Name of the connection.</param>
    /// <param name="instrument">Node at the instrument.</param>
    /// <param name="point">Node under the lead.</param>
    /// <param name="at">Instant in seconds, positive.</param>
    /// <param name="ohms">Resistance of the closed lead in ohms, positive.</param>
    /// <param name="until">Instant in seconds when it is taken off again, later than <paramref name="at"/> by more than the hand takes; null for a lead that stays.</param>
    public static void Add(Circuit circuit, string name, string instrument, string point, double at, double ohms = ClosedOhms, double? until = null)
    {
        var hand = $"{name}_hand";
        var (times, levels) = (new List<double> { 0, at, at + Edge }, new List<double> { 0, 0, 1 });
        if (until is { } off)
        {
            times.AddRange([Math.Max(off, at + 2 * Edge), Math.Max(off, at + 2 * Edge) + Edge]);
            levels.AddRange([1, 0]);
        }

        circuit.Add(new VoltageSource($"V{hand}", hand, Circuit.Ground, new PiecewiseLinearWaveform(times, levels)));
        circuit.Add(new VoltageSwitch($"S{name}", instrument, point, hand, Circuit.Ground, new SwitchModel
        {
            OnResistance = ohms,
            OffResistance = OpenOhms,
            Threshold = 0.5,
            Hysteresis = 0.1,
        }));
    }
}
