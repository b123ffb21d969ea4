namespace BoardSim.Engine.Analyses.PeriodicStates;

/// <summary>Orthonormal basis of differences, each with the combination of the differences that it is.</summary>
internal sealed class SecantSpan(int count)
{
    private readonly List<(double[] Vector, double[] Combination)> basis = [];

    /// <summary>Basis vectors so far.</summary>
    public int Count => basis.Count;

    /// <summary>A basis vector.</summary>
    public double[] Vector(int number) => basis[number].Vector;

    /// <summary>The combination of the differences that a basis vector is.</summary>
    public double[] Combination(int number) => basis[number].Combination;

    /// <summary>Adds what is new in a difference (modified Gram-Schmidt); one that brings nothing new is left out.</summary>
    /// <param name="number">Number of the difference.</param>
    /// <param name="difference">The difference; it is overwritten.</param>
    /// <param name="least">Part of it that has to be new.</param>
    public void Add(int number, double[] difference, double least)
    {
        var combination = new double[count];
        combination[number] = 1;
        var full = Norm(difference);
        foreach (var (vector, parts) in basis)
        {
            var along = Dot(difference, vector);
            Subtract(difference, along, vector);
            Subtract(combination, along, parts);
        }

        var left = Norm(difference);
        if (left > least * full)
        {
            Divide(difference, left);
            Divide(combination, left);
            basis.Add((difference, combination));
        }
    }

    /// <summary>The combination of the differences that comes closest to a vector.</summary>
    /// <param name="vector">The vector; what no combination reaches is left in it.</param>
    public double[] Nearest(double[] vector)
    {
        var weights = new double[count];
        foreach (var (unit, parts) in basis)
        {
            var along = Dot(vector, unit);
            Subtract(vector, along, unit);
            Subtract(weights, -along, parts);
        }

        return weights;
    }

    /// <summary>Inner product.</summary>
    public static double Dot(double[] a, double[] b)
    {
        var sum = 0.0;
        for (var k = 0; k < a.Length; k++)
        {
            sum += a[k] * b[k];
        }

        return sum;
    }

    /// <summary>Euclidean norm.</summary>
    public static double Norm(double[] v) => Math.Sqrt(Dot(v, v));

    private static void Subtract(double[] from, double factor, double[] vector)
    {
        for (var k = 0; k < from.Length; k++)
        {
            from[k] -= factor * vector[k];
        }
    }

    private static void Divide(double[] v, double by)
    {
        for (var k = 0; k < v.Length; k++)
        {
            v[k] /= by;
        }
    }
}
