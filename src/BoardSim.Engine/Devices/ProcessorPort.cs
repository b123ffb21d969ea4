using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>
/// Output of a processor; terminals: pin, supply, ground. It follows a <see cref="Processor"/>'s program by its name: a transistor to the supply or one to
/// the ground conducts, neither while the processor is in reset. The transistors follow the law of Shichman and Hodges (IEEE J. Solid-State Circuits
/// 3 (1968) 285): the given resistance at small voltages, bending into the given current limit. Diodes lead from the pin to the supply and from
/// the ground to the pin, as parabolas that go over into a straight line.
/// </summary>
public sealed class ProcessorPort : Device, ICurrent
{
    private const double Leak = 1e-9;
    private const double DiodeKnee = 0.5;
    private const double DiodeBend = 0.4;
    private const double DiodeConductance = 0.1;

    // Slope in siemens below which a change of the slope does not matter.
    private const double Noticeable = 1e-3;

    /// <summary>Volts by which a pin that has found its place may still move.</summary>
    private const double Still = 1e-6;

    private (double Slope, double Volts) lastUp, lastDown, lastMean;
    private int p, s, g;
    private int pp, ps, pg, sp, ss, sg, gp, gs, gg;
    private Processor? processor;

    /// <summary>Creates an output.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="pin">Node of the pin.</param>
    /// <param name="supply">Node of the supply.</param>
    /// <param name="ground">Node of the ground.</param>
    /// <param name="processor">Name of the processor.</param>
    /// <param name="output">Number of the output in the processor's program, from 0.</param>
    public ProcessorPort(string name, string pin, string supply, string ground, string processor, int output)
        : base(name, pin, supply, ground)
    {
        Processor = processor;
        Output = output;
    }

    /// <summary>Name of the processor.</summary>
    public string Processor { get; set; }

    /// <summary>Number of the output in the processor's program, from 0.</summary>
    public int Output { get; set; }

    /// <summary>Resistance in ohms towards the supply while high, positive.</summary>
    public double SourceResistance { get; set; } = 40;

    /// <summary>Resistance in ohms towards the ground while low, positive.</summary>
    public double SinkResistance { get; set; } = 25;

    /// <summary>Largest current in amperes out of the pin, positive.</summary>
    public double SourceLimit { get; set; } = 40e-3;

    /// <summary>Largest current in amperes into the pin, positive.</summary>
    public double SinkLimit { get; set; } = 60e-3;

