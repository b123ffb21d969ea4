using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses;

/// <summary>Start of a run without an operating point: what charges and fluxes the given initial conditions mean.</summary>
internal static class InitialState
{
    /// <summary>
    /// Writes the start charges. Node voltages that are given apply to every part at those nodes; a capacitor's own start
    /// voltage overrides them. The unknowns themselves follow from the charges with the first step.
    /// </summary>
    /// <param name="system">The compiled circuit; its loads receive the given values.</param>
    /// <param name="charge">Receives the charge of each row.</param>
    public static void Charge(CircuitSystem system, double[] charge)
    {
        var l = system.Loads;
        Array.Clear(l.X);
        foreach (var (node, volts) in system.Circuit.InitialVoltages)
        {
            l.X[system.NodeIndex(node)] = volts;
        }

        l.X[0] = 0;
        var initial = new InitialValues();
        foreach (var device in system.Circuit.Devices.OfType<IInitial>())
        {
            device.SetInitial(initial);
        }

        foreach (var (index, value) in initial.Values)
        {
            l.X[index] = value;
        }

        l.Limiting = false;
        l.Time = 0;
        system.Evaluate(new double[system.Size + 1]);
        l.Q.CopyTo(charge, 0);
        foreach (var (plus, minus, farads, volts) in initial.Charges)
        {
            var more = farads * (volts - (l.X[plus] - l.X[minus]));
            charge[plus] += more;
            charge[minus] -= more;
        }

        charge[0] = 0;
    }
}
