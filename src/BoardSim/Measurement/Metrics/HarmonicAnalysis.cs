using System.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace BoardSim.Measurement;

/// <summary>
/// Amplitudes and phases of the harmonics of a periodic waveform, by discrete Fourier transform over whole cycles. The wave is
/// resampled by averaging it over each sampling interval, exactly, as IEC 61000-4-7 wants the anti-aliasing done before
/// sampling; the droop of that averaging, sin(x)/x, is divided out again.
/// </summary>
public sealed class HarmonicAnalysis
{
    private const int FewestSamples = 4096;
    private const int MostSamples = 1 << 20;
    private const int SamplesPerHighest = 64;

    private readonly Complex[] amplitudes;

    private HarmonicAnalysis(Complex[] amplitudes, int cycles) => (this.amplitudes, Cycles) = (amplitudes, cycles);

    /// <summary>Number of whole cycles that the transform ran over.</summary>
    public int Cycles { get; }

    /// <summary>Highest order that is known.</summary>
    public int HighestOrder => amplitudes.Length - 1;

    /// <summary>Direct component in the waveform's unit.</summary>
    public double Mean => amplitudes[0].Real;

    /// <summary>Analyses the last whole cycles of a waveform (of very long ones as many as a million samples hold).</summary>
    /// <param name="wave">The waveform.</param>
    /// <param name="frequency">Frequency of the fundamental in hertz, positive.</param>
    /// <param name="highestOrder">Highest order wanted, 1 to 1000.</param>
    /// <returns>The analysis, or null when the waveform is shorter than a cycle.</returns>
    public static HarmonicAnalysis? Of(Waveform wave, double frequency, int highestOrder = 40)
    {
        ArgumentNullException.ThrowIfNull(wave);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(frequency);
        ArgumentOutOfRangeException.ThrowIfLessThan(highestOrder, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(highestOrder, 1000);
        if (WholeCycles.Last(wave, frequency, MostSamples / (SamplesPerHighest * highestOrder)) is not { } whole)
        {
            return null;
        }

        var count = (int)BitOperations.RoundUpToPowerOf2((uint)Math.Max(FewestSamples, SamplesPerHighest * highestOrder * whole.Cycles));
        var bins = Array.ConvertAll(CellAverages.Of(whole.Wave, count), average => new Complex(average, 0));
        Fourier.Forward(bins, FourierOptions.NoScaling);
        var found = new Complex[highestOrder + 1];
        found[0] = bins[0] / count;
        for (var order = 1; order <= highestOrder; order++)
        {
            var bin = order * whole.Cycles;
            var x = Math.PI * bin / count;
            // Cells are centred half an interval late, hence the turn back by x; factor 2 for the mirrored half.
            found[order] = bins[bin] * (2.0 / count) * (x / Math.Sin(x)) * Complex.FromPolarCoordinates(1, -x);
        }

        return new HarmonicAnalysis(found, whole.Cycles);
    }

    /// <summary>Peak amplitude of a harmonic in the waveform's unit.</summary>
    /// <param name="order">1 for the fundamental, up to <see cref="HighestOrder"/>.</param>
    public double Peak(int order) => At(order).Magnitude;

    /// <summary>RMS value of a harmonic in the waveform's unit.</summary>
    /// <param name="order">1 for the fundamental, up to <see cref="HighestOrder"/>.</param>
    public double Rms(int order) => At(order).Magnitude / Math.Sqrt(2);

    /// <summary>Phase of a harmonic in radians: the angle of its cosine at the start of the first whole cycle.</summary>
    /// <param name="order">1 for the fundamental, up to <see cref="HighestOrder"/>.</param>
    public double Phase(int order) => At(order).Phase;

    /// <summary>RMS value of all known harmonics above the fundamental.</summary>
    public double RmsAboveFundamental
    {
        get
        {
            var sum = 0.0;
            for (var order = 2; order <= HighestOrder; order++)
            {
                sum += Rms(order) * Rms(order);
            }

            return Math.Sqrt(sum);
        }
    }

    private Complex At(int order)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(order, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(order, HighestOrder);
        return amplitudes[order];
    }
}
