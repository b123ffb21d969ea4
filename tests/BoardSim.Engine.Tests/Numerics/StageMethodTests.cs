using System.Numerics;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Tests.Numerics;

/// <summary>Coefficients of the integration methods against the conditions that theory sets them.</summary>
public sealed class StageMethodTests
{
    // Rational approximations of irrational coefficients are published with about 13 digits per number.
    private const double Exact = 1e-11;

    public static TheoryData<string> Names => new(StageMethod.All.Select(m => m.Name));

    // Rooted trees and their densities: Hairer, Norsett and Wanner, Solving Ordinary Differential Equations I, 2nd ed. 1993,
    // section II.2, table 2.1 (order k holds when all sums up to k equal 1 / density).
    [Theory]
    [MemberData(nameof(Names))]
    public void Result_satisfies_the_order_conditions(string name)
    {
        var m = Method(name);
        AssertOrder(Square(m), Weights(m), m.Order);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Embedded_solution_satisfies_its_order_conditions(string name)
    {
        var m = Method(name);
        AssertOrder(Square(m), Embedded(m), m.EmbeddedOrder);
    }

    // An estimate of the order of the result itself would vanish together with the error. Exactly one of the two solutions has
    // the higher order, and the other misses a condition of the next order.
    [Theory]
    [MemberData(nameof(Names))]
    public void Estimate_is_of_one_order_below_the_better_solution(string name)
    {
        var m = Method(name);
        var lower = Math.Min(m.Order, m.EmbeddedOrder);
        var missed = Trees(Square(m)).Where(t => t.Order == lower + 1).Max(t => Math.Abs(Sum(m.Error, t.Value)));
        Assert.True(missed > 1e-3, $"largest difference of an order-{lower + 1} condition: {missed:g3}");
        Assert.Equal(Math.Max(m.Order, m.EmbeddedOrder), lower + 1);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Stages_share_one_diagonal_and_end_in_the_result(string name)
    {
        var m = Method(name);
        Assert.Equal(0, m.A[0][0]);
        Assert.Equal(0, m.Nodes[0]);
        Assert.Equal(1, m.Nodes[^1]);
        for (var i = 1; i < m.Stages; i++)
        {
            Assert.Equal(m.Gamma, m.A[i][i]);
            Assert.Equal(m.Nodes[i], m.A[i].Sum(), 1e-12);
        }
    }

    // Stage order 2, the condition that spares stiff problems an order reduction to one: sum a_ij c_j = c_i^2 / 2 (Kennedy and
    // Carpenter, NASA/TM-2016-219173, section 2.2: explicit first stage; from memory).
    [Theory]
    [MemberData(nameof(Names))]
    public void Stages_are_of_second_order(string name)
    {
        var m = Method(name);
        for (var i = 1; i < m.Stages; i++)
        {
            var moment = m.A[i].Select((a, j) => a * m.Nodes[j]).Sum();
            Assert.Equal(m.Nodes[i] * m.Nodes[i] / 2, moment, Exact);
        }
    }

    // A-stability on the imaginary axis and R(infinity) = 0: Hairer and Wanner, Solving Ordinary Differential Equations II,
    // 2nd ed. 1996, section IV.3, definitions 3.3 and 3.7.
    [Theory]
    [MemberData(nameof(Names))]
    public void Method_is_L_stable(string name)
    {
        var m = Method(name);
        for (var exponent = -3.0; exponent <= 8; exponent += 0.01)
        {
            var y = Math.Pow(10, exponent);
            Assert.True(Complex.Abs(Stability(m, new Complex(0, y))) <= 1 + 1e-10, $"|R(i {y:g4})| = {Complex.Abs(Stability(m, new Complex(0, y))):g12}");
        }

        // No pole in the left half-plane (they all lie at 1 / gamma), so the maximum principle carries this to all of it.
        Assert.True(m.Gamma > 0);
        Assert.InRange(Complex.Abs(Stability(m, -1e4)), 0, 1e-2);
        Assert.InRange(Complex.Abs(Stability(m, -1e7)), 0, 1e-5);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Stability_function_is_the_exponential_up_to_the_order(string name)
    {
        var m = Method(name);
        var (coarse, fine) = (Miss(0.1), Miss(0.05));
        Assert.InRange(Math.Log2(coarse / fine), m.Order + 0.8, m.Order + 1.2);

        double Miss(double z) => Math.Abs(Stability(m, -z).Real - Math.Exp(-z));
    }

    // Hosea and Shampine, Appl. Numer. Math. 20 (1996) 21: the value of gamma for which both substeps share one Jacobian.
    [Fact]
    public void TrBdf2_ends_its_trapezoid_at_two_minus_root_two() =>
        Assert.Equal(2 - Math.Sqrt(2), StageMethod.TrBdf2.Nodes[1], 1e-15);

    private static StageMethod Method(string name) => StageMethod.All.Single(m => m.Name == name);

    private static double[][] Square(StageMethod m) =>
        [.. m.A.Select(row => Enumerable.Range(0, m.Stages).Select(j => j < row.Length ? row[j] : 0).ToArray())];

    private static double[] Weights(StageMethod m) => m.A[^1];

    private static double[] Embedded(StageMethod m) => [.. m.A[^1].Zip(m.Error, (b, e) => b - e)];

    private static void AssertOrder(double[][] a, double[] b, int order)
    {
        foreach (var (treeOrder, density, value) in Trees(a).Where(t => t.Order <= order))
        {
            Assert.True(
                Math.Abs(Sum(b, value) - 1.0 / density) < Exact,
                $"order {treeOrder}, density {density}: sum is {Sum(b, value):g15}");
        }
    }

    /// <summary>The eight rooted trees up to order four, with their density and the factor that b is summed with.</summary>
    private static (int Order, int Density, double[] Value)[] Trees(double[][] a)
    {
        var one = Array.ConvertAll(a, _ => 1.0);
        var c = Times(one);
        var square = Each(c, c);
        return
        [
            (1, 1, one),
            (2, 2, c),
            (3, 3, square),
            (3, 6, Times(c)),
            (4, 4, Each(square, c)),
            (4, 8, Each(c, Times(c))),
            (4, 12, Times(square)),
            (4, 24, Times(Times(c))),
        ];

        double[] Times(double[] v) => Array.ConvertAll(a, row => Sum(row, v));

        static double[] Each(double[] u, double[] v) => [.. u.Zip(v, (p, q) => p * q)];
    }

    private static double Sum(double[] b, double[] value) => b.Zip(value, (p, q) => p * q).Sum();

    /// <summary>R(z): one step for y' = z y from 1 with step 1.</summary>
    private static Complex Stability(StageMethod m, Complex z)
    {
        var stage = new Complex[m.Stages];
        for (var i = 0; i < m.Stages; i++)
        {
            Complex sum = 1;
            for (var j = 0; j < i; j++)
            {
                sum += z * m.A[i][j] * stage[j];
            }

            stage[i] = sum / (1 - z * m.A[i][i]);
        }

        return stage[^1];
    }
}
