using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// MOSFET; terminals: drain, gate, source, bulk. Law: Shichman and Hodges' square law with body effect and channel-length
/// modulation (Berkeley SPICE's model M, level 1), junctions from bulk to drain and source with their depletion charge, gate
/// overlaps, and with an oxide thickness a charge-conserving channel charge. For a discrete part with a body diode connect
/// the bulk to the source.
/// </summary>
public sealed class Mosfet : Device, ICurrent
{
    private int d, g, s, b, di, si;
    private int dd, ddi, did, ss, ssi, sis;
    private int gg, gd, gs, gb, cdg, cdd, cds, cdb, csg, csd, css, csb, bg, bd, bs, bb;
    private double sign, temperature, vt, isatD, isatS, criticalD, criticalS;
    private double gateDrain, gateSource, gateBulk;
    private double lastGs, lastDs, lastBs;
    private Channel channel;
    private Depletion bottomD, bottomS, wallD, wallS;
    private bool hasBulkCharge;

    /// <summary>Creates a transistor.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="drain">Drain node.</param>
    /// <param name="gate">Gate node.</param>
    /// <param name="source">Source node.</param>
    /// <param name="bulk">Bulk node.</param>
    /// <param name="model">Parameters.</param>
    public Mosfet(string name, string drain, string gate, string source, string bulk, MosfetModel model)
        : base(name, drain, gate, source, bulk) => Model = model;

    /// <summary>Parameters.</summary>
    public MosfetModel Model { get; set; }

    /// <summary>Channel width W in metres, positive.</summary>
    public double Width { get; set; } = 1e-4;

    /// <summary>Channel length L in metres, above twice the lateral diffusion.</summary>
    public double Length { get; set; } = 1e-4;

    /// <summary>Area AD of the drain junction in square metres, zero or more.</summary>
    public double DrainArea { get; set; }

    /// <summary>Area AS of the source junction in square metres, zero or more.</summary>
    public double SourceArea { get; set; }

    /// <summary>Perimeter PD of the drain junction in metres, zero or more.</summary>
    public double DrainPerimeter { get; set; }

    /// <summary>Perimeter PS of the source junction in metres, zero or more.</summary>
    public double SourcePerimeter { get; set; }

    /// <summary>Squares NRD of drain diffusion in series with the channel, zero or more.</summary>
    public double DrainSquares { get; set; } = 1;

    /// <summary>Squares NRS of source diffusion in series with the channel, zero or more.</summary>
    public double SourceSquares { get; set; } = 1;

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override bool IsFloating => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [di, g, si, b];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links
    {
        get
        {
            yield return new(0, 2, LinkKind.Conductive);
            yield return new(0, 3, LinkKind.Conductive);
            yield return new(2, 3, LinkKind.Conductive);

            // Without any of these a gate whose lead is cut hangs in the air even in a run from initial conditions.
            var oxide = Model.OxideThickness is not null;
            foreach (var (terminal, overlap) in new[] { (0, Model.GateDrainOverlap), (2, Model.GateSourceOverlap), (3, Model.GateBulkOverlap) })
            {
                if (overlap > 0 || (oxide && terminal != 3))
                {
                    yield return new(1, terminal, LinkKind.Capacitive);
                }
            }
        }
    }

    private double DrainOhms => Model.DrainResistance > 0 ? Model.DrainResistance : Model.SheetResistance * DrainSquares;

    private double SourceOhms => Model.SourceResistance > 0 ? Model.SourceResistance : Model.SheetResistance * SourceSquares;

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        temperature = binder.Circuit.Temperature;
        d = binder.Node(Nodes[0]);
        g = binder.Node(Nodes[1]);
        s = binder.Node(Nodes[2]);
        b = binder.Node(Nodes[3]);
        di = DrainOhms > 0 ? binder.Internal("drain", UnknownKind.Voltage) : d;
        si = SourceOhms > 0 ? binder.Internal("source", UnknownKind.Voltage) : s;
        (dd, ddi, did) = (binder.Slot(d, d), binder.Slot(d, di), binder.Slot(di, d));
        (ss, ssi, sis) = (binder.Slot(s, s), binder.Slot(s, si), binder.Slot(si, s));
        (gg, gd, gs, gb) = (binder.Slot(g, g), binder.Slot(g, di), binder.Slot(g, si), binder.Slot(g, b));
        (cdg, cdd, cds, cdb) = (binder.Slot(di, g), binder.Slot(di, di), binder.Slot(di, si), binder.Slot(di, b));
        (csg, csd, css, csb) = (binder.Slot(si, g), binder.Slot(si, di), binder.Slot(si, si), binder.Slot(si, b));
        (bg, bd, bs, bb) = (binder.Slot(b, g), binder.Slot(b, di), binder.Slot(b, si), binder.Slot(b, b));
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        Prepare();
        Series(loads.G, DrainOhms, "drain resistance", di != d, dd, ddi, did, cdd);
        Series(loads.G, SourceOhms, "source resistance", si != s, ss, ssi, sis, css);
        Pair(loads.C, gateDrain, gg, gd, cdg, cdd);
        Pair(loads.C, gateSource, gg, gs, csg, css);
        Pair(loads.C, gateBulk, gg, gb, bg, bb);
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var x = loads.X;
        var (ugX, udX, usX) = (sign * (x[g] - x[b]), sign * (x[di] - x[b]), sign * (x[si] - x[b]));
        var (ug, ud, us) = (ugX, udX, usX);
        if (loads.Limiting)
        {
            Limit(ref ug, ref ud, ref us, loads);
        }

