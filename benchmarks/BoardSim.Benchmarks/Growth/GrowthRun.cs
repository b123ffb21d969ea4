using System.Globalization;
using BoardSim.Engine.Circuits;

namespace BoardSim.Benchmarks.Growth;

/// <summary>The verb <c>growth</c>: cost against the size of the circuit, with the exponents of the power laws through it.</summary>
internal static class GrowthRun
{
    private const int Rounds = 7;
    private const double ToMicroseconds = 1e6;
    private const double ToMilliseconds = 1e3;
    private static readonly int[] Sizes = [200, 632, 2000, 6324, 20000];

    /// <summary>Measures all sizes in turns and prints a table for each kind of circuit.</summary>
    public static void Run()
    {
        Print("Ladder of resistors and capacitors", GrowthCircuits.Ladder);
        Print("Ladder with an ammeter in each section", GrowthCircuits.Ammeters);
        Print("Ladder between two rails, a diode at each node", GrowthCircuits.Rails);
    }

    private static void Print(string title, Func<int, Circuit> make)
    {
        var points = Array.ConvertAll(Sizes, s => new GrowthPoint(s, make));
        for (var round = 0; round < Rounds; round++)
        {
            foreach (var point in points)
            {
                point.Measure();
            }
        }

        Console.WriteLine($"\n{title}\n");
        Console.WriteLine("| sections | points | step, us | build, ms | compile, ms | begin, ms | memory, bytes a section | allocated by warm steps |");
        Console.WriteLine("|---:|---:|---:|---:|---:|---:|---:|---:|");
        foreach (var p in points)
        {
            Console.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"| {p.Sections} | {p.Points} | {p.Step * ToMicroseconds:0} | {p.Build * ToMilliseconds:0.0} | {p.Compile * ToMilliseconds:0.0} | {p.Begin * ToMilliseconds:0.0} | {p.Bytes / (double)p.Sections:0} | {p.Allocated} |"));
        }

        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"| exponent | | {Exponent(points, p => p.Step):0.00} | {Exponent(points, p => p.Build):0.00} | {Exponent(points, p => p.Compile):0.00} | {Exponent(points, p => p.Begin):0.00} | {Exponent(points, p => p.Bytes):0.00} | |"));
    }

    /// <summary>Exponent of the power law that fits best, least squares in the logarithms.</summary>
    private static double Exponent(GrowthPoint[] points, Func<GrowthPoint, double> cost)
    {
        var (x, y) = (Array.ConvertAll(points, p => Math.Log(p.Sections)), Array.ConvertAll(points, p => Math.Log(cost(p))));
        var (mx, my) = (x.Average(), y.Average());
        return x.Zip(y, (a, b) => (a - mx) * (b - my)).Sum() / x.Sum(a => (a - mx) * (a - mx));
    }
}
