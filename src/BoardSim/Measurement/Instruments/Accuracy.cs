namespace BoardSim.Measurement;

/// <summary>Accuracy of a function as data sheets give it: plus or minus a share of the reading and a number of counts.</summary>
/// <param name="OfReading">Share of the reading, 0.005 for 0.5 %; zero or more.</param>
/// <param name="Counts">Counts of the last digit; zero or more.</param>
public readonly record struct Accuracy(double OfReading, double Counts)
{
    /// <summary>Half width of the interval in the reading's unit.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="resolution">One count in the reading's unit.</param>
    public double At(double reading, double resolution) => OfReading * Math.Abs(reading) + Counts * resolution;
}
