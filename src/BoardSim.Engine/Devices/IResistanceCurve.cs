namespace BoardSim.Engine.Devices;

/// <summary>How a thermistor's resistance follows its temperature. Implementations are immutable and may be shared.</summary>
public interface IResistanceCurve
{
    /// <summary>Resistance in ohms.</summary>
    /// <param name="kelvin">Temperature in kelvin, positive.</param>
    double Resistance(double kelvin);

    /// <summary>Relative slope <c>d(ln R)/dT</c> in 1/K; negative for an NTC.</summary>
    /// <param name="kelvin">Temperature in kelvin, positive.</param>
    double RelativeSlope(double kelvin);

    /// <summary>Temperature in kelvin at which the curve has a resistance.</summary>
    /// <param name="ohms">Resistance in ohms, positive.</param>
    double Temperature(double ohms);

    /// <summary>What is wrong with the parameters, one sentence each.</summary>
    IEnumerable<string> Problems();
}
