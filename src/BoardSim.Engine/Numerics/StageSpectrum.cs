using System.Numerics;

namespace BoardSim.Engine.Numerics;

/// <summary>
/// Eigenvalues and eigenvectors of the derivative matrix of a collocation method. With them the equations of all stages fall apart into
/// one system of the circuit's size for each eigenvalue: of two that are conjugate, one is enough, and twice its real part counts
/// (Butcher 1976; Hairer and Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, section IV.8; from memory, what they
/// make together is checked by a test).
/// </summary>
internal sealed class StageSpectrum
{
    private const int Rounds = 200;

    private const double Converged = 1e-15;

    /// <summary>Distance from an eigenvalue, relative to it, at which its vectors are asked for: exactly at it there is no inverse.</summary>
    private const double Beside = 1e-9;

    /// <summary>Finds them.</summary>
    /// <param name="method">The method.</param>
    public StageSpectrum(CollocationMethod method)
    {
        var s = method.Stages;
        var matrix = new double[s, s];
        var transposed = new double[s, s];
        for (var i = 0; i < s; i++)
        {
            for (var j = 0; j < s; j++)
            {
                matrix[i, j] = transposed[j, i] = method.Derivative[i + 1, j + 1];
            }
        }

        Terms = [.. Eigenvalues(s).Where(l => l.Imaginary >= 0).Select(l => Term(matrix, transposed, l))];
    }

    /// <summary>The terms whose sum any function f of the matrix is: twice the real part of f(value) right left' for each, half of that for a real value.</summary>
    public SpectralTerm[] Terms { get; }

    private static SpectralTerm Term(double[,] matrix, double[,] transposed, Complex value)
    {
        var (right, left) = (Vector(matrix, value), Vector(transposed, value));
        var product = Complex.Zero;
        for (var i = 0; i < right.Length; i++)
        {
            product += right[i] * left[i];
        }

        var share = value.Imaginary > 0 ? 2 : 1;
        return new SpectralTerm(value, right, Array.ConvertAll(left, l => share * l / product));
    }

    /// <summary>Inverse iteration: beside the eigenvalue its vector outgrows all others.</summary>
    private static Complex[] Vector(double[,] matrix, Complex value)
    {
        var (s, width) = (matrix.GetLength(0), matrix.GetLength(0) + 1);
        var vector = new Complex[s];
        Array.Fill(vector, Complex.One);
        for (var round = 0; round < 3; round++)
        {
            var rows = new Complex[s * width];
            for (var i = 0; i < s; i++)
            {
                for (var j = 0; j < s; j++)
                {
                    rows[i * width + j] = matrix[i, j] - (i == j ? (1 + Beside) * value : 0);
                }

                rows[i * width + s] = vector[i];
            }

            DenseElimination.Solve<Complex>(rows, s, width);
            var largest = Enumerable.Range(0, s).Select(i => rows[i * width + s]).MaxBy(Complex.Abs);
            for (var i = 0; i < s; i++)
            {
                vector[i] = rows[i * width + s] / largest;
            }
        }

        return vector;
    }

    /// <summary>
    /// They are where the stability function has its poles: the zeros of the denominator of the Pade approximant of degrees s - 1 and s to the exponential
    /// function (Hairer and Wanner II, theorem IV.3.12), found all at once by Weierstrass's iteration.
    /// </summary>
    private static Complex[] Eigenvalues(int s)
    {
        var coefficients = new double[s + 1];
        coefficients[0] = 1;
        for (var j = 1; j <= s; j++)
        {
            coefficients[j] = -coefficients[j - 1] * (s - j + 1) / (j * (2.0 * s - j));
        }

        var roots = Enumerable.Range(0, s).Select(k => s * Complex.Exp(new Complex(0, 0.4 + k * Math.Tau / s))).ToArray();
        for (var (round, moved) = (0, 1.0); round < Rounds && moved > Converged; round++)
        {
            moved = 0;
            for (var k = 0; k < s; k++)
            {
                var value = Complex.Zero;
                for (var j = s; j >= 0; j--)
                {
                    value = value * roots[k] + coefficients[j] / coefficients[s];
                }

                for (var j = 0; j < s; j++)
                {
                    value = j == k ? value : value / (roots[k] - roots[j]);
                }

                roots[k] -= value;
                moved = Math.Max(moved, Complex.Abs(value) / Complex.Abs(roots[k]));
            }
        }

        // An odd number of stages has one that is real, and rounding left it next to the axis.
        return [.. roots.Select(r => Math.Abs(r.Imaginary) < 1e-9 * Complex.Abs(r) ? new Complex(r.Real, 0) : r)];
    }
}
