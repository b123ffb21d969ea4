using BoardSim.Boards;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Thermistors;

public sealed partial class ThermistorInput
{
    private List<TestPoint> Points(string pin, string otherPin, bool plugged)
    {
        List<TestPoint> points =
        [
            Ground("adc", "adc", "Converter's pin: the divider's voltage behind the protection resistor."),
            Ground("divider", "divider", Position == SensorPosition.ToGround
                ? "Middle of the divider: falls when the sensor gets warmer."
                : "Middle of the divider: rises when the sensor gets warmer."),
            Ground("supply", "supply", "Supply of the divider."),
            new()
            {
                Name = "sensor-connector",
                Node = pin,
                ReferenceNode = otherPin,
                Reference = otherPin == "0" ? Reference.BoardGround : Reference.AcrossPart,
                Description = "Across the two pins of the sensor's connector on the board.",
            },
        ];
        if (!plugged)
        {
            points.Add(new()
            {
                Name = "pulled-plug",
                Node = "plug",
                ReferenceNode = "0",
                Reference = Reference.AcrossPart,
                Description = "Across the two contacts of the pulled plug, with an ohmmeter on them.",
            });
        }

        return points;
    }

    private static List<CurrentPoint> Clamps() =>
    [
        new() { Name = "sensor", Part = "R_contact", Description = "Current through cable and sensor: some tens to hundreds of microamperes." },
    ];

    private static TestPoint Ground(string name, string node, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = "0",
        Reference = Reference.BoardGround,
        Description = description,
    };
}
