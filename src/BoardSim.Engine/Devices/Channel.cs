using System.Runtime.CompilerServices;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Shichman and Hodges' channel (IEEE J. Solid-State Circuits 3, 1968, 285) with the charges that go with it, for an N-channel
/// transistor with all voltages referred to the bulk. Drain and source are interchangeable.
/// </summary>
internal struct Channel
{
    // Width in volts of the rounded corners of the charges, about two thermal voltages.
    private const double Corner = 0.05;

    /// <summary>KP W/L in A/V^2.</summary>
    public double Beta;

    /// <summary>LAMBDA in 1/V.</summary>
    public double Lambda;

    /// <summary>GAMMA in V^0.5.</summary>
    public double Gamma;

    /// <summary>PHI in volts.</summary>
    public double Phi;

    /// <summary>Threshold without the body's share (VTO - GAMMA sqrt(PHI)), in volts.</summary>
    public double BuiltIn;

    /// <summary>Capacitance of the gate oxide over the channel in farads; zero for no charges.</summary>
    public double Oxide;

    private double rootPhi;

    /// <summary>Works out what does not depend on voltages; to be called after the fields are set.</summary>
    public void Prepare() => rootPhi = Math.Sqrt(Phi);

    /// <summary>Threshold in volts, gate to the end that is at <paramref name="end"/> volts above the bulk.</summary>
    public readonly double Threshold(double end)
    {
        Body(end, out var root, out _);
        return BuiltIn + Gamma * root;
    }

    /// <summary>Current from drain to source and its derivatives by gate, drain and source voltage (the bulk's is minus their sum).</summary>
    public readonly void Conduct(double g, double d, double s, out double i, out double ig, out double id, out double ies)
    {
        var forward = d >= s;
        var (hi, lo) = forward ? (d, s) : (s, d);
        Body(lo, out var root, out var slope);
        var drive = g - lo - BuiltIn - Gamma * root;
        if (drive <= 0)
        {
            i = ig = id = ies = 0;
            return;
        }

        var v = hi - lo;
        var beta = Beta * (1 + Lambda * v);
        double ids, gds;
        if (drive <= v)
        {
            var half = 0.5 * drive * drive;
            ids = beta * half;
            ig = beta * drive;
            gds = Lambda * Beta * half;
        }
        else
        {
            var shape = v * (drive - 0.5 * v);
            ids = beta * shape;
            ig = beta * v;
            gds = beta * (drive - v) + Lambda * Beta * shape;
        }

        // d drive / d lo = -1 - GAMMA d root / d lo.
        var glo = -ig * (1 + Gamma * slope) - gds;
        if (forward)
        {
            (i, id, ies) = (ids, gds, glo);
        }
        else
        {
            (i, ig, id, ies) = (-ids, -ig, -glo, -gds);
        }
    }

    /// <summary>
    /// Charges of gate, drain and source in coulombs with their derivatives; the bulk's charge is minus their sum. Inversion charge
    /// of the gradual channel, divided between drain and source after Ward and Dutton (IEEE J. Solid-State Circuits 13, 1978,
    /// 703; closed form as in Tsividis, Operation and Modeling of the MOS Transistor, from memory), which gives Meyer's 2/3 of
    /// the oxide capacitance in saturation and conserves charge; below it accumulation and depletion under the gate.
    /// </summary>
    public readonly void Store(double g, double d, double s, out Charges q)
    {
        q = default;
        Body(s, out var rootS, out var slopeS);
        Body(d, out var rootD, out var slopeD);
        Rounded(g - s - BuiltIn - Gamma * rootS, out var us, out var dus);
        Rounded(g - d - BuiltIn - Gamma * rootD, out var ud, out var dud);
        var (usS, udD) = (-dus * (1 + Gamma * slopeS), -dud * (1 + Gamma * slopeD));

        var sum = us + ud;
        var scale = Oxide / (15 * sum * sum);
        Share(us, ud, sum, scale, out var qs, out var qsUs, out var qsUd);
        Share(ud, us, sum, scale, out var qd, out var qdUd, out var qdUs);
        (q.S, q.SG, q.SD, q.SS) = (-qs, -(qsUs * dus + qsUd * dud), -qsUd * udD, -qsUs * usS);
        (q.D, q.DG, q.DD, q.DS) = (-qd, -(qdUs * dus + qdUd * dud), -qdUd * udD, -qdUs * usS);

        var y = g - (BuiltIn - Phi);
        Rounded(y, out var up, out var dup);
        Bulk(up, rootS, slopeS, out var bs, out var bsG, out var bsE);
        Bulk(up, rootD, slopeD, out var bd, out var bdG, out var bdE);
        var half = 0.5 * Oxide;
        q.G = Oxide * (y - up) + half * (bs + bd) - q.S - q.D;
        q.GG = Oxide * (1 - dup) + half * (bsG + bdG) * dup - q.SG - q.DG;
        q.GD = half * bdE - q.SD - q.DD;
        q.GS = half * bsE - q.SS - q.DS;
    }

