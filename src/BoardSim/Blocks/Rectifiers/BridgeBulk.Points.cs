using BoardSim.Boards;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Rectifiers;

public sealed partial class BridgeBulk
{
    private List<TestPoint> Points()
    {
        if (LineDetail == LineDetail.Rms)
        {
            return MeanPoints();
        }

        List<TestPoint> points =
        [
            Against("bulk", "bulk", "return", Reference.PrimaryReturn, "Plus of the bulk capacitor: the line's peak less two diodes, with a saw-tooth of twice the line frequency on it."),
            Against("line", "inlet", "neutral", Reference.Neutral, "Line at the board's inlet, behind the plug: the line's sine, its crests a little flattened by the charging current."),
            Against("rectifier-input", "ac", "neutral", Reference.Neutral, "Line behind the inrush limiter, at the bridge."),
            Against("limiter", "inlet", "ac", Reference.AcrossPart, "Across the inrush limiter: short pulses that shrink as an NTC warms up."),
            Against("return", "return", "0", Reference.ProtectiveEarth, "Primary return against protective earth: not zero, but the negative half-waves of the line. A probe's earth clip must never go here."),
            Against("neutral", "neutral", "0", Reference.ProtectiveEarth, "Neutral against protective earth: the drop along the neutral conductor. As the other lead of a meter it stands for earth, the wrong reference for the bulk voltage."),
        ];
        if (Arrangement == RectifierArrangement.Doubler)
        {
            points.Add(Against("middle", "middle", "return", Reference.PrimaryReturn, "Middle of the two bulk capacitors, the lower half: half the bulk voltage while both are alike."));
            points.Add(Against("upper-half", "bulk", "middle", Reference.AcrossPart, "Across the upper bulk capacitor: as much as across the lower one while both are alike."));
        }

        return points;
    }

    private List<CurrentPoint> Clamps()
    {
        if (LineDetail == LineDetail.Rms)
        {
            return MeanClamps();
        }

        List<CurrentPoint> clamps =
        [
            Clamp("line", "RT1", "Current from the line into the bridge: short pulses at the crests, one each half-cycle."),
            Clamp("bulk-capacitor", "C_bulk", "Current into the bulk capacitor: charging pulses at the crests, the load's current out of it in between.") with { Capacitor = BulkRating },
            Clamp("load", "R_load", "Current that the load takes from the bulk capacitor."),
            Clamp("d1", "D1", "Current through the diode from the line side to bulk: every other charging pulse."),
            Clamp("d2", "D2", "Current through the diode from neutral to bulk."),
            Clamp("d3", "D3", "Current through the diode from return to the line side."),
            Clamp("d4", "D4", "Current through the diode from return to neutral."),
        ];
        if (Arrangement == RectifierArrangement.Doubler)
        {
            clamps.Add(Clamp("lower-capacitor", "C_bulk2", "Current into the lower bulk capacitor.") with { Capacitor = BulkRating });
            clamps.Add(Clamp("selector", "S_selector", "Current through the doubler's link from the capacitors' middle to neutral: up in one half-cycle, down in the other."));
        }

        return clamps;
    }

    private static TestPoint Against(string name, string node, string reference, Reference kind, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = reference,
        Reference = kind,
        Description = description,
        LineSide = true,
    };

    private static CurrentPoint Clamp(string name, string part, string description) => new()
    {
        Name = name,
        Part = part,
        Description = description,
        LineSide = true,
    };
}
