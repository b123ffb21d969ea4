using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Tests.Numerics;

/// <summary>Row matching and elimination order by themselves.</summary>
public sealed class OrderingTests
{
    // A zero-free transversal exists for a permuted matrix, however it is hidden (Duff, ACM Trans. Math. Softw. 7 (1981) 315).
    [Theory]
    [InlineData(21)]
    [InlineData(22)]
    [InlineData(23)]
    public void Matching_gives_each_column_a_row_of_its_own(int seed)
    {
        const int n = 200;
        var random = new Random(seed);
        var hidden = Enumerable.Range(0, n).ToArray();
        random.Shuffle(hidden);
        var columns = Enumerable.Range(0, n)
            .Select(c => new SortedSet<int> { hidden[c], hidden[(c + 1) % n], random.Next(n) }.ToArray())
            .ToArray();
        var (start, rows) = Pack(columns);
        var rowOf = Matching.Find(n, start, rows, out var unmatched);
        Assert.Empty(unmatched);
        Assert.Equal(n, rowOf.Distinct().Count());
        Assert.All(Enumerable.Range(0, n), c => Assert.Contains(rowOf[c], columns[c]));
    }

    // A single augmenting path through all columns: the diagonal is taken first, and the last column finds only row 0 left over.
    [Fact]
    public void Matching_follows_a_path_through_thousands_of_columns()
    {
        const int n = 5000;
        var columns = Enumerable.Range(0, n).Select(c => c < n - 1 ? new[] { c, c + 1 } : [0]).ToArray();
        var (start, rows) = Pack(columns);
        var rowOf = Matching.Find(n, start, rows, out var unmatched);
        Assert.Empty(unmatched);
        Assert.Equal(0, rowOf[n - 1]);
        Assert.All(Enumerable.Range(0, n - 1), c => Assert.Equal(c + 1, rowOf[c]));
    }

    [Fact]
    public void Matching_is_as_large_as_it_can_be()
    {
        // Three columns share two rows, so two of the four columns' rows remain for them: Konig's theorem bounds the size by 3.
        var (start, rows) = Pack([[0, 1], [0, 1], [0, 1], [2, 3]]);
        var rowOf = Matching.Find(4, start, rows, out var unmatched);
        Assert.Single(unmatched);
        Assert.Equal(3, rowOf.Count(r => r >= 0));
    }

    [Fact]
    public void Order_is_a_permutation_that_leaves_the_hub_of_a_star_to_the_end()
    {
        var star = Enumerable.Range(0, 50).Select(i => i == 7 ? Enumerable.Range(0, 50).Where(j => j != 7).ToHashSet() : [7]).ToArray();
        var order = MinimumDegree.Order(star);
        Assert.Equal(Enumerable.Range(0, 50), order.Order());
        Assert.True(Array.IndexOf(order, 7) >= 48);
    }

    private static (int[] Start, int[] Rows) Pack(int[][] columns)
    {
        var start = new int[columns.Length + 1];
        for (var c = 0; c < columns.Length; c++)
        {
            start[c + 1] = start[c] + columns[c].Length;
        }

        return (start, [.. columns.SelectMany(c => c)]);
    }
}
