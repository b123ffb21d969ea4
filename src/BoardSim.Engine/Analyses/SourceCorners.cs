using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Analyses;

/// <summary>The instants, known in advance, that the loop lands on, over all devices that have such.</summary>
internal sealed class SourceCorners(ITimed[] timed)
{
    /// <summary>The next corner of any device after an instant, or infinity.</summary>
    /// <param name="time">Present time in seconds.</param>
    /// <param name="key">Receives the number of the device whose corner it is.</param>
    public double Next(double time, out int key)
    {
        var corner = double.PositiveInfinity;
        key = 0;
        for (var d = 0; d < timed.Length; d++)
        {
            var next = timed[d].NextCorner(time);
            if (next < corner)
            {
                (corner, key) = (next, d);
            }
        }

        return corner;
    }

    /// <summary>Longest step in seconds that jumps over no device's waveform.</summary>
    /// <param name="time">Present time in seconds.</param>
    public double LongestStep(double time)
    {
        var longest = double.PositiveInfinity;
        foreach (var device in timed)
        {
            longest = Math.Min(longest, device.LongestStep(time));
        }

        return longest;
    }
}
