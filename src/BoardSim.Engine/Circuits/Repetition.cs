namespace BoardSim.Engine.Circuits;

/// <summary>How a device's law in time goes on from some instant.</summary>
/// <param name="Period">Period in seconds with which it repeats; 0 when it is constant, infinity when it does neither.</param>
/// <param name="Until">Instant in seconds up to which that holds; infinity for ever.</param>
/// <param name="Edge">Instant in seconds at which the period of a device with a clock of its own begins anew; not a number for a law that is known in advance.</param>
public readonly record struct Repetition(double Period, double Until, double Edge = double.NaN)
{
    /// <summary>Neither constant nor repeating, or not known.</summary>
    public static Repetition None => new(double.PositiveInfinity, 0);

    /// <summary>Constant for ever.</summary>
    public static Repetition Constant => new(0, double.PositiveInfinity);
}
