using BoardSim.Boards;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Converters;

public sealed partial class FlybackOutput
{
    private List<TestPoint> Points()
    {
        List<TestPoint> points =
        [
            Secondary("output", OutputNode, "Output at the load: DC with a small ripple at the switching frequency."),
            Secondary("secondary", "sec", "Secondary winding at the rectifier's anode: a rectangle, negative while the switch is on."),
            Primary("drain", "drain", "return", Reference.PrimaryReturn, "Drain of the switch: near zero while on; a spike, then input plus reflected output while the secondary conducts."),
            Primary("gate", "gate", "return", Reference.PrimaryReturn, "Gate of the switch: the drive's pulses."),
            Primary("input", "bulk", "return", Reference.PrimaryReturn, "Bulk voltage at the converter."),
            Primary("clamp", "clamp", "bulk", Reference.AcrossPart, "Across the clamp's capacitor: DC, about one and a half times the reflected output voltage."),
        ];
        if (Filter != PostFilter.None)
        {
            points.Add(Secondary("rectified", "rect", "Output capacitors ahead of the post filter: the ripple that the filter still has to take away."));
        }

        return points;
    }

    private List<CurrentPoint> Clamps()
    {
        List<CurrentPoint> clamps =
        [
            new() { Name = "load", Part = "R_load", Description = "Current that the load takes." },
            new() { Name = "output-capacitor", Part = "C_out1", Capacitor = OutputRating, Description = "Current into the (first) output capacitor: a triangle above the load's current when the secondary conducts." },
            new() { Name = "secondary", Part = "L_secondary", Description = "Current out of the secondary winding into the rectifier: falling triangles." },
            new() { Name = "primary", Part = "L_leakage", Description = "Current into the primary winding: rising triangles.", LineSide = true },
            new() { Name = "input", Part = "R_input", Description = "Current from the bulk capacitor, clamp included.", LineSide = true },
        ];
        if (Capacitors == OutputCapacitors.Two)
        {
            clamps.Add(new() { Name = "second-capacitor", Part = "C_out2", Capacitor = OutputRating, Description = "Current into the second output capacitor." });
        }

        return clamps;
    }

    private static TestPoint Secondary(string name, string node, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = "0",
        Reference = Reference.BoardGround,
        Description = description,
    };

    private static TestPoint Primary(string name, string node, string against, Reference kind, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = against,
        Reference = kind,
        Description = description,
        LineSide = true,
    };
}
