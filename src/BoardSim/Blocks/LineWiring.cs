using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks;

/// <summary>What lies between line and neutral at an outlet before anything is plugged in.</summary>
internal static class LineWiring
{
    /// <summary>Capacitance in farads of whatever else hangs on the circuit: X capacitors of a few appliances (common practice, no source).</summary>
    private const double Neighbours = 100e-9;

    /// <summary>Capacitance in farads of the installation's cable itself: some 100 pF for a metre of two insulated wires side by side, ten metres of it (from memory).</summary>
    private const double Cable = 1e-9;

    /// <summary>
    /// Adds what takes over the current of the line's inductance when a diode blocks or the plug is pulled. Each has the resistance that keeps the ringing with that inductance flat.
    /// The cable's picofarads are not seen beside the neighbours; with these gone, nothing else would be there, and a contact that parts would break the current into its own gigohm: 1e9 V.
    /// </summary>
    /// <param name="circuit">Circuit that is added to.</param>
    /// <param name="outlet">Line at the outlet, behind the inductance.</param>
    /// <param name="henries">The line's inductance, positive.</param>
    public static void AddTo(Circuit circuit, string outlet, double henries)
    {
        foreach (var (name, farads) in new[] { ("C_neighbours", Neighbours), ("C_wiring", Cable) })
        {
            circuit.Add(new Capacitor(name, outlet, "neutral", farads) { SeriesResistance = Math.Sqrt(henries / farads) });
        }
    }
}
