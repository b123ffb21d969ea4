using BoardSim.Measurement;

namespace BoardSim.Tests.Measurement;

/// <summary>Short calls of metrics.</summary>
internal static class Take
{
    public static double Value(string id, Waveform wave, params (string Key, double Value)[] parameters) =>
        Metrics.Get(id).Evaluate(wave, parameters).Value;

    public static double Value(string id, Waveform wave, Waveform second, params (string Key, double Value)[] parameters) =>
        Metrics.Get(id).Evaluate(wave, second, parameters).Value;

    public static string Reason(string id, Waveform wave, params (string Key, double Value)[] parameters)
    {
        var result = Metrics.Get(id).Evaluate(wave, parameters);
        Assert.False(result.HasValue, $"{id} gave a value.");
        return result.Reason;
    }

    /// <summary>Equal within a share of the expected value.</summary>
    public static void Near(double expected, double actual, double share) =>
        Assert.Equal(expected, actual, share * Math.Abs(expected));
}
