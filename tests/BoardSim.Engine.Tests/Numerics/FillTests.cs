using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Tests.Numerics;

/// <summary>Ladders, stars and grids are what boards are made of; their factors must stay as sparse as theory allows.</summary>
public sealed class FillTests
{
    // KLU 1.x, Demo/kludemo.out, matrix "arrow": n = 100, 298 entries, 298 entries in L + U. Eliminating the hub last fills nothing.
    [Fact]
    public void Arrow_of_the_klu_demo_fills_nothing()
    {
        var a = new TestMatrix<double>(100);
        for (var k = 1; k <= 100; k++)
        {
            a.Add(k, k, 4);
            if (k > 1)
            {
                a.Add(1, k, -1).Add(k, 1, -1);
            }
        }

        Assert.Equal(298, a.Entries);
        Assert.Equal(298, Factored(a).FactorEntries);
    }

    // A tree has an elimination order without fill: leaves first (Parter, SIAM Review 3 (1961) 119). A ladder is a path.
    [Theory]
    [InlineData(2)]
    [InlineData(2000)]
    public void Ladder_fills_nothing(int sections)
    {
        var a = new TestMatrix<double>(sections);
        for (var k = 1; k <= sections; k++)
        {
            a.Add(k, k, 2.5);
            if (k > 1)
            {
                a.Add(k - 1, k, -1).Add(k, k - 1, -1);
            }
        }

        var lu = Factored(a);
        Assert.Equal(a.Entries, lu.FactorEntries);

        // Per section one division's multiplier meets one entry of U.
        Assert.Equal(sections - 1, lu.Operations);
    }

    [Fact]
    public void Random_tree_fills_nothing()
    {
        var random = new Random(11);
        var a = new TestMatrix<double>(300);
        for (var k = 1; k <= 300; k++)
        {
            a.Add(k, k, 400);
            if (k > 1)
            {
                var parent = random.Next(1, k);
                a.Add(parent, k, -1).Add(k, parent, -1);
            }
        }

        Assert.Equal(a.Entries, Factored(a).FactorEntries);
    }

    // A ring of n nodes gains n - 3 fill edges whatever the order (a cycle is triangulated by n - 3 chords: elementary geometry).
    [Fact]
    public void Ring_gains_as_many_entries_as_its_triangulation_has_chords()
    {
        const int n = 40;
        var a = new TestMatrix<double>(n);
        for (var k = 1; k <= n; k++)
        {
            var next = k % n + 1;
            a.Add(k, k, 3).Add(k, next, -1).Add(next, k, -1);
        }

        Assert.Equal(a.Entries + 2 * (n - 3), Factored(a).FactorEntries);
    }

    // Grid of n = k^2 nodes: minimum degree stays of order n log n; published counts for 5-point grids of this size lie near
    // 31/4 n log2 n for nested dissection (George, SIAM J. Numer. Anal. 10 (1973) 345, theorem of the leading term; from memory).
    [Fact]
    public void Grid_fills_no_more_than_nested_dissection_would()
    {
        const int k = 30;
        var a = new TestMatrix<double>(k * k);
        for (var i = 0; i < k; i++)
        {
            for (var j = 0; j < k; j++)
            {
                var at = i * k + j + 1;
                a.Add(at, at, 4.1);
                if (j + 1 < k)
                {
                    a.Add(at, at + 1, -1).Add(at + 1, at, -1);
                }

                if (i + 1 < k)
                {
                    a.Add(at, at + k, -1).Add(at + k, at, -1);
                }
            }
        }

        const double n = k * k;
        Assert.InRange(Factored(a).FactorEntries, a.Entries, 2 * 31.0 / 4 * n * Math.Log2(n));
    }

    private static SparseLu<double> Factored(TestMatrix<double> a)
    {
        var lu = new SparseLu<double>(a.Pattern);
        Assert.True(lu.Factor(a.Values));
        return lu;
    }
}
