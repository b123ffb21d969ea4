using BoardSim.Quantities;

namespace BoardSim.Scenarios;

/// <summary>What the observations of a frequency response are measured in.</summary>
internal static class ResponseUnits
{
    /// <summary>Unit of what is shown.</summary>
    public static Unit Of(ObservationSpec observation) => AspectOf(observation) switch
    {
        Aspect.Phase => Unit.Degree,
        Aspect.Level => Unit.Decibel,
        _ => OfMagnitude(observation),
    };

    /// <summary>What is shown: the choice of the file, or what is usual for the quantity.</summary>
    public static Aspect AspectOf(ObservationSpec observation) =>
        observation.Shows is Aspect.Magnitude or Aspect.Level or Aspect.Phase ? observation.Shows
            : OfMagnitude(observation) == Unit.Ratio ? Aspect.Level : Aspect.Magnitude;

    /// <summary>Unit of the magnitude: volts or amperes, divided by volts, by amperes or by nothing.</summary>
    public static Unit OfMagnitude(ObservationSpec observation) =>
        (observation.Current is not null, observation.PerPoint is not null, observation.PerCurrent is not null) switch
        {
            (false, false, false) => Unit.Volt,
            (true, false, false) => Unit.Ampere,
            (false, false, true) => Unit.Ohm,
            (true, true, false) => Unit.Siemens,
            _ => Unit.Ratio,
        };
}
