using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices.Converters;

/// <summary>
/// Current-mode flyback converter averaged over its switching cycle, controller included; terminals: supply, return, feedback, input, output,
/// ground, clamp. Output is the cathode of the output rectifier, clamp the cathode of the clamp's diode.
/// <para>
/// The peak current follows the feedback pin as in switching detail. In discontinuous conduction the switch conducts for
/// <c>D1 = (L + Ll) f Ip / Vin</c> and the rectifier for <c>D2 = L f Ip / Vr</c>, with the output reflected to the primary <c>Vr = n (Vo + Vf)</c>; mean currents
/// are <c>D1 Ip/2</c> and <c>n D2 Ip/2</c>. In continuous conduction <c>D = Vr/(Vin + Vr)</c>, the mean inductor current is the peak less half of the ripple
/// (Erickson and Maksimovic, Fundamentals of Power Electronics, 2nd edition, sections 11.1 and 12.3; the inductor's own dynamics, which lie
/// near half of the switching frequency, are left out). The leakage inductance's energy goes into the clamp, <c>Ll Ip^2 f / 2</c> with what
/// the winding adds while it does (common practice, no source).
/// </para>
/// </summary>
public sealed class AveragedFlyback : ConverterController, IDrift
{
    /// <summary>Time over which the soft start's slope is taken, as a share of the soft start.</summary>
    private const double SoftStartStep = 1e-5;

    private const int Ports = 4;
    private const int Controls = 5;

    // Voltages in volts below which a division would run away: a converter without input, a clamp that is not charged yet.
    private const double LeastInput = 4;
    private const double LeastClamp = 8;

    // Duty below its limit over which continuous conduction fades into the duty limit's.
    private const double LimitBand = 0.04;

    // Amperes within which the command and what the duty limit gives are rounded into each other.
    private const double LimitRounding = 1e-3;

    private readonly int[] from = new int[Ports];
    private readonly int[] to = new int[Ports];
    private readonly int[] plus = new int[Controls];
    private readonly int[] minus = new int[Controls];
    private int[] slots = [];
    private double peak;

    /// <summary>Creates an averaged converter.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="supply">Supply pin of the controller, which the auxiliary winding feeds.</param>
    /// <param name="return">Return of controller and primary.</param>
    /// <param name="feedback">Feedback pin.</param>
    /// <param name="input">Positive input.</param>
    /// <param name="output">Cathode of the output rectifier.</param>
    /// <param name="ground">Return of the secondary.</param>
    /// <param name="clamp">Cathode of the clamp's diode.</param>
    /// <param name="parameters">What the controller is set to.</param>
    /// <param name="stage">The power stage.</param>
    public AveragedFlyback(
        string name,
        string supply,
        string @return,
        string feedback,
        string input,
        string output,
        string ground,
        string clamp,
        ControllerParameters parameters,
        FlybackStage stage)
        : base(name, parameters, supply, @return, feedback, input, output, ground, clamp) => Stage = stage;

    /// <summary>The power stage.</summary>
    public FlybackStage Stage { get; set; }

    /// <inheritdoc/>
    public override IReadOnlyList<string> States { get; } = ["running", "starts", "overloads", "peak-current", "duty"];

    /// <inheritdoc/>
    public override bool IsNonlinear => true;

    /// <inheritdoc/>
    public override IReadOnlyList<int>? NonlinearUnknowns => [Supply, Return, Feedback, from[0], to[1], from[1], to[2]];

    /// <inheritdoc/>
    public override IEnumerable<Link> Links =>
        [new(0, 1, LinkKind.Conductive), new(2, 1, LinkKind.Conductive), new(3, 1, LinkKind.Conductive), new(4, 5, LinkKind.Conductive), new(6, 3, LinkKind.Conductive)];