        // At limited voltages the law is replaced by its tangent there, so Newton sees a consistent linear model.
        var (eg, ed, es) = (ugX - ug, udX - ud, usX - us);

        channel.Conduct(ug, ud, us, out var i, out var ig, out var id, out var ies);
        Junction.Diffusion(-ud, isatD, vt, out var jd, out var gjd);
        Junction.Diffusion(-us, isatS, vt, out var js, out var gjs);
        jd -= loads.Gmin * ud;
        js -= loads.Gmin * us;
        gjd += loads.Gmin;
        gjs += loads.Gmin;

        i += ig * eg + id * ed + ies * es;
        jd -= gjd * ed;
        js -= gjs * es;
        loads.F[di] += sign * (i - jd);
        loads.F[si] -= sign * (i + js);
        loads.F[b] += sign * (jd + js);

        var m = loads.G;
        var ib = ig + id + ies;
        m[cdg] += ig;
        m[cdd] += id + gjd;
        m[cds] += ies;
        m[cdb] -= ib + gjd;
        m[csg] -= ig;
        m[csd] -= id;
        m[css] += gjs - ies;
        m[csb] += ib - gjs;
        m[bd] -= gjd;
        m[bs] -= gjs;
        m[bb] += gjd + gjs;

        if (hasBulkCharge)
        {
            BulkCharge(loads, ud, ed, bottomD, wallD, di, cdd, cdb, bd);
            BulkCharge(loads, us, es, bottomS, wallS, si, css, csb, bs);
        }

