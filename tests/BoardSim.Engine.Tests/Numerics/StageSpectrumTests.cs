using System.Numerics;
using BoardSim.Engine.Numerics;

namespace BoardSim.Engine.Tests.Numerics;

/// <summary>
/// What the eigenvalues of a collocation method's derivative matrix must satisfy: functions of the matrix put together from them against
/// the matrix itself, and a value printed in the literature.
/// </summary>
public sealed class StageSpectrumTests
{
    /// <summary>Hairer and Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, section IV.8 (from memory): the real eigenvalue of
    /// the inverse Radau IIA matrix of three stages is 30 / (6 + s (s - 1)) with s the cube root of nine, 3.6378...</summary>
    [Fact]
    public void Real_eigenvalue_of_three_stages_is_the_published_one()
    {
        var real = new StageSpectrum(new CollocationMethod(3)).Terms.Single(t => t.Value.Imaginary == 0);
        Assert.Equal(30 / (6 + Math.Cbrt(9) * (Math.Cbrt(9) - 1)), real.Value.Real, 1e-13);
    }

    [Theory]
    [InlineData(1, 1e-14)]
    [InlineData(2, 1e-13)]
    [InlineData(3, 1e-13)]
    [InlineData(5, 1e-12)]
    [InlineData(9, 1e-8)]
    public void Terms_put_the_matrix_together(int stages, double tolerance)
    {
        var method = new CollocationMethod(stages);
        for (var i = 0; i < stages; i++)
        {
            for (var j = 0; j < stages; j++)
            {
                var (one, matrix) = (0.0, 0.0);
                foreach (var term in new StageSpectrum(method).Terms)
                {
                    one += (term.Right[i] * term.Left[j]).Real;
                    matrix += (term.Value * term.Right[i] * term.Left[j]).Real;
                }

                Assert.Equal(i == j ? 1 : 0, one, tolerance);
                Assert.Equal(method.Derivative[i + 1, j + 1], matrix, 100 * tolerance);
            }
        }
    }

    /// <summary>The stages of x' = -a x are the solution of (D + a) z = -a; the sum over the eigenvalues solves it without the matrix.</summary>
    [Theory]
    [InlineData(0.01)]
    [InlineData(3)]
    [InlineData(1e6)]
    public void Terms_solve_the_stage_equations(double a)
    {
        var method = new CollocationMethod(5);
        var z = new double[5];
        foreach (var term in new StageSpectrum(method).Terms)
        {
            var factor = term.Left.Aggregate(Complex.Zero, (sum, l) => sum - a * l) / (term.Value + a);
            for (var i = 0; i < z.Length; i++)
            {
                z[i] += (factor * term.Right[i]).Real;
            }
        }

        for (var i = 0; i < z.Length; i++)
        {
            var left = a * z[i] + a;
            for (var j = 0; j < z.Length; j++)
            {
                left += method.Derivative[i + 1, j + 1] * z[j];
            }

            Assert.Equal(0, left, 1e-12 * (1 + a));
        }
    }
}
