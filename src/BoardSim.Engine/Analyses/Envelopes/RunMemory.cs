using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.Envelopes;

/// <summary>All that a run remembers at an instant, so that it can go back there.</summary>
internal sealed class RunMemory
{
    private readonly CircuitSystem system;
    private readonly double time;
    private readonly double[] charge;
    private readonly double[] state;
    private readonly object[] discrete;
    private readonly double[] peaks;

    public RunMemory(CircuitSystem system, TransientRun run)
    {
        this.system = system;
        time = run.Time;
        charge = run.Charges.ToArray();
        state = [.. run.State];
        peaks = run.Peaks;
        discrete = [.. system.Discrete.Select(d => d.Memory)];
    }

    public double[] Charge => charge;

    public double[] State => state;

    /// <summary>Puts the run at a later instant of the same kind, as if what came between had not been tried.</summary>
    public void Leap(TransientRun run, double instant, double[] charges, double[] guess)
    {
        Restore(run);
        system.Shift(instant - time);
        run.Jump(instant, charges, guess);
    }

    /// <summary>Takes the run back.</summary>
    public void Restore(TransientRun run)
    {
        for (var d = 0; d < discrete.Length; d++)
        {
            system.Discrete[d].Memory = discrete[d];
        }

        system.Restamp();
        run.Peaks = peaks;
        run.Jump(time, charge, state);
    }
}
