using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Converters;

public sealed partial class FlybackSupply
{
    private List<TestPoint> Points()
    {
        List<TestPoint> points =
        [
            Secondary("rail", "rail", "Output behind the post filter: 12 V."),
            Secondary("rectified", "rect", "Output capacitors, in front of the post filter."),
            Secondary("divider", "tap", "Top of the feedback divider and of the LED's resistor: the rail, but for the small signal of a loop measurement that stands between."),
            Secondary("reference", "ref", "Input of the shunt reference: 2.5 V while the loop is closed."),
            Secondary("cathode", "cathode", "Cathode of the shunt reference: some volts below the rail; at the bottom when the rail is too high."),
            Secondary("led", "led", "Anode of the opto-coupler's LED: 1.1 V above the cathode while it shines."),
            Primary("bulk", "bulk", "Bulk capacitor."),
            Primary("vcc", "vcc", "Supply of the controller: charged through the start resistor, then fed by the auxiliary winding."),
            Primary("feedback", "feedback", "Feedback pin: the higher, the more current; at its top the current limit decides."),
            Primary("clamp", "clamp", "Clamp capacitor: bulk voltage and some 150 V to 200 V."),
        ];
        if (Detail == ConverterDetail.Switching)
        {
            points.AddRange(
            [
                Primary("drain", "drain", "Drain of the switch: near zero while on, bulk and reflected voltage while the rectifier conducts, the clamp's voltage in between."),
                Primary("sense", "sense", "Sense resistor: rising ramps of less than 0.8 V, with a short spike at turn-on that the blanking leaves out."),
                Primary("gate", "gate", "Gate drive."),
            ]);
        }

        return points;
    }

    private List<CurrentPoint> Clamps()
    {
        List<CurrentPoint> clamps =
        [
            new() { Name = "start", Part = "R_start", Description = "Current through the start resistor.", LineSide = true },
            new() { Name = "output-capacitor", Part = "C_out1", Capacitor = OutputRating, Description = "Current into the first output capacitor; its pulses at the switching frequency are there in switching detail only." },
            new() { Name = "vcc-capacitor", Part = "C_vcc", Capacitor = VccRating, Description = "Current into the capacitor of the controller's supply.", LineSide = true },
            new() { Name = "rail", Part = "L_post", Description = "Current through the post filter into rail and load." },
            new() { Name = "load", Part = "R_load", Description = "Current of the bench's load." },
            new() { Name = "led", Part = "R_led", Description = "Current of the opto-coupler's LED and its bias resistor." },
            new() { Name = "input", Part = "R_bulk", Description = "Current from the bench's bulk voltage.", LineSide = true },
        ];
        if (LoadSignal > 0)
        {
            clamps.Add(new() { Name = "load-signal", Part = "R_signal", Description = "Small signal that the bench pushes into the rail." });
        }

        if (Detail == ConverterDetail.Switching)
        {
            clamps.AddRange(
            [
                new() { Name = "primary", Part = "L_leakage", Description = "Current into the primary winding: rising triangles.", LineSide = true },
                new() { Name = "secondary", Part = "D_out", Description = "Current out of the secondary winding through the rectifier: falling triangles." },
            ]);
        }

        return clamps;
    }

    private List<StatePoint> Conditions()
    {
        List<StatePoint> states =
        [
            new() { Name = "running", Part = Controller, State = "running", Unit = "", Description = "1 while the controller switches, 0 while it does not." },
            new() { Name = "starts", Part = Controller, State = "starts", Unit = "", Description = "Times that the controller has started since power came on." },
            new() { Name = "overloads", Part = Controller, State = "overloads", Unit = "", Description = "Times that the overload timer has stopped it." },
        ];
        if (Detail == ConverterDetail.Averaged)
        {
            states.AddRange(
            [
                new() { Name = "peak-current", Part = Controller, State = "peak-current", Unit = "A", Description = "Peak of the primary current in each cycle." },
                new() { Name = "duty", Part = Controller, State = "duty", Unit = "", Description = "Share of the period that the switch is on." },
            ]);
        }

        return states;
    }

    private static TestPoint Primary(string name, string node, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = "return",
        Reference = Reference.PrimaryReturn,
        Description = description,
        LineSide = true,
    };

    private static TestPoint Secondary(string name, string node, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = Circuit.Ground,
        Reference = Reference.BoardGround,
        Description = description,
    };
}
