using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>All that a circuit remembers at the boundary between two periods.</summary>
/// <param name="Charge">Charges and fluxes by row, as <see cref="TransientRun.Charges"/>.</param>
/// <param name="State">The unknowns, where Newton starts from.</param>
/// <param name="Memory">Memory of the discrete devices, in the order of the compiled system.</param>
/// <param name="Discrete">Names of their states.</param>
internal sealed record PeriodBoundary(double[] Charge, double[] State, object[] Memory, string[] Discrete)
{
    /// <summary>The boundary that a run stands at.</summary>
    public static PeriodBoundary Of(CircuitSystem system, TransientRun run) => new(
        run.Charges.ToArray(),
        [.. run.State],
        [.. system.Discrete.Select(d => d.Memory)],
        [.. system.Discrete.Select(d => d.StateName)]);

    /// <summary>Lets a run go on from here.</summary>
    /// <param name="system">The compiled circuit.</param>
    /// <param name="run">The run.</param>
    /// <param name="time">Instant in seconds, at the phase of the boundary.</param>
    public void Resume(CircuitSystem system, TransientRun run, double time)
    {
        for (var d = 0; d < Memory.Length; d++)
        {
            system.Discrete[d].Memory = Memory[d];
        }

        system.Restamp();
        run.Jump(time, Charge, State);
    }
}
