using System.Runtime.CompilerServices;

namespace BoardSim.Engine.Devices;

/// <summary>Formulas that all pn junctions share: exponential law, Newton limiting.</summary>
internal static class Junction
{
    /// <summary>Boltzmann constant over elementary charge, in V/K (SI 2019: both exact).</summary>
    public const double VoltsPerKelvin = 1.380649e-23 / 1.602176634e-19;

    /// <summary>Exponent above which the exponential is continued as a straight line: far beyond any real current, short of overflow.</summary>
    private const double LargestExponent = 80;

    /// <summary>Shockley's law: current and conductance of an ideal junction, without gmin.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Diffusion(double v, double saturation, double emissionVoltage, out double current, out double conductance)
    {
        var u = v / emissionVoltage;
        if (u > LargestExponent)
        {
            var top = saturation * Math.Exp(LargestExponent);
            conductance = top / emissionVoltage;
            current = top * (1 + u - LargestExponent) - saturation;
            return;
        }

        // Below -40 the exponential is under double's resolution beside 1.
        var e = u < -40 ? 0 : saturation * Math.Exp(u);
        current = e - saturation;
        conductance = e / emissionVoltage;
    }

    /// <summary>Voltage above which an exponential junction must not be followed in one Newton step; never negative, however large
    /// the saturation current.</summary>
    public static double CriticalVoltage(double saturation, double emissionVoltage) =>
        Math.Max(0, emissionVoltage * Math.Log(emissionVoltage / (Math.Sqrt(2) * saturation)));

    /// <summary>
    /// Limits a Newton step of a junction voltage: beyond the critical voltage the step is taken in the logarithm of the
    /// current (Nagel, SPICE2, UCB/ERL M520, 1975, section on junction limiting; from memory).
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double Limit(double next, double last, double emissionVoltage, double critical, ref bool limited)
    {
        if (next <= critical || Math.Abs(next - last) <= 2 * emissionVoltage)
        {
            return next;
        }

        limited = true;
        if (last > 0)
        {
            var arg = 1 + (next - last) / emissionVoltage;
            return arg > 0 ? last + emissionVoltage * Math.Log(arg) : critical;
        }

        return emissionVoltage * Math.Log(next / emissionVoltage);
    }
}
