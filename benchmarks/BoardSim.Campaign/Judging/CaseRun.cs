using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using BoardSim.Campaign.Drawing;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using BoardSim.Engine.Numerics;

namespace BoardSim.Campaign.Judging;

/// <summary>Runs a case and judges it.</summary>
public static partial class CaseRun
{
    /// <summary>Work after which a case has failed, whatever it would have come to: points of a transient, and Newton iterations, some microseconds each. The same on any machine.</summary>
    private const int MostPoints = 3_000_000;
    private const long MostIterations = 100_000_000;

    /// <summary>Points from one look at the iterations to the next.</summary>
    private const int LookEvery = 1024;

    /// <summary>Wall-clock time that ends what hangs.</summary>
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(600);

    /// <summary>Multiple of the accuracy within which power and currents have to balance.</summary>
    private const double Margin = 10;

    /// <summary>Current in amperes that rounding may leave over at a node at rest: some hundred volts at a milliohm.</summary>
    private const double RoundedCurrent = 1e-10;

    /// <summary>Distance from one to the next number that a double can hold.</summary>
    private const double LastPlace = 2.220446049250313e-16;

    /// <summary>Mean power in watts that counts as nothing, a microampere at a millivolt.</summary>
    private const double NoPower = 1e-9;

    /// <summary>Changes of state from which a part counts as going to and fro.</summary>
    private const int BuzzEvents = 4;

    /// <summary>Changes of state after which a circuit that keeps on switching by itself has shown what there is: the run ends there and is judged so far.</summary>
    private const int MostEvents = 50_000;

    /// <summary>Points and board time in seconds within which a part that is said to have no rest has to go to and fro.</summary>
    private const int BuzzPoints = 600_000;
    private const double BuzzTime = 1000;

    /// <summary>Runs a case.</summary>
    /// <param name="drawn">The case.</param>
    public static CaseResult Run(CampaignCase drawn)
    {
        ArgumentNullException.ThrowIfNull(drawn);
        var watch = Stopwatch.StartNew();
        var circuit = CaseBoard.Build(drawn).Circuit;
        var graph = new GraphCheck(circuit, direct: drawn.Stop is null || !drawn.FromInitialConditions);
        CaseResult result;
        try
        {
            result = drawn.Stop is { } stop ? OverTime(drawn, new CircuitSystem(circuit), stop) : AtRest(drawn, new CircuitSystem(circuit));
            if (result.Verdict == Verdict.Converged && !graph.IsSound)
            {
                result = result with { Verdict = Verdict.Failed, Message = "the structure is unsound, but nothing refused it" };
            }
        }
        catch (CircuitException refusal)
        {
            result = RefusalCheck.Problem(refusal.Findings, graph) is { } problem
                ? new CaseResult(drawn, Verdict.Failed, $"refused, but {problem}")
                : new CaseResult(drawn, Verdict.Refused, string.Join(' ', refusal.Findings));
        }
        catch (SolverException gaveUp)
        {
            result = new CaseResult(drawn, HasNoRest(drawn, gaveUp) ? Verdict.Refused : Verdict.Failed, gaveUp.Message);
        }
#pragma warning disable CA1031 // An exception of any other type is what a campaign is there to find.
        catch (Exception fault)
#pragma warning restore CA1031
        {
            result = new CaseResult(drawn, Verdict.Failed, $"{fault.GetType().Name}: {fault.Message}");
        }

        return result with { Seconds = watch.Elapsed.TotalSeconds };
    }

    /// <summary>
    /// True when there is no operating point to be found and the message says why: a relay that its own contact switches off
    /// buzzes. The proof is a run from initial conditions, with the sources held at what they were, that converges, and in which the part that is named goes to and fro.
    /// </summary>
    private static bool HasNoRest(CampaignCase drawn, SolverException refusal)
    {
        if (drawn.FromInitialConditions && drawn.Stop is not null || Restless().Match(refusal.Message) is not { Success: true } match)
        {
            return false;
        }

        var restless = match.Groups["parts"].Value.Split(", ");
        try
        {
            using var run = new TransientRun(new CircuitSystem(HeldAtStart(drawn)), Options(drawn with { FromInitialConditions = true }, BuzzTime));
            for (var points = 0; points < BuzzPoints && run.Advance(); points++)
            {
                if (Array.TrueForAll(restless, name => run.Events.Count(e => e.Part == name) >= BuzzEvents))
                {
                    return Judge(drawn, run.Evidence, 0, Array.TrueForAll(run.State, double.IsFinite), drawn.Accuracy).Verdict == Verdict.Converged;
                }
            }

            return false;
        }
        catch (SolverException)
        {
            return false;
        }
    }

    /// <summary>
    /// The circuit with every source held at the value that the search for the operating point saw. With sources that go on, the run would be
    /// another circuit's: a ripple can switch a part that would have rested, and takes all the points before one with a long time constant starts.
    /// </summary>
    private static Circuit HeldAtStart(CampaignCase drawn)
    {
        var circuit = CaseBoard.Build(drawn).Circuit;
        foreach (var source in circuit.Devices.OfType<VoltageSource>())
        {
            source.Waveform = new DcWaveform(Held(source.DcValue, source.Waveform));
        }

        foreach (var source in circuit.Devices.OfType<CurrentSource>())
        {
            source.Waveform = new DcWaveform(Held(source.DcValue, source.Waveform));
        }

        return circuit;

        double Held(double? direct, SourceWaveform waveform) => drawn.Stop is null && direct is { } value ? value : waveform.Value(0);
    }

