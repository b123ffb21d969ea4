using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace BoardSim.Engine.Numerics;

/// <summary>The inner loops of dense work, several elements at a time.</summary>
internal static class DenseVector
{
    /// <summary>Length rounded up to whole vectors, so that loops need no remainder.</summary>
    public static int Padded(int length) => (length + Vector<double>.Count - 1) / Vector<double>.Count * Vector<double>.Count;

    /// <summary>Adds a multiple of a vector to another.</summary>
    /// <param name="target">What is added to.</param>
    /// <param name="factor">The factor.</param>
    /// <param name="vector">As long as <paramref name="target"/> or longer.</param>
    public static void AddScaled(Span<double> target, double factor, ReadOnlySpan<double> vector)
    {
        vector = vector[..target.Length];
        var t = MemoryMarshal.Cast<double, Vector<double>>(target);
        var v = MemoryMarshal.Cast<double, Vector<double>>(vector);
        var f = new Vector<double>(factor);
        for (var k = 0; k < t.Length; k++)
        {
            t[k] = Vector.FusedMultiplyAdd(f, v[k], t[k]);
        }

        for (var k = t.Length * Vector<double>.Count; k < target.Length; k++)
        {
            target[k] += factor * vector[k];
        }
    }

    /// <summary>Adds multiples of the columns of a matrix to a vector: target += columns times factors.</summary>
    /// <param name="target">What is added to; whole vectors.</param>
    /// <param name="columns">The columns one after the other, each as long as <paramref name="target"/>.</param>
    /// <param name="factors">One for each column.</param>
    public static void AddProduct(Span<double> target, ReadOnlySpan<double> columns, ReadOnlySpan<double> factors)
    {
        var length = target.Length;
        ref var t = ref MemoryMarshal.GetReference(target);
        ref var c = ref MemoryMarshal.GetReference(columns[..(length * factors.Length)]);
        var k = 0;
        for (; k + 4 <= factors.Length; k += 4)
        {
            var (f0, f1, f2, f3) = (new Vector<double>(factors[k]), new Vector<double>(factors[k + 1]), new Vector<double>(factors[k + 2]), new Vector<double>(factors[k + 3]));
            ref var at = ref Unsafe.Add(ref c, k * length);
            for (var j = 0; j < length; j += Vector<double>.Count)
            {
                var sum = Vector.LoadUnsafe(ref Unsafe.Add(ref t, j));
                sum = Vector.FusedMultiplyAdd(f0, Vector.LoadUnsafe(ref Unsafe.Add(ref at, j)), sum);
                sum = Vector.FusedMultiplyAdd(f1, Vector.LoadUnsafe(ref Unsafe.Add(ref at, length + j)), sum);
                sum = Vector.FusedMultiplyAdd(f2, Vector.LoadUnsafe(ref Unsafe.Add(ref at, 2 * length + j)), sum);
                sum = Vector.FusedMultiplyAdd(f3, Vector.LoadUnsafe(ref Unsafe.Add(ref at, 3 * length + j)), sum);
                sum.StoreUnsafe(ref Unsafe.Add(ref t, j));
            }
        }

        for (; k < factors.Length; k++)
        {
            AddScaled(target, factors[k], columns.Slice(k * length, length));
        }
    }
}
