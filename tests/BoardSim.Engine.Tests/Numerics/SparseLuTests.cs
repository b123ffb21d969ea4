using System.Numerics;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Tests.Numerics;

/// <summary>Factors solve, refactoring follows along, and what cannot be solved is refused with the unknown named.</summary>
public sealed class SparseLuTests
{
    /// <summary>
    /// Bound on the normwise backward error (Rigal and Gaches; Higham, Accuracy and Stability of Numerical Algorithms, 2nd ed.
    /// 2002, theorem 7.1). Partial pivoting stays near n u = 1e-14 at these orders (ibid. section 9.4: growth hardly ever
    /// exceeds ten); a threshold of a thousandth may cost a factor of that size, and no more.
    /// </summary>
    private const double BackwardStable = 1e-11;

    // T. A. Davis, KLU 1.x, Demo/klu_simple.c (SuiteSparse): columns {0,2,5,9,10,12}, x = 1..5; a zero on the diagonal.
    [Fact]
    public void Five_by_five_of_the_klu_demo()
    {
        int[] start = [0, 2, 5, 9, 10, 12];
        int[] row = [0, 1, 0, 2, 4, 1, 2, 3, 4, 2, 1, 4];
        double[] value = [2, 3, 3, -1, 4, 4, -3, 1, 2, 2, 6, 1];
        var a = new TestMatrix<double>(5);
        for (var c = 0; c < 5; c++)
        {
            for (var p = start[c]; p < start[c + 1]; p++)
            {
                a.Add(row[p] + 1, c + 1, value[p]);
            }
        }

        double[] b = [0, 8, 45, -3, 3, 19];
        var lu = new SparseLu<double>(a.Pattern);
        Assert.True(lu.Factor(a.Values));
        lu.Solve(b);
        for (var k = 1; k <= 5; k++)
        {
            Assert.Equal(k, b[k], 1e-13);
        }
    }

    // Vandermonde's determinant is the product of all differences of its points, later less earlier: each exchange of two points turns its sign (any textbook of linear algebra).
    [Theory]
    [InlineData(1, 2, 3, 4)]
    [InlineData(2, 1, 3, 4)]
    [InlineData(4, 1, 2, 3)]
    [InlineData(3, 4, 1, 2)]
    [InlineData(-1, -5, 3, 2)]
    [InlineData(1e-3, -2e3, 5, -1)]
    public void Sign_of_the_determinant_is_that_of_vandermonde(double first, double second, double third, double fourth)
    {
        double[] points = [first, second, third, fourth];
        var a = new TestMatrix<double>(points.Length);
        var sign = 1;
        for (var row = 0; row < points.Length; row++)
        {
            for (var column = 0; column < points.Length; column++)
            {
                a.Add(row + 1, column + 1, Math.Pow(points[row], column));
            }

            sign *= points[..row].Count(p => p > points[row]) % 2 == 0 ? 1 : -1;
        }

        var lu = new SparseLu<double>(a.Pattern);
        Assert.True(lu.Factor(a.Values));
        Assert.Equal(sign, lu.DeterminantSign());
    }

    [Theory]
    [InlineData(1, 20)]
    [InlineData(2, 60)]
    [InlineData(3, 60)]
    [InlineData(4, 200)]
    [InlineData(5, 200)]
    public void Random_systems_are_solved_backward_stably(int seed, int size)
    {
        var random = new Random(seed);
        var a = Scattered(size, random, () => Wide(random));
        var lu = new SparseLu<double>(a.Pattern);
        Assert.True(lu.Factor(a.Values));
        for (var round = 0; round < 3; round++)
        {
            var b = Vector(size, () => Wide(random));
            var x = (double[])b.Clone();
            lu.Solve(x);
            Assert.InRange(a.BackwardError(x, b), 0, BackwardStable);
        }
    }

    [Theory]
    [InlineData(6, 30)]
    [InlineData(7, 120)]
    public void Complex_systems_are_solved_backward_stably(int seed, int size)
    {
        var random = new Random(seed);
        var a = Scattered(size, random, () => new Complex(Wide(random), Wide(random)));
        var lu = new SparseLu<Complex>(a.Pattern);
        Assert.True(lu.Factor(a.Values));
        var b = Vector(size, () => new Complex(Wide(random), Wide(random)));
        var x = (Complex[])b.Clone();
        lu.Solve(x);
        Assert.InRange(a.BackwardError(x, b), 0, BackwardStable);
    }

