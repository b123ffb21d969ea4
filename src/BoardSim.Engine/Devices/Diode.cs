using System.Numerics;
using System.Runtime.CompilerServices;
using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>Parameters of a junction diode, shared by all diodes of one model. Letters as in Berkeley SPICE's model D.</summary>
public sealed record DiodeModel
{
    /// <summary>Saturation current IS in amperes, positive.</summary>
    public double SaturationCurrent { get; init; } = 1e-14;

    /// <summary>Emission coefficient N, positive.</summary>
    public double EmissionCoefficient { get; init; } = 1;

    /// <summary>Series resistance RS in ohms, zero or more.</summary>
    public double SeriesResistance { get; init; }

    /// <summary>Zero-bias junction capacitance CJO in farads, zero or more.</summary>
    public double JunctionCapacitance { get; init; }

    /// <summary>Junction potential VJ in volts, positive.</summary>
    public double JunctionPotential { get; init; } = 1;

    /// <summary>Grading coefficient M, 0 to below 1.</summary>
    public double Grading { get; init; } = 0.5;

    /// <summary>Coefficient FC of the forward-bias continuation of the capacitance, 0 to below 1.</summary>
    public double ForwardCoefficient { get; init; } = 0.5;

    /// <summary>Transit time TT in seconds, zero or more.</summary>
    public double TransitTime { get; init; }

    /// <summary>Reverse breakdown voltage BV in volts, positive; infinite for none.</summary>
    public double BreakdownVoltage { get; init; } = double.PositiveInfinity;

    /// <summary>Current IBV in amperes at the breakdown voltage, positive.</summary>
    public double BreakdownCurrent { get; init; } = 1e-3;

    /// <summary>Energy gap EG in electronvolts.</summary>
    public double EnergyGap { get; init; } = 1.11;

    /// <summary>Exponent XTI of the saturation current's temperature dependence.</summary>
    public double SaturationExponent { get; init; } = 3;

    /// <summary>Temperature in kelvin at which the parameters hold.</summary>
    public double NominalTemperature { get; init; } = 300.15;
}

/// <summary>
/// Junction diode; terminals: anode, cathode. Law: Berkeley SPICE's model D (exponential junction, series resistance,
/// breakdown, depletion and diffusion charge).
/// </summary>
public sealed class Diode : Device, ICurrent, IOnePort
{
    private int a, k, j;
    private int aa, aj, ja, jj, jk, kj, kk;
    private double temperature, vte, isat, critical, breakdown, series, transit, vLast;
    private Depletion depletion;

    /// <summary>Creates a diode.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="anode">Anode node.</param>
    /// <param name="cathode">Cathode node.</param>
    /// <param name="model">Parameters.</param>
    public Diode(string name, string anode, string cathode, DiodeModel model)
        : base(name, anode, cathode) => Model = model;

    /// <summary>Parameters.</summary>
    public DiodeModel Model { get; set; }

    /// <summary>Area factor, positive: that many such diodes in parallel.</summary>
    public double Area { get; set; } = 1;

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override bool IsFloating => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [j, k];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        a = binder.Node(Nodes[0]);
        k = binder.Node(Nodes[1]);
        j = Model.SeriesResistance > 0 ? binder.Internal("junction", UnknownKind.Voltage) : a;
        (aa, aj, ja) = (binder.Slot(a, a), binder.Slot(a, j), binder.Slot(j, a));
        (jj, jk, kj, kk) = (binder.Slot(j, j), binder.Slot(j, k), binder.Slot(k, j), binder.Slot(k, k));
        temperature = binder.Circuit.Temperature;
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        Prepare();
        if (j == a)
        {
            return;
        }

        var g = series;
        loads.G[aa] += g;
        loads.G[aj] -= g;
        loads.G[ja] -= g;
        loads.G[jj] += g;
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var x = loads.X;
        var vx = x[j] - x[k];
        var v = loads.Limiting ? Limit(vx, loads) : vx;
        At(v, loads.Gmin, out var i, out var g, out var q, out var c);

        // At a limited voltage the law is replaced by its tangent there, so Newton sees a consistent line.
        i += g * (vx - v);
        loads.F[j] += i;
        loads.F[k] -= i;
        Pair(loads.G, g);

