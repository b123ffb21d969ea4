using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Bipolar transistor; terminals: collector, base, emitter. Law: the core of Gummel and Poon's integral charge control model
/// (Bell Syst. Tech. J. 49, 1970, 827) in the form of Berkeley SPICE's model Q: transport current over a base charge with
/// Early effect and high injection, leakage diodes, constant series resistances, depletion charges and diffusion charges
/// from TF and TR.
/// </summary>
public sealed class BipolarTransistor : Device, ICurrent
{
    private int c, b, e, ci, bi, ei;
    private int cc, cci, cic, bb, bbi, bib, ee, eei, eie;
    private int gcc, gcb, gce, gbc, gbb, gbe, gec, geb, gee;
    private double sign, temperature;
    private double isat, vtf, vtr, ise, vte, isc, vtc, invBf, invBr, invVaf, invVar, invIkf, invIkr, tf, tr, collector;
    private double criticalE, criticalC, lastE, lastC;
    private bool hasEarly, hasKnee, hasCharge;
    private Depletion je, jc;

    /// <summary>Creates a transistor.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="collector">Collector node.</param>
    /// <param name="base">Base node.</param>
    /// <param name="emitter">Emitter node.</param>
    /// <param name="model">Parameters.</param>
    public BipolarTransistor(string name, string collector, string @base, string emitter, BipolarModel model)
        : base(name, collector, @base, emitter) => Model = model;

    /// <summary>Parameters.</summary>
    public BipolarModel Model { get; set; }