        if (channel.Oxide > 0)
        {
            GateCharge(loads, ug, ud, us, eg, ed, es);
        }
    }

    /// <summary>Current in amperes into the drain: channel and bulk-drain junction; without charging currents when there is no drain
    /// resistance.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x)
    {
        if (di != d)
        {
            return (x[d] - x[di]) / DrainOhms;
        }

        var ud = sign * (x[di] - x[b]);
        channel.Conduct(sign * (x[g] - x[b]), ud, sign * (x[si] - x[b]), out var i, out _, out _, out _);
        Junction.Diffusion(-ud, isatD, vt, out var jd, out _);
        return sign * (i - jd);
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var problem in Model.Problems(Name))
        {
            yield return problem;
        }

        foreach (var problem in Ranges.Positive(Name, ("channel width", Width)).Concat(Ranges.NotNegative(
            Name,
            ("drain area", DrainArea),
            ("source area", SourceArea),
            ("drain perimeter", DrainPerimeter),
            ("source perimeter", SourcePerimeter),
            ("drain squares", DrainSquares),
            ("source squares", SourceSquares))))
        {
            yield return problem;
        }

        if (!(Length > 2 * Model.LateralDiffusion))
        {
            yield return $"{Name}: channel length {Length} m; it must be above twice the lateral diffusion of {Model.LateralDiffusion} m.";
        }
    }

    private void Series(double[] matrix, double ohms, string what, bool bound, int outer, int outerInner, int innerOuter, int inner)
    {
        Ranges.SameInnerNode(Name, what, bound, ohms > 0);
        if (bound)
        {
            Pair(matrix, 1 / ohms, outer, outerInner, innerOuter, inner);
        }
    }

    private static void Pair(double[] matrix, double value, int aa, int ab, int ba, int bb)
    {
        matrix[aa] += value;
        matrix[ab] -= value;
        matrix[ba] -= value;
        matrix[bb] += value;
    }

    private void BulkCharge(
        Loads loads, double u, double e, in Depletion bottom, in Depletion wall, int end, int endEnd, int endBulk, int bulkEnd)
    {
        bottom.Evaluate(-u, out var q, out var c);
        if (wall.IsPresent)
        {
            wall.Evaluate(-u, out var qw, out var cw);
            q += qw;
            c += cw;
        }

        q = sign * (q - c * e);
        loads.Q[b] += q;
        loads.Q[end] -= q;
        Pair(loads.C, c, endEnd, endBulk, bulkEnd, bb);
    }

    private void GateCharge(Loads loads, double ug, double ud, double us, double eg, double ed, double es)
    {
        channel.Store(ug, ud, us, out var q);
        var qg = sign * (q.G + q.GG * eg + q.GD * ed + q.GS * es);
        var qd = sign * (q.D + q.DG * eg + q.DD * ed + q.DS * es);
        var qs = sign * (q.S + q.SG * eg + q.SD * ed + q.SS * es);
        loads.Q[g] += qg;
        loads.Q[di] += qd;
        loads.Q[si] += qs;
        loads.Q[b] -= qg + qd + qs;

        var m = loads.C;
        m[gg] += q.GG;
        m[gd] += q.GD;
        m[gs] += q.GS;
        m[gb] -= q.GG + q.GD + q.GS;
        m[cdg] += q.DG;
        m[cdd] += q.DD;
        m[cds] += q.DS;
        m[cdb] -= q.DG + q.DD + q.DS;
        m[csg] += q.SG;
        m[csd] += q.SD;
        m[css] += q.SS;
        m[csb] -= q.SG + q.SD + q.SS;
        m[bg] -= q.GG + q.DG + q.SG;
        m[bd] -= q.GD + q.DD + q.SD;
        m[bs] -= q.GS + q.DS + q.SS;
        m[bb] += q.GG + q.GD + q.GS + q.DG + q.DD + q.DS + q.SG + q.SD + q.SS;
    }

    private void Limit(ref double ug, ref double ud, ref double us, Loads loads)
    {
        var (vgs, vds, vbs) = (ug - us, ud - us, -us);
        if (!loads.Fresh)
        {
            var limited = false;
            if (lastDs >= 0)
            {
                var vgd = vgs - vds;
                vgs = ChannelLimits.Gate(vgs, lastGs, channel.Threshold(-lastBs), ref limited);
                vds = ChannelLimits.Drain(vgs - vgd, lastDs, ref limited);
            }
            else
            {
                // Seen from the other end, drain and source change places.
                var vgd = ChannelLimits.Gate(vgs - vds, lastGs - lastDs, channel.Threshold(lastDs - lastBs), ref limited);
                vds = -ChannelLimits.Drain(-(vgs - vgd), -lastDs, ref limited);
                vgs = vgd + vds;
            }

            if (vds >= 0)
            {
                vbs = Junction.Limit(vbs, lastBs, vt, criticalS, ref limited);
            }
            else
            {
                vbs = Junction.Limit(vbs - vds, lastBs - lastDs, vt, criticalD, ref limited) + vds;
            }

            loads.Limited |= limited;
            if (limited)
            {
                (ug, ud, us) = (vgs - vbs, vds - vbs, -vbs);
            }
        }

        (lastGs, lastDs, lastBs) = (vgs, vds, vbs);
    }

    private void Prepare()
    {
        var m = Model;
        sign = m.IsPChannel ? -1 : 1;
        vt = Junction.VoltsPerKelvin * temperature;
        var nominal = m.NominalTemperature;
        var ratio = temperature / nominal;
        var length = Length - 2 * m.LateralDiffusion;

        // Temperature laws of Berkeley SPICE3's MOS1: mobility with the power -1.5, potentials and gap as in its junctions.
        var (gapNominal, gap) = (Depletion.SiliconGap(nominal), Depletion.SiliconGap(temperature));
        var phi = Depletion.PotentialAt(m.SurfacePotential, temperature, nominal);
        channel = new Channel
        {
            Beta = m.TransconductanceParameter / (ratio * Math.Sqrt(ratio)) * Width / length,
            Lambda = m.ChannelLengthModulation,
            Gamma = m.BodyEffect,
            Phi = phi,
            BuiltIn = sign * (m.ThresholdVoltage + 0.5 * (gapNominal - gap)) - m.BodyEffect * Math.Sqrt(m.SurfacePotential)
                + 0.5 * (phi - m.SurfacePotential),
            Oxide = m.OxideCapacitance * Width * length,
        };
        channel.Prepare();

        var growth = Math.Exp(gapNominal / (Junction.VoltsPerKelvin * nominal) - gap / vt);
        var byArea = m.BulkSaturationDensity > 0 && DrainArea > 0 && SourceArea > 0;
        isatD = growth * (byArea ? m.BulkSaturationDensity * DrainArea : m.BulkSaturationCurrent);
        isatS = growth * (byArea ? m.BulkSaturationDensity * SourceArea : m.BulkSaturationCurrent);
        criticalD = Junction.CriticalVoltage(isatD, vt);
        criticalS = Junction.CriticalVoltage(isatS, vt);

        bottomD = Bulk(m.BulkDrainCapacitance > 0 ? m.BulkDrainCapacitance : m.BottomCapacitance * DrainArea, m.BottomGrading);
        bottomS = Bulk(m.BulkSourceCapacitance > 0 ? m.BulkSourceCapacitance : m.BottomCapacitance * SourceArea, m.BottomGrading);
        wallD = Bulk(m.SidewallCapacitance * DrainPerimeter, m.SidewallGrading);
        wallS = Bulk(m.SidewallCapacitance * SourcePerimeter, m.SidewallGrading);
        hasBulkCharge = bottomD.IsPresent || bottomS.IsPresent || wallD.IsPresent || wallS.IsPresent;

        gateDrain = m.GateDrainOverlap * Width;
        gateSource = m.GateSourceOverlap * Width;
        gateBulk = m.GateBulkOverlap * length;
    }

    private Depletion Bulk(double farads, double grading) =>
        new(farads, Model.BulkPotential, grading, Model.ForwardCoefficient, temperature, Model.NominalTemperature);
}
