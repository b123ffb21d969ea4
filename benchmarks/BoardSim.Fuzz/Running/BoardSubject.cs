using BoardSim.Engine.Circuits;
using BoardSim.Fuzz.Generation;
using BoardSim.Scenarios;
using BoardSim.Scenarios.Format;

namespace BoardSim.Fuzz.Running;

/// <summary>The reader of board files. What it accepts must build, and its circuit is sound or refused with a reason.</summary>
internal sealed class BoardSubject : ISubject
{
    public string Name => "board";

    public string Make(Dice dice)
    {
        var made = dice.Next(3) == 0 ? dice.Of(Seeds.Boards) : new FileGrammar(dice, BoardFormat.Root).Make();
        return dice.OneIn(2) ? made : Mutator.Mutate(made, dice.Of(Seeds.Boards), dice);
    }

    public Verdict Try(string text, bool alsoRun, ReadingClock reading)
    {
        Designs.BoardPlan plan;
        try
        {
            reading.Start();
            plan = BoardFile.Parse(text, "fuzz.yaml");
        }
        catch (ScenarioException refused)
        {
            ComplaintException.Check([.. refused.Findings.Select(f => (f.Line, f.Column, f.Message))], text, wholeFileAllowed: true);
            return Verdict.Refused;
        }
        finally
        {
            reading.Stop();
        }

        var board = plan.Make().Build();
        try
        {
            var system = new CircuitSystem(board.Circuit);
            StructureCheck.ThrowIfUnsound(system.Circuit, forDirectCurrent: false);
            return Verdict.Compiled;
        }
        catch (CircuitException)
        {
            return Verdict.Read;
        }
    }
}
