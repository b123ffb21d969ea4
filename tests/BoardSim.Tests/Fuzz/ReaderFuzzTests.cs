using BoardSim.Fuzz.Running;

namespace BoardSim.Tests.Fuzz;

/// <summary>A short campaign of each reader; the long ones are the program's in benchmarks/BoardSim.Fuzz.</summary>
public class ReaderFuzzTests
{
    private const int Inputs = 500;

    [Theory]
    [InlineData("netlist")]
    [InlineData("scenario")]
    [InlineData("board")]
    public void Whatever_is_read_is_refused_with_its_place_or_builds(string reader)
    {
        ISubject[] subjects = [new NetlistSubject(), new ScenarioSubject(), new BoardSubject()];
        var result = new BoardSim.Fuzz.Running.Campaign(subjects.Single(s => s.Name == reader), seed: 71, threads: 1).Run(0, Inputs, CancellationToken.None);
        Assert.Equal(Inputs, result.Inputs);

        // How long an input took is the program's business: a test machine may be busy.
        Assert.DoesNotContain(result.Failures, f => !f.What.StartsWith("took", StringComparison.Ordinal));

        // Neither is all refused, or the grammar has lost touch with the reader, nor all accepted.
        Assert.InRange(result.Verdicts[(int)Verdict.Refused], Inputs / 20, Inputs * 19 / 20);
    }
}
