using System.Numerics;
using System.Runtime.CompilerServices;

namespace BoardSim.Engine.Devices;

/// <summary>Depletion charge of a junction at one temperature, with what does not depend on the voltage worked out beforehand.</summary>
internal readonly struct Depletion
{
    // Temperature that Berkeley SPICE refers its silicon parameters to.
    private const double Reference = 300.15;

    private readonly double cj, vj, m, knee, kneeCharge, slope0, slope1;

    /// <summary>Prepares the law.</summary>
    /// <param name="cj">Capacitance at zero bias in farads at <paramref name="nominal"/>.</param>
    /// <param name="vj">Junction potential in volts at <paramref name="nominal"/>.</param>
    /// <param name="m">Grading coefficient.</param>
    /// <param name="fc">Where the linear continuation begins, as a fraction of the potential.</param>
    /// <param name="temperature">Temperature in kelvin.</param>
    /// <param name="nominal">Temperature in kelvin at which the parameters hold.</param>
    public Depletion(double cj, double vj, double m, double fc, double temperature, double nominal)
    {
        this.m = m;
        if (temperature == nominal)
        {
            (this.cj, this.vj) = (cj, vj);
        }
        else
        {
            // Berkeley SPICE3: potential and capacitance are first taken back to the reference temperature, then forward.
            var vj0 = (vj - Shift(nominal)) / (nominal / Reference);
            var cj0 = cj / (1 + m * (4e-4 * (nominal - Reference) - (vj - vj0) / vj0));
            this.vj = temperature / Reference * vj0 + Shift(temperature);
            this.cj = cj0 * (1 + m * (4e-4 * (temperature - Reference) - (this.vj - vj0) / vj0));
        }

        knee = fc * this.vj;
        var f2 = Math.Pow(1 - fc, 1 + m);
        kneeCharge = this.cj * this.vj / (1 - m) * (1 - Math.Pow(1 - fc, 1 - m));
        slope0 = this.cj / f2 * (1 - fc * (1 + m));
        slope1 = this.cj / f2 * m / this.vj;
    }

    /// <summary>True when there is any charge.</summary>
    public bool IsPresent => cj > 0;

    /// <summary>True when the law is of the square-root kind and present, which <see cref="Evaluate(Vector{double}, out Vector{double}, out Vector{double})"/> asks for.</summary>
    public bool HasSquareRoot => m == 0.5 && cj > 0 && knee >= 0;

    /// <summary>Charge and capacitance at several negative voltages of a junction with <see cref="HasSquareRoot"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Evaluate(Vector<double> v, out Vector<double> charge, out Vector<double> capacitance)
    {
        var root = Vector.SquareRoot(Vector<double>.One - v / vj);
        charge = (Vector<double>.One - root) * (2 * cj * vj);
        capacitance = new Vector<double>(cj) / root;
    }

    /// <summary>Energy gap of silicon in electronvolts (Sze, Physics of Semiconductor Devices, 2nd ed. 1981, p. 15; from memory).</summary>
    public static double SiliconGap(double kelvin) => 1.16 - 7.02e-4 * kelvin * kelvin / (kelvin + 1108);

    /// <summary>What a potential such as PHI or PB gains at a temperature, apart from being proportional to it.</summary>
    public static double Shift(double kelvin)
    {
        var vt = Junction.VoltsPerKelvin * kelvin;
        return -2 * vt * (1.5 * Math.Log(kelvin / Reference)
            + 0.5 * (1.1150877 / (Junction.VoltsPerKelvin * Reference) - SiliconGap(kelvin) / vt));
    }

    /// <summary>A junction potential taken from its nominal temperature to another.</summary>
    public static double PotentialAt(double volts, double temperature, double nominal) =>
        temperature == nominal
            ? volts
            : temperature / Reference * ((volts - Shift(nominal)) / (nominal / Reference)) + Shift(temperature);

    /// <summary>Charge and capacitance at a voltage; below the knee <c>cj / (1 - v/vj)^m</c>, above it the tangent of that
    /// (Antognetti and Massobrio, Semiconductor Device Modeling with SPICE, 2nd ed. 1993, section 1.5; from memory).</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Evaluate(double v, out double charge, out double capacitance)
    {
        if (v < knee)
        {
            var arg = 1 - v / vj;
            var s = m == 0.5 ? 1 / Math.Sqrt(arg) : Math.Exp(-m * Math.Log(arg));
            charge = cj * vj * (1 - arg * s) / (1 - m);
            capacitance = cj * s;
            return;
        }

        charge = kneeCharge + (v - knee) * (slope0 + 0.5 * slope1 * (v + knee));
        capacitance = slope0 + slope1 * v;
    }
}
