namespace BoardSim.Engine.Analyses.Envelopes;

/// <summary>Weights of the nodes of an interpolating polynomial (Lagrange).</summary>
internal static class Polynomial
{
    /// <summary>Weights in the polynomial's value.</summary>
    /// <param name="nodes">Where it is known.</param>
    /// <param name="at">Where it is wanted.</param>
    public static double[] At(ReadOnlySpan<int> nodes, double at)
    {
        var weights = new double[nodes.Length];
        for (var j = 0; j < nodes.Length; j++)
        {
            var w = 1.0;
            for (var k = 0; k < nodes.Length; k++)
            {
                if (k != j)
                {
                    w *= (at - nodes[k]) / (nodes[j] - nodes[k]);
                }
            }

            weights[j] = w;
        }

        return weights;
    }

    /// <summary>Weights in the sum of the polynomial's values at whole numbers from one (included) to another (not included).</summary>
    public static double[] Sum(ReadOnlySpan<int> nodes, int from, int to)
    {
        var sum = new double[nodes.Length];
        for (var n = from; n < to; n++)
        {
            var w = At(nodes, n);
            for (var j = 0; j < w.Length; j++)
            {
                sum[j] += w[j];
            }
        }

        return sum;
    }

    /// <summary>Product of the distances to all nodes.</summary>
    public static double Product(ReadOnlySpan<int> nodes, double at)
    {
        var product = 1.0;
        foreach (var node in nodes)
        {
            product *= at - node;
        }

        return product;
    }
}
