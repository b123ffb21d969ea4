using BoardSim.Benchmarks.Boards;
using BoardSim.Engine.Circuits;

namespace BoardSim.Engine.Tests.Analyses;

/// <summary>
/// The accuracy that is asked is the accuracy that is got, on circuits of boards: every metric stays within three times the accuracy of the
/// value that SUNDIALS IDA, a general-purpose solver of differential-algebraic equations, finds at a relative tolerance of 1e-8 (files and
/// definitions in benchmarks/boards), and the power balance within ten times.
/// </summary>
public sealed class BoardAccuracyTests
{
    private static readonly IReadOnlyList<Board> Boards = Board.ReadAll(Board.OwnFolder);

    public static TheoryData<string, double> Grid()
    {
        var grid = new TheoryData<string, double>();
        foreach (var board in Boards)
        {
            foreach (var accuracy in new[] { 1e-1, 3e-2, 1e-2, 1e-3, 1e-4 })
            {
                grid.Add(board.Name, accuracy);
            }

            // Where the references are sharp enough to tell.
            if (board.References.Values.All(r => r.Relative <= 1e-6))
            {
                grid.Add(board.Name, 1e-5);
            }
        }

        return grid;
    }

    [Theory]
    [MemberData(nameof(Grid))]
    public void Metrics_stay_within_what_was_asked(string name, double accuracy)
    {
        var board = Boards.Single(b => b.Name == name);
        var run = board.Run(new CircuitSystem(board.Circuit), accuracy);
        foreach (var (metric, error) in board.Errors(board.Measure(run)))
        {
            Assert.InRange(board.References[metric.Name].Relative, 0, 0.1 * accuracy);
            Assert.True(error <= 3 * accuracy, $"{metric.Name} is off by {error / accuracy:g3} x accuracy; {run.Evidence}");
        }

        Assert.True(run.Evidence.PowerBalance <= 10 * accuracy, $"power balance {run.Evidence.PowerBalance / accuracy:g3} x accuracy; {run.Evidence}");
    }
}
