using BoardSim.Fuzz.Generation;
using BoardSim.Scenarios;

namespace BoardSim.Fuzz.Running;

/// <summary>The reader of scenario files, which builds the board of each condition as it reads.</summary>
internal sealed class ScenarioSubject : ISubject
{
    /// <summary>These take the longest of all, and there are few kinds of them.</summary>
    private const int BombOneIn = 5_000;

    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(20);

    public string Name => "scenario";

    public string Make(Dice dice)
    {
        if (dice.OneIn(BombOneIn))
        {
            return Bombs.Scenario(dice);
        }

        var made = dice.Next(3) == 0 ? dice.Of(Seeds.Scenarios) : new ScenarioGrammar(dice).Make();
        return dice.OneIn(2) ? made : Mutator.Mutate(made, dice.Of(Seeds.Scenarios), dice);
    }

    public Verdict Try(string text, bool alsoRun, ReadingClock reading)
    {
        Scenario scenario;
        try
        {
            reading.Start();
            scenario = ScenarioFile.Parse(text, "fuzz.yaml");
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

        if (!alsoRun)
        {
            return Verdict.Compiled;
        }

        using var patience = new CancellationTokenSource(Patience);
        try
        {
            ScenarioRunner.Run(scenario, new RunOptions { Cancellation = patience.Token, TimeLimit = Patience, MaxParallel = 1 });
        }
        catch (Exception e) when (e is ScenarioRunException or OperationCanceledException)
        {
        }

        return Verdict.Ran;
    }
}
