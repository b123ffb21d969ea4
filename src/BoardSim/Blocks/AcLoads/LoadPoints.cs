using BoardSim.Boards;
using BoardSim.Engine.Devices;
using BoardSim.Measurement;

namespace BoardSim.Blocks.AcLoads;

/// <summary>Points that the loads on the line have in common.</summary>
internal static class LoadPoints
{
    /// <summary>A point on the line side, against neutral.</summary>
    public static TestPoint Neutral(string name, string node, string description) => Point(name, node, "neutral", Reference.Neutral, description);

    /// <summary>A point on the line side, across a part.</summary>
    public static TestPoint Across(string name, string node, string other, string description) => Point(name, node, other, Reference.AcrossPart, description);

    /// <summary>A clamp on the line side.</summary>
    public static CurrentPoint Clamp(string name, string part, string description) => new() { Name = name, Part = part, Description = description, LineSide = true };

    /// <summary>A state of a part.</summary>
    public static StatePoint State(string name, string part, string state, string unit, string description) => new() { Name = name, Part = part, State = state, Unit = unit, Description = description };

    /// <summary>The line of a bench, by its sine or by its RMS value.</summary>
    public static SourceWaveform Line(LineDetail detail, double rms, double frequency) => detail == LineDetail.Rms
        ? new DcWaveform(rms)
        : new SineWaveform { Amplitude = Math.Sqrt(2) * rms, Frequency = frequency };

    private static TestPoint Point(string name, string node, string other, Reference reference, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = other,
        Reference = reference,
        Description = description,
        LineSide = true,
    };
}