    /// <inheritdoc/>
    public override void Bind(Binder binder)
    {
        base.Bind(binder);
        var (input, output, ground, clamp) = (binder.Node(Nodes[3]), binder.Node(Nodes[4]), binder.Node(Nodes[5]), binder.Node(Nodes[6]));

        // Currents: input to return, ground to output, input to clamp, return to supply.
        (from[0], to[0]) = (input, Return);
        (from[1], to[1]) = (ground, output);
        (from[2], to[2]) = (input, clamp);
        (from[3], to[3]) = (Return, Supply);

        // Controls: input, output, clamp, supply, feedback.
        (plus[0], minus[0]) = (input, Return);
        (plus[1], minus[1]) = (output, ground);
        (plus[2], minus[2]) = (clamp, input);
        (plus[3], minus[3]) = (Supply, Return);
        (plus[4], minus[4]) = (Feedback, Return);
        slots = new int[Ports * Controls * 4];
        for (var (p, k) = (0, 0); p < Ports; p++)
        {
            for (var c = 0; c < Controls; c++)
            {
                slots[k++] = binder.Slot(from[p], plus[c]);
                slots[k++] = binder.Slot(from[p], minus[c]);
                slots[k++] = binder.Slot(to[p], plus[c]);
                slots[k++] = binder.Slot(to[p], minus[c]);
            }
        }
    }

    /// <inheritdoc/>
    public override void StampConstant(Loads loads)
    {
        base.StampConstant(loads);

        // Whatever stands still leaks a little: no node is left without a path.
        for (var p = 0; p < Ports; p++)
        {
            Leak(loads, p);
        }
    }

    /// <inheritdoc/>
    public override void Evaluate(Loads loads)
    {
        if (!IsRunning)
        {
            return;
        }

        var x = loads.X;
        Span<Slopes> currents = stackalloc Slopes[Ports];
        Currents(loads.Time, x, currents);
        Span<double> slopes = stackalloc double[Slopes.Count];
        var (f, g) = (loads.F, loads.G);
        for (var p = 0; p < Ports; p++)
        {
            f[from[p]] += currents[p].Value;
            f[to[p]] -= currents[p].Value;
            currents[p].CopyTo(slopes);
            var at = slots.AsSpan(4 * Controls * p, 4 * Controls);
            for (var c = 0; c < Controls; c++)
            {
                g[at[4 * c]] += slopes[c];
                g[at[4 * c + 1]] -= slopes[c];
                g[at[4 * c + 2]] -= slopes[c];
                g[at[4 * c + 3]] += slopes[c];
            }
        }
    }

    /// <inheritdoc/>
    public void AddDrift(double time, ReadOnlySpan<double> x, Span<double> rate)
    {
        // The soft start is all that time has to say, and it says it as a straight line.
        var before = time - SoftStartStep * Parameters.SoftStart;
        if (!IsRunning || !(SoftStartShare(time) > SoftStartShare(before)))
        {
            return;
        }

        Span<Slopes> now = stackalloc Slopes[Ports];
        Span<Slopes> then = stackalloc Slopes[Ports];
        Currents(before, x, then);
        Currents(time, x, now);
        for (var p = 0; p < Ports; p++)
        {
            var slope = (now[p].Value - then[p].Value) / (time - before);
            rate[from[p]] += slope;
            rate[to[p]] -= slope;
        }
    }

