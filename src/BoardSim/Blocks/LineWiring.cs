using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks;

/// <summary>What lies between line, neutral and earth at an outlet before anything is plugged in.</summary>
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

    /// <summary>
    /// Adds the bond of neutral to protective earth at the service entrance, and the capacitance to earth that the cable has beside it. The bond shorts that capacitance; with the bond lost, nothing else would say where the line stands against earth:
    /// a gigohm beside a contact's tenth of a milliohm is below the last place of a number.
    /// </summary>
    /// <param name="circuit">Circuit that is added to; its neutral has the node of that name.</param>
    public static void AddBond(Circuit circuit)
    {
        circuit.Add(new Resistor("R_bond", "neutral", Circuit.Ground, 0.1));
        circuit.Add(new Capacitor("C_bond", "neutral", Circuit.Ground, Cable));
    }
}