    [Theory]
    [InlineData(1, 20, 1)]
    [InlineData(2, 60, 7)]
    [InlineData(3, 60, 8)]
    public void Several_right_hand_sides_at_once_are_solved_backward_stably(int seed, int size, int width)
    {
        var random = new Random(seed);
        var real = Scattered(size, random, () => Wide(random));
        SolveAll(real, width, () => Wide(random));
        SolveAll(Scattered(size, random, () => new Complex(Wide(random), Wide(random))), width, () => new Complex(Wide(random), Wide(random)));

        void SolveAll<T>(TestMatrix<T> a, int count, Func<T> value)
            where T : struct, INumberBase<T>
        {
            var lu = new SparseLu<T>(a.Pattern);
            Assert.True(lu.Factor(a.Values));
            var sides = Enumerable.Range(0, count).Select(_ => Vector(size, value)).ToList();
            var together = Enumerable.Range(0, size + 1).SelectMany(k => sides.Select(b => b[k])).ToArray();
            lu.SolveMany(together, count, new T[size * count]);
            for (var j = 0; j < count; j++)
            {
                var x = Enumerable.Range(0, size + 1).Select(k => together[k * count + j]).ToArray();
                Assert.InRange(a.BackwardError(x, sides[j]), 0, BackwardStable);
            }
        }
    }

    // Worked by hand: x = 1 + i, y = 1 gives (1 + i)^2 + 1 = 1 + 2 i and (1 + i) - i = 1.
    [Fact]
    public void Complex_two_by_two_worked_by_hand()
    {
        var i = Complex.ImaginaryOne;
        var a = new TestMatrix<Complex>(2).Add(1, 1, 1 + i).Add(1, 2, 1).Add(2, 1, 1).Add(2, 2, -i);
        var lu = new SparseLu<Complex>(a.Pattern);
        Assert.True(lu.Factor(a.Values));
        Complex[] b = [0, 1 + 2 * i, 1];
        lu.Solve(b);
        Assert.Equal(0, Complex.Abs(b[1] - (1 + i)), 1e-15);
        Assert.Equal(0, Complex.Abs(b[2] - 1), 1e-15);
    }

    [Fact]
    public void Refactored_values_solve_as_well_as_factored_ones()
    {
        var random = new Random(8);
        var a = Scattered(80, random, () => Wide(random));
        var lu = new SparseLu<double>(a.Pattern);
        var values = a.Values;
        Assert.True(lu.Factor(values));
        for (var round = 0; round < 5; round++)
        {
            // Every entry drifts by up to 30 %, as conductances do from step to step.
            var drifted = Array.ConvertAll(values, v => v * (0.7 + 0.6 * random.NextDouble()));
            var b = Vector(80, () => Wide(random));
            var (again, anew) = ((double[])b.Clone(), (double[])b.Clone());
            Assert.True(lu.Refactor(drifted));
            lu.Solve(again);
            Assert.InRange(a.BackwardError(again, b, drifted), 0, BackwardStable);

            var fresh = new SparseLu<double>(a.Pattern);
            Assert.True(fresh.Factor(drifted));
            fresh.Solve(anew);
            Assert.InRange(a.BackwardError(anew, b, drifted), 0, BackwardStable);
        }
    }

    // [d 1; 1 0] with d = 1: pivot d, fine. With d = 1e-9 the multiplier would be 1e9 and wipe out nine digits (Golub and Van
    // Loan, Matrix Computations, 3rd ed. 1996, section 3.3.1: the small-pivot example); x = (b2, b1 - d b2).
    [Fact]
    public void Pivots_that_no_longer_suit_are_refused_and_chosen_anew()
    {
        var a = new TestMatrix<double>(3).Add(1, 1, 1).Add(1, 2, 1).Add(2, 1, 1).Add(2, 2, 3).Add(3, 3, 1).Add(2, 3, 1).Add(3, 2, 1);
        var lu = new SparseLu<double>(a.Pattern);
        Assert.True(lu.Factor(a.Values));

        // The whole diagonal shrinks, so whichever pivot was first is now a bad one.
        double[] shrunk = [0, 1e-9, 1, 1, 1e-9, 1e-9, 1, 1];
        Assert.False(lu.Refactor(shrunk));
        double[] other = [0, 1e-9, 1, 1, 0.5, 0.25, 1, 2];
        if (!lu.Refactor(other))
        {
            Assert.True(lu.Factor(other));
        }

        double[] b = [0, 1, 2, 3];
        var x = (double[])b.Clone();
        lu.Solve(x);
        Assert.InRange(a.BackwardError(x, b, other), 0, BackwardStable);
    }