        if (depletion.IsPresent || transit > 0)
        {
            q += c * (vx - v);
            loads.Q[j] += q;
            loads.Q[k] -= q;
            Pair(loads.C, c);
        }
    }

    int IOnePort.Positive => j != 0 ? j : k;

    int IOnePort.Negative => j != 0 ? k : 0;

    int IOnePort.Direction => j != 0 ? 1 : -1;

    void IOnePort.Law(ReadOnlySpan<double> volts, double gmin, PortLaws law)
    {
        var n = 0;
        var blocked = new Vector<double>(-40 * vte);
        var lowest = new Vector<double>(-breakdown);
        while (depletion.HasSquareRoot && n + Vector<double>.Count <= volts.Length)
        {
            // Blocked junctions need no exponential: at -40 thermal voltages it is below double's resolution beside one.
            var v = new Vector<double>(volts[n..]);
            if (!Vector.LessThanAll(v, blocked) || !Vector.GreaterThanOrEqualAll(v, lowest))
            {
                break;
            }

            depletion.Evaluate(v, out var q, out var c);
            (v * gmin - new Vector<double>(isat)).CopyTo(law.Current[n..]);
            new Vector<double>(gmin).CopyTo(law.Conductance[n..]);
            (q - new Vector<double>(transit * isat)).CopyTo(law.Charge[n..]);
            c.CopyTo(law.Capacitance[n..]);
            n += Vector<double>.Count;
        }

        for (; n < volts.Length; n++)
        {
            At(volts[n], gmin, out law.Current[n], out law.Conductance[n], out law.Charge[n], out law.Capacitance[n]);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void At(double v, double gmin, out double current, out double conductance, out double charge, out double capacitance)
    {
        if (v >= -breakdown)
        {
            Junction.Diffusion(v, isat, vte, out current, out conductance);
        }
        else
        {
            Junction.Diffusion(-breakdown - v, isat, vte, out var reverse, out conductance);
            current = -(reverse + isat);
        }

        (charge, capacitance) = (0, 0);
        if (depletion.IsPresent)
        {
            depletion.Evaluate(v, out charge, out capacitance);
        }

        if (transit > 0)
        {
            // Minority carriers are stored by forward current alone, not by breakdown.
            charge += transit * (v >= -breakdown ? current : -isat);
            capacitance += v >= -breakdown ? transit * conductance : 0;
        }

        current += gmin * v;
        conductance += gmin;
    }

    /// <summary>Conduction current in amperes from anode to cathode; without the charging current of the junction when the model
    /// has no series resistance.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x)
    {
        if (j != a)
        {
            return (x[a] - x[j]) * series;
        }

        Junction.Diffusion(x[a] - x[k], isat, vte, out var i, out _);
        return i;
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        if (!(Model.SaturationCurrent > 0))
        {
            yield return $"{Name}: saturation current {Model.SaturationCurrent} A; it must be positive.";
        }

        if (!(Model.EmissionCoefficient > 0))
        {
            yield return $"{Name}: emission coefficient {Model.EmissionCoefficient}; it must be positive.";
        }

        if (!(Model.SeriesResistance >= 0 && Model.JunctionCapacitance >= 0 && Model.TransitTime >= 0))
        {
            yield return $"{Name}: series resistance, junction capacitance and transit time must be zero or more.";
        }

        if (!(Model.BreakdownVoltage > 0 && Model.BreakdownCurrent > 0))
        {
            yield return $"{Name}: breakdown voltage {Model.BreakdownVoltage} V at {Model.BreakdownCurrent} A; both must be positive.";
        }

        if (!(Area > 0))
        {
            yield return $"{Name}: area factor {Area}; it must be positive.";
        }

        if (!(Model.JunctionPotential > 0 && Model.NominalTemperature > 0))
        {
            yield return $"{Name}: junction potential {Model.JunctionPotential} V, nominal temperature {Model.NominalTemperature} K; both must be positive.";
        }

        foreach (var problem in Ranges.Fractions(Name, ("grading coefficient", Model.Grading), ("forward-bias coefficient", Model.ForwardCoefficient)))
        {
            yield return problem;
        }
    }

    private double Limit(double next, Loads loads)
    {
        if (loads.Fresh)
        {
            vLast = next;
            return next;
        }

        var limited = false;
        double v;
        if (next < -breakdown + 10 * vte && double.IsFinite(breakdown))
        {
            // Mirror image of the forward law about the breakdown knee.
            var beyond = Junction.Limit(-(next + breakdown), -(vLast + breakdown), vte, critical, ref limited);
            v = limited ? -(beyond + breakdown) : next;
        }
        else
        {
            v = Junction.Limit(next, vLast, vte, critical, ref limited);
        }

        loads.Limited |= limited;
        vLast = v;
        return v;
    }

    private void Prepare()
    {
        Ranges.SameInnerNode(Name, "series resistance", j != a, Model.SeriesResistance > 0);
        series = Area / Model.SeriesResistance;
        transit = Model.TransitTime;
        depletion = new Depletion(
            Area * Model.JunctionCapacitance, Model.JunctionPotential, Model.Grading, Model.ForwardCoefficient, temperature, Model.NominalTemperature);
        var vt = Junction.VoltsPerKelvin * temperature;
        var ratio = temperature / Model.NominalTemperature;
        vte = Model.EmissionCoefficient * vt;

        // Is(T) as in Berkeley SPICE3 (dioload/diotemp): ratio^(XTI/N) exp((ratio - 1) EG / (N Vt)).
        isat = Area * Model.SaturationCurrent
            * Math.Exp((ratio - 1) * Model.EnergyGap / vte + Model.SaturationExponent / Model.EmissionCoefficient * Math.Log(ratio));
        critical = Junction.CriticalVoltage(isat, vte);

        // The knee is placed so that the current at -BV is -IBV and the law stays continuous there.
        breakdown = double.IsFinite(Model.BreakdownVoltage)
            ? Model.BreakdownVoltage - vte * Math.Log(Math.Max(1, Area * Model.BreakdownCurrent / isat))
            : double.PositiveInfinity;
    }

    private void Pair(double[] matrix, double value)
    {
        matrix[jj] += value;
        matrix[jk] -= value;
        matrix[kj] -= value;
        matrix[kk] += value;
    }
}