    private static CaseResult AtRest(CampaignCase drawn, CircuitSystem system)
    {
        var options = new OperatingPointOptions();
        var solution = OperatingPoint.Solve(system, options);
        var e = solution.Evidence;
        var current = LargestCurrent(system, solution.X, 0);

        var left = Math.Max(0, e.WorstKclResidual - Math.Max(RoundedCurrent, RoundedAtNode(system, solution)));
        return Judge(drawn, e, left / current, Array.TrueForAll(solution.X, double.IsFinite), options.Accuracy);
    }

    private static TransientOptions Options(CampaignCase drawn, double stop) => new()
    {
        Stop = stop,
        Accuracy = drawn.Accuracy,
        UseInitialConditions = drawn.FromInitialConditions,
        Method = drawn.Method is { } name ? StageMethod.All.Single(m => m.Name == name) : null,
        WallClockLimit = Longest,
    };

    private static CaseResult OverTime(CampaignCase drawn, CircuitSystem system, double stop)
    {
        using var run = new TransientRun(system, Options(drawn, stop));
        var current = LargestCurrent(system, run.State, 0);
        var points = 0;
        var finite = true;
        while (run.Advance() && ++points < MostPoints && run.Events.Count < MostEvents)
        {
            if (points % LookEvery == 0 && run.Evidence.NewtonIterations > MostIterations)
            {
                break;
            }

            finite &= Array.TrueForAll(run.State, double.IsFinite);
            current = LargestCurrent(system, run.State, current);
        }

        var e = run.Evidence;
        var result = Judge(drawn, e, e.WorstKclResidual / current, finite, drawn.Accuracy);
        return run.Status == RunStatus.Completed || run.Events.Count >= MostEvents
            ? result
            : result with
            {
                Verdict = Verdict.Failed,
                Message = string.Create(CultureInfo.InvariantCulture, $"more than {MostPoints} points, {MostIterations} iterations or {Longest.TotalSeconds} s: stopped at {run.Time / stop:P2} of the run"),
            };
    }

    private static CaseResult Judge(CampaignCase drawn, SolverEvidence e, double currentBalance, bool finite, double accuracy)
    {
        // Where next to no power flows there is nothing to be in balance: a lead of gigohms in the line leaves nanowatts, and rounding a part of them.
        var power = drawn.Stop is { } stop && e.PowerBalance * Math.Abs(e.SourceEnergy) < NoPower * stop ? 0 : e.PowerBalance;

        // Written so that a NaN is caught as well.
        var wrong = !finite ? "not finite everywhere"
            : !(power <= Margin * accuracy) ? string.Create(CultureInfo.InvariantCulture, $"power balance {e.PowerBalance:g2}, asked {accuracy:g2}")
            : !(currentBalance <= Margin * accuracy) ? string.Create(CultureInfo.InvariantCulture, $"current balance {currentBalance:g2}, asked {accuracy:g2}")
            : "";
        return new CaseResult(drawn, wrong.Length == 0 ? Verdict.Converged : Verdict.Failed, wrong)
        {
            Points = e.Points,
            Iterations = e.NewtonIterations,
            Forced = e.Forced,
            PowerBalance = power,
            CurrentBalance = currentBalance,
        };
    }

    /// <summary>
    /// Current in amperes that the last place of the voltages alone leaves over at some node: no number that a double can hold solves better. A volt at a milliohm rounds to a tenth of a
    /// picoampere, whatever flows, and a chamber all of whose outlets are open stands at gigadegrees behind tenths of an ohm.
    /// </summary>
    private static double RoundedAtNode(CircuitSystem system, Solution solution)
    {
        var rounded = new double[system.Size + 1];
        foreach (var part in system.Circuit.Devices)
        {
            // A contact that is closed, or a terminal, has a milliohm as well.
            var ohms = part switch
            {
                Resistor resistor => Math.Abs(resistor.Resistance),
                VoltageSwitch contact => contact.Model.OnResistance,
                ThermalJoint joint => joint.ResistanceAt20,
                _ => double.PositiveInfinity,
            };
            var (from, to) = double.IsFinite(ohms) ? (system.NodeIndex(part.Nodes[0]), system.NodeIndex(part.Nodes[1])) : (0, 0);
            var amperes = LastPlace * (Math.Abs(solution.X[from]) + Math.Abs(solution.X[to])) / ohms;
            rounded[from] += amperes;
            rounded[to] += amperes;
        }

        return rounded.Skip(1).DefaultIfEmpty(0).Max();
    }

    /// <summary>The largest current in any part that tells its own, charging currents included.</summary>
    private static double LargestCurrent(CircuitSystem system, double[] x, double sofar)
    {
        foreach (var part in system.Circuit.Devices)
        {
            if (part is ICurrent meter and not Capacitor { SeriesResistance: 0 })
            {
                sofar = Math.Max(sofar, Math.Abs(meter.Current(x)));
            }
        }

        // A microampere counts as nothing in a transient, too.
        return Math.Max(sofar, 1e-6);
    }

    [GeneratedRegex(@"^Operating point: the states of (?<parts>.+?) keep changing")]
    private static partial Regex Restless();
}
