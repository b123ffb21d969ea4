using BoardSim.Ageing;
using BoardSim.Engine.Devices;
using BoardSim.Faults;

namespace BoardSim.Blocks;

/// <summary>What blocks with wet aluminium electrolytic capacitors share.</summary>
public static class Electrolytic
{
    private const double Year = 31_557_600;

    /// <summary>Series resistance at a temperature relative to the one at 25 degC, see <see cref="ElectrolyticResistance.Factor"/>.</summary>
    /// <param name="kelvin">Temperature of the capacitor in kelvin, 218 K (-55 degC) to 398 K (125 degC).</param>
    /// <exception cref="ArgumentOutOfRangeException">The temperature is outside that range.</exception>
    public static double SeriesResistanceFactor(double kelvin) => ElectrolyticResistance.Factor(kelvin);

    /// <summary>The fault of capacitors that have been in service for years: capacitance lost and series resistance risen by <see cref="ServiceLife"/> at
    /// the block's temperature and ripple.</summary>
    /// <param name="title">Title of the fault, one line.</param>
    /// <param name="parts">Names of the capacitors, which age alike.</param>
    /// <param name="rating">Rating of one of them when new.</param>
    /// <param name="hertz">Frequency of the ripple in hertz.</param>
    /// <param name="amperes">RMS ripple current of one of them in amperes.</param>
    /// <param name="id">Id of the fault, where a block has capacitors of several kinds.</param>
    internal static FaultDefinition AgedInService(string title, IReadOnlyList<string> parts, ElectrolyticRating rating, double hertz, double amperes, string id = "aged-in-service") =>
        new((board, seconds) =>
        {
            var lives = ServiceLife.Consumed(rating, [(hertz, amperes)], seconds);
            foreach (var part in parts)
            {
                PartEdits.Change<Capacitor>(board, part, c =>
                {
                    c.Capacitance *= ServiceLife.CapacitanceLeft(lives);
                    c.SeriesResistance *= ServiceLife.ResistanceGrown(lives);
                });
            }
        })
        {
            Id = id,
            Title = title,
            Mechanism = "Electrolyte escapes through the seal, twice as fast for each ten degrees of the core's temperature; what is left conducts worse, the ripple heats it more, and so on. "
                + "One rated life takes a fifth of the capacitance and doubles the series resistance.",
            Part = parts[0],
            Severity = new SeverityDefinition { Unit = "years", Default = 10 * Year, Minimum = 0, Maximum = 60 * Year, Description = "Time in service at the block's temperature and ripple." },
        };
}
