using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>The shortest period in which everything repeats that a circuit's sources do.</summary>
public static class CommonPeriod
{
    /// <summary>Periods of the slowest source that the common period may last.</summary>
    private const int Longest = 1000;

    /// <summary>Deviation from a whole number of periods that is rounding.</summary>
    private const double Rounding = 1e-9;

    /// <summary>Finds the common period of a circuit's sources, once all their delays have passed.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="problem">Receives why there is none, a sentence; null when there is one.</param>
    /// <returns>The period in seconds; null when there is none.</returns>
    public static double? Of(Circuit circuit, out string? problem)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        var periods = new List<double>();
        problem = null;
        foreach (var device in circuit.Devices)
        {
            if (device is ITimed timed and not IDiscrete)
            {
                var law = AtLast(timed, out _);
                if (!double.IsFinite(law.Period))
                {
                    problem = $"{device.Name} neither repeats nor stays constant.";
                    return null;
                }

                if (law.Period > 0)
                {
                    periods.Add(law.Period);
                }
            }
        }

        if (periods.Count == 0)
        {
            problem = "no source repeats.";
            return null;
        }

        var slowest = periods.Max();
        for (var n = 1; n <= Longest; n++)
        {
            if (periods.TrueForAll(p => IsWhole(n * slowest / p)))
            {
                return n * slowest;
            }
        }

        problem = $"the sources share no period within {Longest} periods of the slowest one.";
        return null;
    }

    /// <summary>The first instant in seconds from which on nothing but repetition is left; infinity when there is none.</summary>
    internal static double StartOf(CircuitSystem system)
    {
        var start = 0.0;
        foreach (var device in system.Timed)
        {
            if (device is not IDiscrete)
            {
                AtLast(device, out var from);
                start = Math.Max(start, from);
            }
        }

        return start;
    }

    /// <summary>True when every source repeats with a period given.</summary>
    internal static bool Divides(CircuitSystem system, double period, out string? part)
    {
        part = null;
        foreach (var device in system.Timed)
        {
            if (device is not IDiscrete)
            {
                var law = AtLast(device, out _);
                if (law.Period != 0 && !IsWhole(period / law.Period))
                {
                    part = ((Device)device).Name;
                    return false;
                }
            }
        }

        return true;
    }

    private static bool IsWhole(double ratio) => ratio > 0.5 && Math.Abs(ratio - Math.Round(ratio)) <= Rounding * ratio;

    /// <summary>How a device's law goes on in the end, and since when.</summary>
    private static Repetition AtLast(ITimed device, out double from)
    {
        const int most = 100_000;
        from = 0;
        var law = device.RepetitionAt(0);
        for (var k = 0; k < most && !double.IsPositiveInfinity(law.Until); k++)
        {
            // A stretch that ends, or one that is neither constant nor repeating: look again behind it.
            var next = law.Until > from ? law.Until : device.NextCorner(from);
            if (!double.IsFinite(next))
            {
                return Repetition.None;
            }

            from = next;
            law = device.RepetitionAt(from);
        }

        return law;
    }
}
