namespace BoardSim.Engine.Devices.Converters;

/// <summary>
/// One period of a rectifier that charges a capacitor through a resistance while a constant current is drawn from it, in closed form. Angles are counted from
/// the sine's crest, voltages in units of the crest, currents in units of crest times wC; <c>q = wRC</c>. Between the angles <c>-alpha</c> and <c>beta</c> a diode conducts and
/// <c>dy/dx = (cos x - y)/q - j</c>; in the rest of the period <c>P</c> (pi for two pulses a cycle, 2 pi for one) the drawn current <c>j</c> lowers <c>y</c> in a straight line. That the state
/// repeats gives <c>j</c> and <c>beta</c> for each <c>alpha</c>. Schade (Analysis of Rectifier Operation, Proc. IRE 31, 1943; from memory) drew curves of the same circuit; here it is solved.
/// </summary>
internal readonly struct ChargingCycle
{
    /// <summary>Smallest angle in radians at which conduction begins before the crest: a load next to none.</summary>
    public const double Least = 2e-3;

    /// <summary>Largest such angle; beyond, the capacitor would be empty between the crests.</summary>
    public const double Largest = 1.45;

    private ChargingCycle(Slopes end, Slopes drawn, Slopes mean, Slopes square) => (End, Drawn, Mean, Square) = (end, drawn, mean, square);

    /// <summary>By how much the capacitor's voltage is off the sine at <c>beta</c>, over the square of the conduction angle: zero where conduction ends.</summary>
    public Slopes End { get; }

    /// <summary>Current that is drawn, <c>j</c>.</summary>
    public Slopes Drawn { get; }

    /// <summary>Mean of <c>y</c>.</summary>
    public Slopes Mean { get; }

    /// <summary>Mean square of the charging current.</summary>
    public Slopes Square { get; }

    /// <summary>The period for given angles.</summary>
    /// <param name="alpha">Angle before the crest at which conduction begins, in radians.</param>
    /// <param name="beta">Angle after the crest at which it ends, in radians, above <c>-alpha</c>.</param>
    /// <param name="q">Resistance times capacitance times angular frequency.</param>
    /// <param name="period">Angle between two pulses.</param>
    public static ChargingCycle Of(Slopes alpha, Slopes beta, Slopes q, double period)
    {
        var (sa, ca, sb, cb) = (Slopes.Sin(alpha), Slopes.Cos(alpha), Slopes.Sin(beta), Slopes.Cos(beta));
        var width = alpha + beta;
        var rest = period - width;
        var drawn = (cb - ca) / rest;
        var scale = 1 / (1 + q * q);
        var decay = Slopes.Exp(0 - width / q);

        // The voltage is a part that goes with the sine, and one that dies away from the beginning of conduction on.
        var start = ca - (ca - q * sa) * scale + drawn * q;
        var last = (cb + q * sb) * scale - drawn * q + start * decay;
        var end = (last - cb) / (width * width);
        var sines = sb + sa;
        var mean = (sines - q * drawn * period + 0.5 * (rest * (ca + cb))) / period;

        // The sine's power less the capacitor's is what the resistance takes.
        var cosSquare = 0.5 * (width + sb * cb + sa * ca);
        var sineCosine = 0.5 * (sb * sb - sa * sa);
        var dying = q * scale * (decay * (q * sb - cb) + (q * sa + ca));
        var fed = ((q * cosSquare - sineCosine) * scale + drawn * sines - start / q * dying) / period;
        return new(end, drawn, mean, (fed - drawn * mean) / q);
    }
}
