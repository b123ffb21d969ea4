using BoardSim.Boards;
using BoardSim.Measurement;

namespace BoardSim.Scenarios.Running;

/// <summary>The places that a black lead can be put to: every test point, and the references that test points are measured against.</summary>
internal static class LeadPlaces
{
    /// <summary>Name for scenario files, name for people, and node of each place; a test point goes before a reference of its name.</summary>
    public static IReadOnlyList<(string Name, string Title, string Node, string Description)> Of(Board board)
    {
        var points = board.TestPoints.Select(p => (p.Name, p.Name, p.Node, p.Description));
        var references = board.TestPoints
            .Where(p => p.Reference != Reference.AcrossPart)
            .Select(p => (p.ReferenceName.Replace(' ', '-'), p.ReferenceName, p.ReferenceNode, $"The {p.ReferenceName}."));
        return [.. points.Concat(references).DistinctBy(p => p.Item1)];
    }

    /// <summary>Node of protective earth; null when no test point of the board is measured against it.</summary>
    public static string? Earth(Board board) => board.TestPoints.FirstOrDefault(p => p.Reference == Reference.ProtectiveEarth)?.ReferenceNode;
}
