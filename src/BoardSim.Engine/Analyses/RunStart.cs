using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses;

/// <summary>Where a transient begins: at the operating point, or at what the initial conditions leave to be found.</summary>
internal sealed class RunStart(CircuitSystem system, TransientOptions options, NewtonSolver newton, StageSolver stages, ErrorScale scale, EventGuards guards, double accuracy)
{
    /// <summary>Length of the Euler step that the start is found by, relative to the run.</summary>
    private const double Share = 1e-13;

    /// <summary>Finds charges, unknowns and discrete states at time zero.</summary>
    /// <param name="counters">Receive the work.</param>
    /// <returns>How they were found.</returns>
    /// <exception cref="OperationCanceledException">Cancelled meanwhile.</exception>
    /// <exception cref="SolverException">There is none that could be found, or not within the time limit.</exception>
    public string Find(SolverCounters counters)
    {
        var l = system.Loads;
        system.ResetDiscrete();
        l.IsStatic = false;
        if (options.UseInitialConditions)
        {
            InitialState.Charge(system, stages.StartCharge);
            l.X.CopyTo(stages.Values[0], 0);
            scale.Update(stages.Values[0], accuracy, 1);
            FindConsistent();
            SettleDiscrete();
            guards.Accept(0, stages.Values[0]);
            return "initial conditions";
        }

        var limits = new RunLimits { WallClock = options.WallClockLimit, Cancellation = options.Cancellation };
        var point = new OperatingPoint(system, new OperatingPointOptions { Limits = limits }, counters, newton);
        system.Hold(true);
        try
        {
            point.Find();
        }
        catch (RunEndedException ended)
        {
            throw ended.ToPublic(options.Cancellation);
        }
        finally
        {
            system.Hold(false);
        }

        var found = point.ToSolution(0);
        found.X.CopyTo(stages.Values[0], 0);
        l.Q.CopyTo(stages.StartCharge, 0);
        scale.Update(stages.Values[0], accuracy, 1);
        if (system.HasHolds)
        {
            // What held the nodes is gone: charges and fluxes stay, all else follows from them.
            newton.Invalidate();
            FindConsistent();
        }

        guards.Accept(0, stages.Values[0]);
        return point.Means;
    }

    /// <summary>Given charges and fluxes only, an Euler step of next to no length tells all voltages and currents: the shorter, the
    /// less has been charged meanwhile.</summary>
    private void FindConsistent()
    {
        system.Loads.Fresh = true;
        for (var (h, found) = (1e-9 * options.Stop, false); ; h *= 0.03)
        {
            if (stages.TryEuler(0, h, scale.Weight, out var worst))
            {
                stages.Values[^1].CopyTo(stages.Values[0], 0);
                scale.Update(stages.Values[0], accuracy, 1);
                newton.CurrentScale = scale.LargestCurrent;
                if (h <= Share * options.Stop)
                {
                    return;
                }

                found = true;
            }
            else if (found)
            {
                return;
            }

            if (h < 1e-18 * options.Stop)
            {
                throw StuckRun.At(system, 0, h, worst, "the initial conditions admit no solution that Newton could find");
            }
        }
    }

    /// <summary>Switches what the initial conditions hold beyond its threshold from the start: such a guard never rises through zero.</summary>
    private void SettleDiscrete()
    {
        const int rounds = 100;
        for (var round = 0; guards.Settle(stages.Values[0]) is { } part; round++)
        {
            if (round > rounds)
            {
                throw new SolverException(
                    $"Transient at t = 0 s: the state of {part} keeps changing under the initial conditions. Give its thresholds some hysteresis, or its control node some capacitance.");
            }

            system.Restamp();
            newton.Invalidate();
            FindConsistent();
        }
    }
}
