using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses;

/// <summary>
/// Watches the guards of all discrete devices. A guard counts as crossed when it was negative and is not any more; one that
/// has fired is mute until it has been negative again.
/// </summary>
internal sealed class EventGuards
{
    private readonly CircuitSystem system;
    private readonly int[] first;
    private readonly bool[] mute;
    private readonly double[] start;
    private readonly double[] now;
    private readonly double[][] samples;

    public EventGuards(CircuitSystem system)
    {
        this.system = system;
        first = new int[system.Discrete.Length + 1];
        for (var d = 0; d < system.Discrete.Length; d++)
        {
            first[d + 1] = first[d] + system.Discrete[d].GuardCount;
        }

        Count = first[^1];
        mute = new bool[Count];
        start = new double[Count];
        now = new double[Count];
        samples = new double[CrossingSearch.Samples + 1][];
        for (var s = 0; s < samples.Length; s++)
        {
            samples[s] = new double[Count];
        }
    }

    /// <summary>Number of guards of all devices.</summary>
    public int Count { get; }

    /// <summary>Takes the guards' values at an accepted point as the base of the next step, and lets crossed-back guards speak again.</summary>
    public void Accept(double time, double[] x)
    {
        Evaluate(time, x, start);
        for (var g = 0; g < Count; g++)
        {
            mute[g] &= !(start[g] < 0);
        }
    }

    /// <summary>Which guards are below zero at the last accepted point.</summary>
    public bool[] Armed => [.. start.Select(v => v < 0)];

    /// <summary>Takes the values at the step's start as sample 0.</summary>
    public void KeepStart() => start.CopyTo(samples[0], 0);

    /// <summary>First guard that is crossed at a point inside the step, or -1; keeps the values as a sample.</summary>
    public int Crossed(double time, double[] x, int sample)
    {
        var guard = Crossed(time, x);
        now.CopyTo(samples[sample], 0);
        return guard;
    }

    /// <summary>
    /// Position of a guard's maximum by the parabola through three samples, in their spacing from the middle one; null when
    /// there is none between them or it lies well below zero.
    /// </summary>
    public double? MayPeak(int guard, int lastSample)
    {
        var (a, b, c) = (samples[lastSample - 2][guard], samples[lastSample - 1][guard], samples[lastSample][guard]);
        var bend = a - 2 * b + c;
        var offset = (a - c) / (2 * bend);
        if (mute[guard] || !(start[guard] < 0) || !(c < 0) || !(bend < 0) || !(Math.Abs(offset) <= 1))
        {
            return null;
        }

        // The guard is no parabola: twice the rise above the samples, and a part of its bend, are granted to what is missing.
        var top = b - (c - a) * (c - a) / (8 * bend);
        var rise = top - Math.Max(a, Math.Max(b, c));
        return top + rise - 0.05 * bend >= 0 ? offset : null;
    }

    /// <summary>First guard that is crossed at a point, or -1.</summary>
    public int Crossed(double time, double[] x)
    {
        Evaluate(time, x, now);
        for (var g = 0; g < Count; g++)
        {
            if (!mute[g] && start[g] < 0 && now[g] >= 0)
            {
                return g;
            }
        }

        return -1;
    }

    /// <summary>Value of one guard at a point.</summary>
    public double Value(int guard, double time, double[] x)
    {
        Evaluate(time, x, now);
        return now[guard];
    }

    /// <summary>Fires a guard, and all others that are crossed at the same point.</summary>
    /// <param name="guard">The guard that was located; -1 fires what stands crossed at the point.</param>
    /// <param name="time">Instant in seconds.</param>
    /// <param name="x">The unknowns there.</param>
    /// <param name="log">Receives the new states.</param>
    /// <param name="onlyOne">Fires the first of those that stand crossed and no other: ideal switches that are turned all at once can chase each other for ever, where
    /// turned one at a time, always the first in the circuit that is wrong, they come to an end (Murty, Linear Algebra and its Applications 7 (1974) 65, for matrices
    /// all of whose principal minors are positive; from memory).</param>
    /// <returns>Number of guards fired.</returns>
    public int Fire(int guard, double time, double[] x, List<CircuitEvent> log, bool onlyOne)
    {
        Evaluate(time, x, now);
        var fired = 0;
        for (var d = 0; d < system.Discrete.Length; d++)
        {
            for (var g = first[d]; g < first[d + 1]; g++)
            {
                if (mute[g] || (g != guard && !(now[g] >= 0)))
                {
                    continue;
                }

                system.Discrete[d].Cross(g - first[d], time, x);
                log.Add(new CircuitEvent(time, ((Device)system.Discrete[d]).Name, system.Discrete[d].StateName));
                for (var own = first[d]; own < first[d + 1]; own++)
                {
                    mute[own] = true;
                }

                fired++;
                break;
            }

            if (onlyOne && fired > 0)
            {
                break;
            }
        }

        return fired;
    }

    /// <summary>Fires one guard of each device that stands beyond zero at time zero, where nothing can have crossed yet.</summary>
    /// <param name="x">The unknowns there.</param>
    /// <returns>Name of the last device that changed its state, or null when none did.</returns>
    public string? Settle(double[] x)
    {
        Evaluate(0, x, now);
        string? changed = null;
        for (var d = 0; d < system.Discrete.Length; d++)
        {
            for (var g = first[d]; g < first[d + 1]; g++)
            {
                if (now[g] > 0)
                {
                    system.Discrete[d].Cross(g - first[d], 0, x);
                    changed = ((Device)system.Discrete[d]).Name;
                    break;
                }
            }
        }

        return changed;
    }

    private void Evaluate(double time, double[] x, double[] values)
    {
        for (var d = 0; d < system.Discrete.Length; d++)
        {
            system.Discrete[d].Guards(time, x, values.AsSpan(first[d], first[d + 1] - first[d]));
        }
    }
}
