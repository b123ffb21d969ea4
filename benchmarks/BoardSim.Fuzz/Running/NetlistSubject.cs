using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Netlists;
using BoardSim.Fuzz.Generation;

namespace BoardSim.Fuzz.Running;

/// <summary>The reader of Berkeley netlists; what it reads is also written, read again, compiled and run.</summary>
internal sealed class NetlistSubject : ISubject
{
    /// <summary>These take the longest of all, and there are few kinds of them.</summary>
    private const int BombOneIn = 5_000;

    /// <summary>What is larger may well take its time and memory to compile; reading must not.</summary>
    private const int MostParts = 5_000;

    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(20);

    public string Name => "netlist";

    public string Make(Dice dice)
    {
        if (dice.OneIn(BombOneIn))
        {
            return Bombs.Netlist(dice);
        }

        var made = dice.Next(3) == 0 ? dice.Of(Seeds.Netlists) : new NetlistGrammar(dice).Make();
        return dice.OneIn(2) ? made : Mutator.Mutate(made, dice.Of(Seeds.Netlists), dice);
    }

    public Verdict Try(string text, bool alsoRun, ReadingClock reading)
    {
        Netlist netlist;
        try
        {
            reading.Start();
            netlist = NetlistReader.Read(text);
        }
        catch (NetlistException refused)
        {
            ComplaintException.Check([.. refused.Findings.Select(f => (f.Line, f.Column, f.Message))], text, wholeFileAllowed: false);
            return Verdict.Refused;
        }
        finally
        {
            reading.Stop();
        }

        if (netlist.Circuit.Devices.Count > MostParts)
        {
            return Verdict.Read;
        }

        var again = NetlistReader.Read(NetlistWriter.Write(netlist.Circuit, netlist.Analyses, netlist.Prints));
        if (again.Analyses.Count != netlist.Analyses.Count)
        {
            throw new ComplaintException($"{netlist.Analyses.Count} analyses were written and {again.Analyses.Count} read back");
        }

        try
        {
            _ = new CircuitSystem(netlist.Circuit);
        }
        catch (CircuitException)
        {
            return Verdict.Read;
        }

        if (!alsoRun)
        {
            return Verdict.Compiled;
        }

        foreach (var card in netlist.Analyses.Prepend(new OperatingPointCard()))
        {
            try
            {
                NetlistRunner.Run(netlist, card, new NetlistRunOptions { TimeLimit = Patience });
            }
            catch (Exception e) when (e is CircuitException or SolverException)
            {
                if (e.Message.Length is < 20 or > 3_000)
                {
                    throw new ComplaintException($"a message of {e.Message.Length} characters: {e.Message[..Math.Min(200, e.Message.Length)]}");
                }
            }
        }

        return Verdict.Ran;
    }
}
