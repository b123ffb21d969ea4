using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Tests.Numerics;

/// <summary>Coefficients of Radau's right-hand collocation against what is published about them.</summary>
public sealed class CollocationTests
{
    // Radau IIA of order 5: nodes (4 - sqrt 6)/10, (4 + sqrt 6)/10, 1 and last row (16 - sqrt 6)/36, (16 + sqrt 6)/36, 1/9
    // (Hairer and Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, table IV.5.6; from memory).
    [Fact]
    public void Three_stages_are_the_published_ones()
    {
        var method = new CollocationMethod(3);
        var root = Math.Sqrt(6);
        Assert.Equal([0, (4 - root) / 10, (4 + root) / 10, 1], method.Nodes, (a, b) => Math.Abs(a - b) < 1e-14);
        Assert.Equal([0, (16 - root) / 36, (16 + root) / 36, 1.0 / 9], method.Weights, (a, b) => Math.Abs(a - b) < 1e-13);
    }

    // Order conditions of the quadrature (Butcher's B(p)): sum b c^(k-1) = 1/k up to the order 2s - 1, and not beyond.
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(5)]
    [InlineData(7)]
    public void Quadrature_is_exact_up_to_its_order(int stages)
    {
        var method = new CollocationMethod(stages);
        for (var k = 1; k <= method.Order; k++)
        {
            Assert.Equal(1.0 / k, Moment(k), 1e-12);
        }

        Assert.True(Math.Abs(Moment(method.Order + 1) - 1.0 / (method.Order + 1)) > 1e-9, "exact beyond the order");
        double Moment(int k) => method.Weights.Zip(method.Nodes, (b, c) => b * Math.Pow(c, k - 1)).Sum();
    }

    // x' = -h x: the last stage is the subdiagonal Pade approximant of exp(-h), numerator degree s - 1, denominator degree s (Hairer
    // and Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, theorem IV.3.11 and proposition IV.3.8; from memory).
    [Theory]
    [InlineData(2, 0.7)]
    [InlineData(3, 3)]
    [InlineData(5, 0.5)]
    [InlineData(5, 40)]
    public void Linear_test_equation_gives_the_pade_approximant(int stages, double h)
    {
        var method = new CollocationMethod(stages);
        var size = method.Stages;
        var width = size + 1;
        var rows = new double[size * width];
        for (var i = 0; i < size; i++)
        {
            for (var j = 0; j < size; j++)
            {
                rows[i * width + j] = method.Derivative[i + 1, j + 1] + (i == j ? h : 0);
            }

            rows[i * width + size] = -method.Derivative[i + 1, 0];
        }

        Assert.True(DenseElimination.Solve<double>(rows, size, width));
        var (k, m) = (stages - 1, stages);
        var numerator = Enumerable.Range(0, k + 1).Sum(j => Factorial(m + k - j) * Factorial(k) / (Factorial(m + k) * Factorial(k - j) * Factorial(j)) * Math.Pow(-h, j));
        var denominator = Enumerable.Range(0, m + 1).Sum(j => Factorial(m + k - j) * Factorial(m) / (Factorial(m + k) * Factorial(m - j) * Factorial(j)) * Math.Pow(h, j));
        Assert.Equal(numerator / denominator, rows[^1], 1e-11);

        static double Factorial(int n) => Enumerable.Range(1, n).Aggregate(1.0, (product, factor) => product * factor);
    }

    [Fact]
    public void Leading_terms_are_those_of_a_known_polynomial()
    {
        var method = new CollocationMethod(5);

        // T5(2x - 1) + 3 T4(2x - 1), by the recurrence that defines them (T0 = 1, T1 = u, T(k+1) = 2 u T(k) - T(k-1)).
        var values = method.Nodes.Select(x =>
        {
            var u = 2 * x - 1;
            var t2 = 2 * u * u - 1;
            var t3 = 2 * u * t2 - u;
            var t4 = 2 * u * t3 - t2;
            return 2 * u * t4 - t3 + 3 * t4;
        }).ToArray();
        Assert.Equal(1, method.Leading[0].Zip(values, (w, v) => w * v).Sum(), 1e-11);
        Assert.Equal(3, method.Leading[1].Zip(values, (w, v) => w * v).Sum(), 1e-11);
        Assert.Equal(0, method.Leading[2].Zip(values, (w, v) => w * v).Sum(), 1e-11);
    }
}
