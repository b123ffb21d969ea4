using System.Globalization;

namespace BoardSim.Benchmarks.WorkPrecision;

/// <summary>Measurements as comma-separated text.</summary>
internal static class MeasurementTable
{
    /// <summary>Names of the columns.</summary>
    public const string Head = "problem,method,accuracy,points,rejected,newton_iterations,cpu_ms,true_error";

    /// <summary>One line of the table.</summary>
    public static string Row(Measurement m) => string.Create(
        CultureInfo.InvariantCulture,
        $"{m.Problem.Name},{m.Method.Name},{m.Accuracy:0e+0},{m.Evidence.Points},{m.Evidence.Rejected},{m.Evidence.NewtonIterations},{m.Seconds * 1e3:0.00},{m.Error:0.0e+0}");
}