    /// <summary>Area factor, positive: that many such transistors in parallel.</summary>
    public double Area { get; set; } = 1;

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override bool IsFloating => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [ci, bi, ei];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive), new(1, 2, LinkKind.Conductive), new(0, 2, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        temperature = binder.Circuit.Temperature;
        c = binder.Node(Nodes[0]);
        b = binder.Node(Nodes[1]);
        e = binder.Node(Nodes[2]);
        ci = Model.CollectorResistance > 0 ? binder.Internal("collector", UnknownKind.Voltage) : c;
        bi = Model.BaseResistance > 0 ? binder.Internal("base", UnknownKind.Voltage) : b;
        ei = Model.EmitterResistance > 0 ? binder.Internal("emitter", UnknownKind.Voltage) : e;
        (cc, cci, cic) = (binder.Slot(c, c), binder.Slot(c, ci), binder.Slot(ci, c));
        (bb, bbi, bib) = (binder.Slot(b, b), binder.Slot(b, bi), binder.Slot(bi, b));
        (ee, eei, eie) = (binder.Slot(e, e), binder.Slot(e, ei), binder.Slot(ei, e));
        (gcc, gcb, gce) = (binder.Slot(ci, ci), binder.Slot(ci, bi), binder.Slot(ci, ei));
        (gbc, gbb, gbe) = (binder.Slot(bi, ci), binder.Slot(bi, bi), binder.Slot(bi, ei));
        (gec, geb, gee) = (binder.Slot(ei, ci), binder.Slot(ei, bi), binder.Slot(ei, ei));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        Prepare();
        collector = Series(loads.G, Model.CollectorResistance, "collector resistance", ci != c, cc, cci, cic, gcc);
        Series(loads.G, Model.BaseResistance, "base resistance", bi != b, bb, bbi, bib, gbb);
        Series(loads.G, Model.EmitterResistance, "emitter resistance", ei != e, ee, eei, eie, gee);
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var x = loads.X;
        var vbeX = sign * (x[bi] - x[ei]);
        var vbcX = sign * (x[bi] - x[ci]);
        var (vbe, vbc) = (vbeX, vbcX);
        if (loads.Limiting)
        {
            Limit(ref vbe, ref vbc, loads);
        }

        Conduct(vbe, vbc, loads.Gmin, out var p);

        // At limited voltages the law is replaced by its tangent plane there, so Newton sees a consistent linear model.
        var (de, dc) = (vbeX - vbe, vbcX - vbc);
        var ic = sign * (p.Ic + p.IcE * de + p.IcC * dc);
        var ib = sign * (p.Ib + p.IbE * de + p.IbC * dc);
        loads.F[ci] += ic;
        loads.F[bi] += ib;
        loads.F[ei] -= ic + ib;
        Stamp(loads.G, p.IcE, p.IcC, p.IbE, p.IbC);

        if (hasCharge)
        {
            Store(vbe, vbc, p, out var qe, out var qeE, out var qeC, out var qc, out var qcC);
            qe = sign * (qe + qeE * de + qeC * dc);
            qc = sign * (qc + qcC * dc);
            loads.Q[bi] += qe + qc;
            loads.Q[ei] -= qe;
            loads.Q[ci] -= qc;
            StampCharge(loads.C, qeE, qeC, qcC);
        }
    }

    /// <summary>Current in amperes into the collector; without the charging currents of the junctions when the model has no
    /// collector resistance.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x)
    {
        if (ci != c)
        {
            return (x[c] - x[ci]) * collector;
        }

        Conduct(sign * (x[bi] - x[ei]), sign * (x[bi] - x[ci]), 0, out var p);
        return sign * p.Ic;
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() => Model.Problems(Name).Concat(Ranges.Positive(Name, ("area factor", Area)));

    private double Series(double[] matrix, double ohms, string what, bool bound, int outer, int outerInner, int innerOuter, int inner)
    {
        Ranges.SameInnerNode(Name, what, bound, ohms > 0);
        if (!bound)
        {
            return 0;
        }

        var g = Area / ohms;
        matrix[outer] += g;
        matrix[outerInner] -= g;
        matrix[innerOuter] -= g;
        matrix[inner] += g;
        return g;
    }

    private void Limit(ref double vbe, ref double vbc, Loads loads)
    {
        if (!loads.Fresh)
        {
            var limited = false;
            vbe = Junction.Limit(vbe, lastE, vtf, criticalE, ref limited);
            vbc = Junction.Limit(vbc, lastC, vtr, criticalC, ref limited);
            loads.Limited |= limited;
        }

        (lastE, lastC) = (vbe, vbc);
    }

    private void Conduct(double vbe, double vbc, double gmin, out Point p)
    {
        Junction.Diffusion(vbe, isat, vtf, out var iff, out var gf);
        Junction.Diffusion(vbc, isat, vtr, out var ir, out var gr);
        p = default;
        double qb = 1, qbE = 0, qbC = 0;
        if (hasEarly)
        {
            var d = 1 - vbc * invVaf - vbe * invVar;
            var slope = 1.0;
            if (d < LeastEarly)
            {
                // Far forward bias of both junctions would make the base charge infinite; it is kept finite there.
                d = LeastEarly * Math.Exp(Math.Max(-50, (d - LeastEarly) / LeastEarly));
                slope = d / LeastEarly;
            }

            qb = 1 / d;
            qbE = qb * qb * slope * invVar;
            qbC = qb * qb * slope * invVaf;
        }

        if (hasKnee)
        {
            var root = Math.Sqrt(Math.Max(1e-6, 1 + 4 * (iff * invIkf + ir * invIkr)));
            var half = 0.5 * (1 + root);
            qbE = qbE * half + qb * gf * invIkf / root;
            qbC = qbC * half + qb * gr * invIkr / root;
            qb *= half;
        }

        var transport = (iff - ir) / qb;
        double leakE = 0, gLeakE = 0, leakC = 0, gLeakC = 0;
        if (ise > 0)
        {
            Junction.Diffusion(vbe, ise, vte, out leakE, out gLeakE);
        }

        if (isc > 0)
        {
            Junction.Diffusion(vbc, isc, vtc, out leakC, out gLeakC);
        }

        var ibc = ir * invBr + leakC + gmin * vbc;
        var gbc = gr * invBr + gLeakC + gmin;
        p.Ic = transport - ibc;
        p.IcE = (gf - transport * qbE) / qb;
        p.IcC = (-gr - transport * qbC) / qb - gbc;
        p.Ib = iff * invBf + leakE + gmin * vbe + ibc;
        p.IbE = gf * invBf + gLeakE + gmin;
        p.IbC = gbc;
        (p.If, p.Gf, p.Ir, p.Gr, p.Qb, p.QbE, p.QbC) = (iff, gf, ir, gr, qb, qbE, qbC);
    }

    private void Store(double vbe, double vbc, in Point p, out double qe, out double qeE, out double qeC, out double qc, out double qcC)
    {
        qe = qeE = qeC = qc = qcC = 0;
        if (je.IsPresent)
        {
            je.Evaluate(vbe, out qe, out qeE);
        }

        if (jc.IsPresent)
        {
            jc.Evaluate(vbc, out qc, out qcC);
        }

        if (tf > 0)
        {
            var q = tf * p.If / p.Qb;
            qe += q;
            qeE += (tf * p.Gf - q * p.QbE) / p.Qb;
            qeC -= q * p.QbC / p.Qb;
        }

        qc += tr * p.Ir;
        qcC += tr * p.Gr;
    }

    private void Stamp(double[] matrix, double cE, double cC, double bE, double bC)
    {
        matrix[gcb] += cE + cC;
        matrix[gce] -= cE;
        matrix[gcc] -= cC;
        matrix[gbb] += bE + bC;
        matrix[gbe] -= bE;
        matrix[gbc] -= bC;
        matrix[geb] -= cE + cC + bE + bC;
        matrix[gee] += cE + bE;
        matrix[gec] += cC + bC;
    }

    // Written out rather than through Stamp: in saturation the collector's capacitance would drown the emitter's.
    private void StampCharge(double[] matrix, double eE, double eC, double cC)
    {
        matrix[gcb] -= cC;
        matrix[gcc] += cC;
        matrix[gbb] += eE + eC + cC;
        matrix[gbe] -= eE;
        matrix[gbc] -= eC + cC;
        matrix[geb] -= eE + eC;
        matrix[gee] += eE;
        matrix[gec] += eC;
    }

    private void Prepare()
    {
        var m = Model;
        sign = m.IsPnp ? -1 : 1;
        var vt = Junction.VoltsPerKelvin * temperature;
        var ratio = temperature / m.NominalTemperature;
        (vtf, vtr) = (m.ForwardEmission * vt, m.ReverseEmission * vt);
        (vte, vtc) = (m.BaseEmitterLeakageEmission * vt, m.BaseCollectorLeakageEmission * vt);

        // Temperature laws of Berkeley SPICE3: IS by gap and XTI, gains by XTB, leakages by both.
        var log = (ratio - 1) * m.EnergyGap / vt + m.SaturationExponent * Math.Log(ratio);
        var beta = Math.Pow(ratio, m.BetaExponent);
        isat = Area * m.SaturationCurrent * Math.Exp(log);
        ise = Area * m.BaseEmitterLeakage * Math.Exp(log / m.BaseEmitterLeakageEmission) / beta;
        isc = Area * m.BaseCollectorLeakage * Math.Exp(log / m.BaseCollectorLeakageEmission) / beta;
        (invBf, invBr) = (1 / (m.ForwardBeta * beta), 1 / (m.ReverseBeta * beta));
        (invVaf, invVar) = (1 / m.ForwardEarlyVoltage, 1 / m.ReverseEarlyVoltage);
        (invIkf, invIkr) = (1 / (Area * m.ForwardKneeCurrent), 1 / (Area * m.ReverseKneeCurrent));
        hasEarly = invVaf > 0 || invVar > 0;
        hasKnee = invIkf > 0 || invIkr > 0;
        criticalE = Junction.CriticalVoltage(isat, vtf);
        criticalC = Junction.CriticalVoltage(isat, vtr);
        (tf, tr) = (m.ForwardTransitTime, m.ReverseTransitTime);
        je = new Depletion(
            Area * m.BaseEmitterCapacitance, m.BaseEmitterPotential, m.BaseEmitterGrading, m.ForwardCoefficient, temperature, m.NominalTemperature);
        jc = new Depletion(
            Area * m.BaseCollectorCapacitance, m.BaseCollectorPotential, m.BaseCollectorGrading, m.ForwardCoefficient, temperature, m.NominalTemperature);
        hasCharge = tf > 0 || tr > 0 || je.IsPresent || jc.IsPresent;
    }

    // Least value of 1 - vbc/VAF - vbe/VAR that is followed.
    private const double LeastEarly = 0.05;

    /// <summary>Currents, their derivatives by the two junction voltages, and what the charges need of them.</summary>
    private struct Point
    {
        public double Ic, IcE, IcC, Ib, IbE, IbC;
        public double If, Gf, Ir, Gr, Qb, QbE, QbC;
    }
}