    /// <inheritdoc/>
    public override double State(int state, double time, ReadOnlySpan<double> x)
    {
        if (state < 3)
        {
            return base.State(state, time, x);
        }

        if (!IsRunning)
        {
            return 0;
        }

        Span<Slopes> currents = stackalloc Slopes[Ports];
        var duty = Currents(time, x, currents);
        return state == 3 ? peak : duty;
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems() => base.Problems().Concat(Stage.Problems(Name));

    /// <summary>Mean currents of the ports; the duty is returned.</summary>
    private double Currents(double time, ReadOnlySpan<double> x, Span<Slopes> currents)
    {
        var (s, p, f) = (Stage, Parameters, Parameters.Frequency);
        var vin = Slopes.Of(x[plus[0]] - x[minus[0]], 0);
        var vo = Slopes.Of(x[plus[1]] - x[minus[1]], 1);
        var vcl = Slopes.Of(x[plus[2]] - x[minus[2]], 2);
        var vcc = Slopes.Of(x[plus[3]] - x[minus[3]], 3);
        var vfb = Slopes.Of(x[plus[4]] - x[minus[4]], 4);

        // What the sense voltage is compared with, as a primary current.
        var asked = Slopes.Positive((vfb - p.FeedbackOffset) / p.FeedbackDivider, 1e-3);
        var command = Slopes.Least(asked, p.SenseLimit * SoftStartShare(time), 1e-3) / s.SenseResistance;
        var slope = p.Slope / s.SenseResistance;

        var total = s.PrimaryInductance + s.LeakageInductance;
        var drive = LeastInput + Slopes.Positive(vin - 0.5 * s.PrimaryResistance * command - LeastInput, 0.5);
        var reflected = s.Ratio * (0.2 + Slopes.Positive(vo + s.RectifierVoltage - 0.2, 0.05));

        // Slope compensation takes its part of the command in proportion to the on time.
        var asked1 = command / (1 + slope * total / drive);
        reflected += 0.5 * s.Ratio * s.Ratio * s.SecondaryResistance * asked1;
        var (full1, full2) = (total * f * asked1 / drive, s.PrimaryInductance * f * asked1 / reflected);

        // Discontinuous, with no more than the duty limit gives.
        var ip = Slopes.Lesser(asked1, p.MaximumDuty / f * drive / total, LimitRounding);
        var d1 = total * f * ip / drive;
        var d2 = s.PrimaryInductance * f * ip / reflected;
        var (duty, input, share, high) = (d1, 0.5 * ip * d1, 0.5 * ip * d2, ip);
        if (d1.Value + d2.Value > 1)
        {
            // What is left of the period bounds the rectifier's share.
            d2 = 1 - d1;
            share = 0.5 * ip * d2;
        }

        if (full1.Value + full2.Value >= 1)
        {
            // Continuous: the share of the on time is the one at which both just fit, so that all joins there. Where that is more than the duty
            // limit, the current falls until the on time suffices; between there and the full continuous conduction one fades into the other.
            var on = total * reflected / (s.PrimaryInductance * drive + total * reflected);
            var ripple = drive * on / (total * f);
            var top = asked1 + slope / f * (full1 - on);
            var mean = top - 0.5 * ripple;
            // Nothing at all is left of it there, or the mean currents would jump where one conduction becomes the other.
            var fade = Slopes.Fade((p.MaximumDuty - LimitRounding * total * f / drive - on) / LimitBand);
            duty = d1 + fade * (on - d1);
            input += fade * (on * mean - input);
            share += fade * ((1 - on) * mean - share);
            high = ip + fade * (top - ip);

            // At the duty limit the rectifier stops before the period is over, as in discontinuous conduction, and with it the auxiliary winding.
            d2 += fade * (1 - on - d2);
        }

        peak = high.Value;
        var clamp = 0.5 * s.LeakageInductance * f * high * high / (LeastClamp + Slopes.Positive(vcl - reflected - LeastClamp, 0.5));
        var winding = s.AuxiliaryRatio * reflected / s.Ratio;
        var auxiliary = d2 * Slopes.Positive(winding - s.AuxiliaryVoltage - vcc, 0.01) / s.AuxiliaryResistance;

        // Below the least input the divisions above go on with that; a switch draws nothing from an empty capacitor, nor does it carry anything over. The
        // windings' share fades twice, so that it is no more than what comes in.
        var left = Slopes.Fade(vin / LeastInput);
        var carried = left * left;
        currents[0] = left * input;
        currents[1] = carried * (s.Ratio * (share - clamp) - s.AuxiliaryRatio * auxiliary);
        currents[2] = carried * clamp;
        currents[3] = carried * auxiliary;
        return duty.Value;
    }

    private void Leak(Loads loads, int port)
    {
        // Slots of the port's own voltage: the input leaks to its return through itself, the output to ground, the clamp to the input.
        const double siemens = 1e-9;
        var control = port switch { 0 => 0, 1 => 1, 2 => 2, _ => 3 };
        var k = 4 * (port * Controls + control);
        var sign = port is 0 ? 1 : -1;
        loads.G[slots[k]] += sign * siemens;
        loads.G[slots[k + 1]] -= sign * siemens;
        loads.G[slots[k + 2]] -= sign * siemens;
        loads.G[slots[k + 3]] += sign * siemens;
    }
}
