using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Motors;

/// <summary>What shorted turns do to a motor.</summary>
internal static class WindingFault
{
    /// <summary>
    /// Shorts a share of the turns. Resistance and motor constant fall with the turns that are left, the inductance with their square; the shorted
    /// ones, a winding of their own with constant <c>sK</c> and resistance <c>sR</c>, brake by <c>(sK)^2 / sR</c> (Faraday's law; what they do to the field is left out).
    /// </summary>
    /// <param name="motor">The motor.</param>
    /// <param name="share">Share of the turns, 0 to 1.</param>
    public static void ShortTurns(DcMotor motor, double share)
    {
        var left = 1 - share;
        motor.Drag += share * motor.Constant * motor.Constant / motor.Resistance;
        motor.ResistanceAt20 *= left;
        motor.Constant *= left;
        motor.Inductance *= left * left;
    }
}
