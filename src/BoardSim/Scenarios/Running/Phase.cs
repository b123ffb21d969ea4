using System.Numerics;

namespace BoardSim.Scenarios.Running;

/// <summary>Phases along a response.</summary>
internal static class Phase
{
    /// <summary>Phases in degrees, the first between -180 and 180, each next one within half a turn of the one before.</summary>
    /// <param name="phasors">The response, at frequencies close enough that it turns by less than half a turn between two.</param>
    public static double[] Unwrapped(IReadOnlyList<Complex> phasors)
    {
        var degrees = new double[phasors.Count];
        for (var k = 0; k < degrees.Length; k++)
        {
            var own = phasors[k].Phase * (180 / Math.PI);
            degrees[k] = k == 0 ? own : own + 360 * Math.Round((degrees[k - 1] - own) / 360);
        }

        return degrees;
    }
}