    [Fact]
    public void Zero_pivot_is_refused_until_the_values_are_sound_again()
    {
        var a = new TestMatrix<double>(2).Add(1, 1, 2).Add(1, 2, 1).Add(2, 1, 1).Add(2, 2, 2);
        var lu = new SparseLu<double>(a.Pattern);
        Assert.True(lu.Factor(a.Values));

        // Rows in proportion: singular, and either unknown may be the one without a pivot.
        double[] singular = [0, 1, 1, 1, 1];
        Assert.False(lu.Refactor(singular));
        Assert.False(lu.Factor(singular));
        Assert.InRange(lu.SingularUnknown, 1, 2);
        Assert.True(lu.Factor(a.Values));
        Assert.Equal(0, lu.SingularUnknown);
        double[] b = [0, 4, 5];
        lu.Solve(b);
        Assert.Equal([1.0, 2.0], b[1..].Select(v => Math.Round(v, 14)));
    }

    [Fact]
    public void Swapped_ones_need_no_diagonal()
    {
        // A permutation matrix: x2, x3, x1 = b.
        var a = new TestMatrix<double>(3).Add(1, 2, 1).Add(2, 3, 1).Add(3, 1, 1);
        var lu = new SparseLu<double>(a.Pattern);
        Assert.True(lu.Factor(a.Values));
        double[] b = [0, 20, 30, 10];
        lu.Solve(b);
        Assert.Equal([10.0, 20.0, 30.0], b[1..]);
        Assert.Equal(3, lu.FactorEntries);
    }

    // Rows of amperes beside rows of volts: scaling a row changes no solution, so twelve decades between rows must not either.
    [Fact]
    public void Rows_of_very_different_size_lose_nothing()
    {
        var random = new Random(9);
        var plain = Scattered(50, random, () => random.NextDouble() + 0.5);
        var expected = Vector(50, () => random.NextDouble() + 0.5);
        var factor = Vector(50, () => Math.Pow(2, random.Next(-40, 40)));
        var b = plain.Times(expected);
        var scaled = plain.Values;
        var pattern = plain.Pattern;
        for (var s = 1; s < scaled.Length; s++)
        {
            scaled[s] *= factor[pattern.SlotRow[s] + 1];
        }

        var lu = new SparseLu<double>(pattern);
        var other = new SparseLu<double>(pattern);
        Assert.True(lu.Factor(plain.Values));
        Assert.True(other.Factor(scaled));
        var x = (double[])b.Clone();
        var y = b.Zip(factor, (v, f) => v * f).ToArray();
        lu.Solve(x);
        other.Solve(y);

        // Factors of two are exact, so both must agree to the last bit.
        Assert.Equal(x[1..], y[1..]);
    }

    [Fact]
    public void Unknown_in_no_equation_is_named_by_the_pattern()
    {
        var a = new TestMatrix<double>(4).Add(1, 1, 1).Add(2, 1, 1).Add(3, 4, 1).Add(4, 4, 1).Add(2, 2, 1);
        Assert.Equal([3], a.Pattern.StructurallySingular);
        Assert.Throws<ArgumentException>(() => new SparseLu<double>(a.Pattern));
    }

    [Fact]
    public void Two_unknowns_that_share_one_equation_are_structurally_singular()
    {
        // Unknowns 2 and 3 occur in row 1 only: Hall's condition fails for them (P. Hall, J. London Math. Soc. 10 (1935) 26).
        var a = new TestMatrix<double>(3).Add(1, 1, 1).Add(1, 2, 1).Add(1, 3, 1).Add(2, 1, 1).Add(3, 1, 1);
        var unknown = Assert.Single(a.Pattern.StructurallySingular);
        Assert.InRange(unknown, 2, 3);
    }

    [Fact]
    public void Right_hand_side_of_the_wrong_length_is_refused()
    {
        var a = new TestMatrix<double>(1).Add(1, 1, 2);
        var lu = new SparseLu<double>(a.Pattern);
        Assert.True(lu.Factor(a.Values));
        Assert.Contains("Length 1; it must be 2", Assert.Throws<ArgumentException>(() => lu.Solve([1])).Message, StringComparison.Ordinal);
    }

    private static double Wide(Random random) => (random.NextDouble() - 0.5) * Math.Pow(10, random.Next(-6, 7));

    private static T[] Vector<T>(int size, Func<T> value) => [.. Enumerable.Range(0, size + 1).Select(_ => value())];

    /// <summary>A zero-free transversal in random rows and three more entries per column.</summary>
    private static TestMatrix<T> Scattered<T>(int size, Random random, Func<T> value)
        where T : struct, INumberBase<T>
    {
        var a = new TestMatrix<T>(size);
        var permutation = Enumerable.Range(1, size).ToArray();
        random.Shuffle(permutation);
        var taken = new HashSet<(int Row, int Column)>();
        for (var c = 1; c <= size; c++)
        {
            taken.Add((permutation[c - 1], c));
            for (var k = 0; k < 3; k++)
            {
                taken.Add((random.Next(1, size + 1), c));
            }
        }

        foreach (var (row, column) in taken.OrderBy(e => e))
        {
            a.Add(row, column, value());
        }

        return a;
    }
}
