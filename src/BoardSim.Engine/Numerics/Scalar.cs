using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace BoardSim.Engine.Numerics;

/// <summary>What the factorisation needs of a number beyond arithmetic.</summary>
internal static class Scalar
{
    /// <summary>Magnitude; the branch on the type vanishes when the method is compiled for it.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double Magnitude<T>(T value)
        where T : struct, INumberBase<T>
    {
        if (typeof(T) == typeof(double))
        {
            return Math.Abs((double)(object)value);
        }

        return typeof(T) == typeof(Complex) ? Complex.Abs((Complex)(object)value) : double.CreateChecked(T.Abs(value));
    }

    /// <summary>Adds a multiple of a vector to another, several elements at a time where they are real.</summary>
    /// <param name="target">What is added to.</param>
    /// <param name="factor">The factor.</param>
    /// <param name="vector">As long as <paramref name="target"/>.</param>
    public static void AddScaled<T>(Span<T> target, T factor, ReadOnlySpan<T> vector)
        where T : struct, INumberBase<T>
    {
        if (typeof(T) == typeof(double))
        {
            DenseVector.AddScaled(MemoryMarshal.Cast<T, double>(target), (double)(object)factor, MemoryMarshal.Cast<T, double>(vector));
            return;
        }

        for (var j = 0; j < target.Length; j++)
        {
            target[j] += factor * vector[j];
        }
    }

    /// <summary>A multiple of a vector.</summary>
    /// <param name="target">Receives it.</param>
    /// <param name="factor">The factor.</param>
    /// <param name="vector">As long as <paramref name="target"/>.</param>
    public static void Scale<T>(Span<T> target, T factor, ReadOnlySpan<T> vector)
        where T : struct, INumberBase<T>
    {
        vector = vector[..target.Length];
        for (var j = 0; j < target.Length; j++)
        {
            target[j] = factor * vector[j];
        }
    }
}