    /// <summary>Resistance in ohms of a pull-down that is there while the processor is in reset, positive; infinite for none.</summary>
    public double PullDown { get; set; } = double.PositiveInfinity;

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override bool IsFloating => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [p, s, g];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links => [new(0, 1, LinkKind.Conductive), new(0, 2, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override void RenameOthers(Func<string, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(nameOf);
        Processor = nameOf(Processor);
    }

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        p = binder.Node(Nodes[0]);
        s = binder.Node(Nodes[1]);
        g = binder.Node(Nodes[2]);
        (pp, ps, pg) = (binder.Slot(p, p), binder.Slot(p, s), binder.Slot(p, g));
        (sp, ss, sg) = (binder.Slot(s, p), binder.Slot(s, s), binder.Slot(s, g));
        (gp, gs, gg) = (binder.Slot(g, p), binder.Slot(g, s), binder.Slot(g, g));
        processor = binder.Other<Processor>(Processor);
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        var x = loads.X;
        var up = Up(x[s] - x[p], out var upSlope);
        var down = Down(x[p] - x[g], out var downSlope);
        Watch(upSlope, x[s] - x[p], ref lastUp, loads);
        Watch(downSlope, x[p] - x[g], ref lastDown, loads);
        loads.F[s] += up;
        loads.F[p] += down - up;
        loads.F[g] -= down;
        var m = loads.G;
        m[ss] += upSlope;
        m[sp] -= upSlope;
        m[ps] -= upSlope;
        m[pp] += upSlope + downSlope;
        m[pg] -= downSlope;
        m[gp] -= downSlope;
        m[gg] += downSlope;
        if (processor is { DrivesOutputs: true } && processor.HighShare(Output) is > 0 and < 1 and var share)
        {
            EvaluateMean(loads, share);
        }
    }

    /// <summary>Current in amperes into the pin.</summary>
    /// <param name="x">The unknowns.</param>
    public double Current(ReadOnlySpan<double> x)
    {
        var i = Down(x[p] - x[g], out _) - Up(x[s] - x[p], out _);
        return processor is { DrivesOutputs: true } && processor.HighShare(Output) is > 0 and < 1 and var share
            ? i - Mean(share * x[s] + (1 - share) * x[g] - x[p], share, out _)
            : i;
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() => Ranges.Positive(
        Name,
        ("source resistance", SourceResistance),
        ("sink resistance", SinkResistance),
        ("source limit", SourceLimit),
        ("sink limit", SinkLimit),
        ("pull-down", PullDown));

    /// <inheritdoc/>
    protected override void Detach() => processor = null;

    /// <summary>The mean of pulses into a load whose current hardly changes within a period: a share of the supply behind the same share of the
    /// transistors' resistances, its current taken from supply and ground by their shares; limited for a current out of the pin only.</summary>
    private void EvaluateMean(Loads loads, double share)
    {
        var (x, rest) = (loads.X, 1 - share);
        var volts = share * x[s] + rest * x[g] - x[p];
        var i = Mean(volts, share, out var slope);
        Watch(slope, volts, ref lastMean, loads);
        loads.F[s] += share * i;
        loads.F[g] += rest * i;
        loads.F[p] -= i;
        var m = loads.G;
        m[ss] += share * share * slope;
        m[sg] += share * rest * slope;
        m[sp] -= share * slope;
        m[gs] += rest * share * slope;
        m[gg] += rest * rest * slope;
        m[gp] -= rest * slope;
        m[ps] -= share * slope;
        m[pg] -= rest * slope;
        m[pp] += slope;
    }

    private double Mean(double volts, double share, out double slope)
    {
        var ohms = share * SourceResistance + (1 - share) * SinkResistance;
        return Channel(volts, ohms, SourceLimit, out slope);
    }

    /// <summary>An output that has just changed its level starts where its law is flat, so the next iterate is far off and the slope there another one: new
    /// factors are asked for until the slope stays, or the pin does: at a corner of the law rounding alone would turn the slope for ever.</summary>
    private static void Watch(double slope, double volts, ref (double Slope, double Volts) last, Loads loads)
    {
        if (!loads.Limiting)
        {
            return;
        }

        var ratio = (slope + Noticeable) / (last.Slope + Noticeable);
        loads.Limited |= !loads.Fresh && Math.Abs(volts - last.Volts) > Still && (ratio is > 2 or < 0.5);
        last = (slope, volts);
    }

    private double Up(double volts, out double slope)
    {
        var i = Diode(-volts, out slope);
        i = -i + Leak * volts;
        slope += Leak;
        if (processor is { DrivesOutputs: true } && processor.HighShare(Output) == 1)
        {
            i += Channel(volts, SourceResistance, SourceLimit, out var own);
            slope += own;
        }

        return i;
    }

    private double Down(double volts, out double slope)
    {
        var i = Diode(-volts, out slope);
        i = -i + Leak * volts;
        slope += Leak;
        if (processor is not { DrivesOutputs: true })
        {
            slope += 1 / PullDown;
            return i + volts / PullDown;
        }

        if (processor.HighShare(Output) == 0)
        {
            i += Channel(volts, SinkResistance, SinkLimit, out var own);
            slope += own;
        }

        return i;
    }

    private static double Channel(double volts, double ohms, double limit, out double slope)
    {
        // A straight line against its direction: bent one way all along, the law is easy on Newton's method.
        if (volts <= 0)
        {
            slope = 1 / ohms;
            return volts / ohms;
        }

        var pinch = 2 * ohms * limit;
        if (volts >= pinch)
        {
            slope = 0;
            return limit;
        }

        slope = (1 - volts / pinch) / ohms;
        return volts / ohms * (1 - volts / (2 * pinch));
    }

    private static double Diode(double volts, out double slope)
    {
        var w = volts - DiodeKnee;
        if (w <= 0)
        {
            slope = 0;
            return 0;
        }

        if (w < DiodeBend)
        {
            slope = DiodeConductance * w / DiodeBend;
            return 0.5 * slope * w;
        }

        slope = DiodeConductance;
        return DiodeConductance * (w - DiodeBend / 2);
    }
}
