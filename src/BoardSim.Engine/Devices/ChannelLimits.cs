namespace BoardSim.Engine.Devices;

/// <summary>Limits of a Newton step of a MOSFET's voltages (Nagel, SPICE2, UCB/ERL M520, 1975; form as in Berkeley SPICE3, from memory).</summary>
internal static class ChannelLimits
{
    /// <summary>Limits the gate's voltage against the more negative end of the channel: no leap across the threshold.</summary>
    public static double Gate(double next, double last, double threshold, ref bool limited)
    {
        var step = next - last;
        var wide = Math.Abs(2 * (last - threshold)) + 2;
        var narrow = 0.5 * wide + 2;
        var result = next;
        if (last >= threshold + 3.5)
        {
            if (step > 0)
            {
                result = Math.Min(next, last + wide);
            }
            else if (next >= threshold + 3.5)
            {
                result = Math.Max(next, last - narrow);
            }
            else
            {
                result = Math.Max(next, threshold + 2);
            }
        }
        else if (last >= threshold)
        {
            result = step <= 0 ? Math.Max(next, threshold - 0.5) : Math.Min(next, threshold + 4);
        }
        else if (step <= 0)
        {
            result = Math.Max(next, last - wide);
        }
        else
        {
            result = next <= threshold + 0.5 ? Math.Min(next, last + narrow) : threshold + 0.5;
        }

        limited |= result != next;
        return result;
    }

    /// <summary>Limits the voltage along the channel, which is zero or more in the present direction.</summary>
    public static double Drain(double next, double last, ref bool limited)
    {
        double result;
        if (last >= 3.5)
        {
            result = next > last ? Math.Min(next, 3 * last + 2) : next < 3.5 ? Math.Max(next, 2) : next;
        }
        else
        {
            result = next > last ? Math.Min(next, 4) : Math.Max(next, -0.5);
        }

        limited |= result != next;
        return result;
    }
}