    /// <summary>Square root of the band bending at an end of the channel, and its derivative by the end's voltage; continued as a
    /// tangent where the body is forward biased, as in Berkeley SPICE.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private readonly void Body(double end, out double root, out double slope)
    {
        if (end >= 0)
        {
            root = Math.Sqrt(Phi + end);
            slope = 0.5 / root;
            return;
        }

        root = rootPhi + 0.5 * end / rootPhi;
        slope = 0.5 / rootPhi;
        if (root < 0)
        {
            root = slope = 0;
        }
    }

    /// <summary>Positive part with a rounded corner, and its derivative; always above zero.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Rounded(double v, out double value, out double slope)
    {
        var root = Math.Sqrt(v * v + 4 * Corner * Corner);

        // The second form is the first without the cancellation far below zero.
        value = v > 0 ? 0.5 * (v + root) : 2 * Corner * Corner / (root - v);
        slope = value / root;
    }

    /// <summary>One end's share of the inversion charge from the drive at this end and at the other.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Share(double here, double there, double sum, double scale, out double q, out double qHere, out double qThere)
    {
        var (h2, t2, ht) = (here * here, there * there, here * there);
        q = scale * (6 * h2 * here + 12 * h2 * there + 8 * here * t2 + 4 * t2 * there);
        qHere = scale * (18 * h2 + 24 * ht + 8 * t2) - 2 * q / sum;
        qThere = scale * (12 * h2 + 16 * ht + 12 * t2) - 2 * q / sum;
    }

    /// <summary>
    /// Depletion charge under the gate per oxide capacitance, in volts: that of the gate voltage until inversion pins it to the
    /// band bending at this end. The smaller of the two is taken as an eighth-power mean, for a corner would make the
    /// capacitance jump, and with it every current that charges the gate.
    /// </summary>
    private readonly void Bulk(double up, double root, double slope, out double q, out double qUp, out double qEnd)
    {
        q = qUp = qEnd = 0;
        var pinned = root * (root + Gamma);
        if (Gamma <= 0 || pinned <= 0)
        {
            return;
        }

        // The larger of the two is divided out, so that no power overflows.
        var ratio = up < pinned ? up / pinned : pinned / up;
        var r2 = ratio * ratio;
        var r4 = r2 * r2;
        var sum = 1 + r4 * r4;
        var mean = 1 / Math.Sqrt(Math.Sqrt(Math.Sqrt(sum)));
        var near = mean / sum;
        var far = near * r4 * r4 * ratio;
        var (y, yUp, yPinned) = up < pinned ? (up * mean, near, far) : (pinned * mean, far, near);

        var r = Math.Sqrt(1 + 4 * y / (Gamma * Gamma));
        q = 2 * y / (1 + r);
        qUp = yUp / r;
        qEnd = yPinned * (2 * root + Gamma) * slope / r;
    }

    /// <summary>Charges of gate, drain and source and their derivatives: second letter is the voltage.</summary>
    public struct Charges
    {
        public double G, D, S, GG, GD, GS, DG, DD, DS, SG, SD, SS;
    }
}
