using System.Numerics;
using System.Runtime.CompilerServices;

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
}
