using BoardSim.Fuzz.Generation;
using BoardSim.Scenarios;
using BoardSim.Scenarios.Format;

namespace BoardSim.Fuzz.Running;

/// <summary>The reader of scenario files, which builds the board of each condition as it reads.</summary>
internal sealed class ScenarioSubject : ISubject
{
    /// <summary>These take the longest of all, and there are few kinds of them.</summary>
    private const int BombOneIn = 5_000;

    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(20);

    private readonly string file = WriteBoards();

    public string Name => "scenario";

    public string Make(Dice dice)
    {
        if (dice.OneIn(BombOneIn))
        {
            return Bombs.Scenario(dice);
        }

        var made = dice.Next(3) == 0 ? dice.Of(Seeds.Scenarios) : new FileGrammar(dice, ScenarioFormat.Root).Make();
        return dice.OneIn(2) ? made : Mutator.Mutate(made, dice.Of(Seeds.Scenarios), dice);
    }

    public Verdict Try(string text, bool alsoRun, ReadingClock reading)
    {
        Scenario scenario;
        try
        {
            reading.Start();
            scenario = ScenarioFile.Parse(text, file);
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

    /// <summary>Writes the boards that scenarios name beside where a scenario would be.</summary>
    /// <returns>Path of a scenario file that is not there.</returns>
    private static string WriteBoards()
    {
        var folder = Path.Combine(Path.GetTempPath(), "boardsim-fuzz");
        Directory.CreateDirectory(Path.Combine(folder, "boards"));
        foreach (var (name, text) in Seeds.BoardFiles)
        {
            File.WriteAllText(Path.Combine(folder, "boards", $"{name}.yaml"), text);
        }

        return Path.Combine(folder, "fuzz.yaml");
    }
}
