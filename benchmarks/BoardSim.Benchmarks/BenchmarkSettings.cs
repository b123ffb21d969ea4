using BenchmarkDotNet.Columns;
using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Diagnosers;
using BenchmarkDotNet.Jobs;
using BenchmarkDotNet.Reports;
using BenchmarkDotNet.Toolchains.InProcess.Emit;
using Perfolizer.Horology;

namespace BoardSim.Benchmarks;

/// <summary>
/// How all benchmarks are run: few rounds, because a run takes milliseconds and is the same each time; in this process, because
/// a second build would cost more than it tells; with the memory that a run allocates.
/// </summary>
internal static class BenchmarkSettings
{
    private const int WidestName = 40;

    /// <summary>The settings; BenchmarkDotNet's own arguments come on top.</summary>
    public static IConfig Make() => ManualConfig.Create(DefaultConfig.Instance)
        .AddJob(Job.Default.WithToolchain(InProcessEmitToolchain.Instance).WithWarmupCount(3).WithIterationCount(7))
        .AddDiagnoser(MemoryDiagnoser.Default)
        .AddColumn(StatisticColumn.Min, StatisticColumn.Median)
        .HideColumns(Column.Error, Column.RatioSD, Column.Gen0, Column.Gen1, Column.Gen2)
        .WithSummaryStyle(SummaryStyle.Default.WithMaxParameterColumnWidth(WidestName).WithTimeUnit(TimeUnit.Millisecond))
        .WithOptions(ConfigOptions.DisableOptimizationsValidator);
}
