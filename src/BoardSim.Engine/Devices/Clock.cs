namespace BoardSim.Engine.Devices;

/// <summary>Instants that a device sets itself and the transient loop lands on.</summary>
internal static class Clock
{
    /// <summary>What a clock may be short by and still count as there, in seconds.</summary>
    /// <param name="time">The instant in seconds.</param>
    public static double Rounding(double time) => 4 * (Math.BitIncrement(Math.Abs(time)) - Math.Abs(time));
}
