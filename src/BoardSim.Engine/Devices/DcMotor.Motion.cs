using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Devices;

/// <summary>The rotor's discrete states: which way it turns, whether it is at rest, and which stop it touches.</summary>
public sealed partial class DcMotor
{
    private const int MotionGuard = 0;
    private const int ContactGuard = 1;

    // A speed in radians per second and a position in radians have to pass zero or a stop by so much: then a guard is below zero right after each change, where it has to be to be heard.
    private const double Beyond = 1e-6;

    /// <inheritdoc/>
    public int GuardCount => 2;

    /// <inheritdoc/>
    public string StateName => (now.IsAtRest, now.Way, now.Contact) switch
    {
        (true, _, 0) => "at-rest",
        (true, _, _) => "held-at-stop",
        (_, _, not 0) => "against-stop",
        (_, < 0, _) => "backwards",
        (_, > 0, _) => "forwards",
        _ => "free",
    };

    /// <inheritdoc/>
    public object Memory
    {
        get => now;
        set => now = (Situation)value;
    }

    private double BreakawayTorque => Breakaway ?? Friction;

    private bool HasFriction => BreakawayTorque > 0;

    /// <inheritdoc/>
    public void Guards(double time, ReadOnlySpan<double> x, Span<double> values)
    {
        values[MotionGuard] = !HasFriction ? -1
            : now.IsAtRest ? Math.Abs(Drive(x)) - BreakawayTorque
            : -now.Way * x[w] - Beyond;
        values[ContactGuard] = now.Contact != 0
            ? now.Contact * (StopOf(now.Contact) - x[a])
            : Math.Max(x[a] - HighStop, LowStop - x[a]) is var past && double.IsFinite(past) ? past - Beyond : -1;
    }

    /// <inheritdoc/>
    public void Cross(int guard, double time, ReadOnlySpan<double> x)
    {
        if (guard == ContactGuard)
        {
            now = now with { Contact = now.Contact != 0 ? 0 : x[a] >= HighStop ? 1 : -1 };
            return;
        }

        var drive = Drive(x);
        var way = Math.Sign(drive);
        if (Math.Abs(drive) < BreakawayTorque)
        {
            now = now with { IsAtRest = true, Way = 0 };
        }
        else if (isStatic && double.IsFinite(StopOf(way)) && now.Contact == 0)
        {
            // What holds at the start has held for ever.
            now = new Situation { IsAtRest = true, Contact = way };
        }
        else
        {
            now = now with { IsAtRest = false, Way = way };
        }
    }

    /// <inheritdoc/>
    public void Reset()
    {
        isStatic = false;
        now = new Situation { IsAtRest = HasFriction && InitialSpeed == 0, Way = HasFriction ? Math.Sign(InitialSpeed) : 0 };
    }

    private double StopOf(int contact) => contact > 0 ? HighStop : LowStop;

    /// <summary>Torque in newton metres that acts on a rotor that does not turn, friction left out.</summary>
    private double Drive(ReadOnlySpan<double> x) =>
        Constant * x[i] - (now.Contact != 0 ? StopStiffness * (x[a] - StopOf(now.Contact)) : 0);

    private readonly record struct Situation
    {
        public bool IsAtRest { get; init; }

        /// <summary>1 forwards, -1 backwards, 0 at rest or without friction.</summary>
        public int Way { get; init; }

        /// <summary>1 at the stop ahead, -1 at the one behind, 0 at none.</summary>
        public int Contact { get; init; }
    }
}
