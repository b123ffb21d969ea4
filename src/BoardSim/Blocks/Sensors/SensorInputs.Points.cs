using BoardSim.Blocks.Thermistors;
using BoardSim.Boards;
using BoardSim.Engine.Circuits;
using BoardSim.Measurement;

namespace BoardSim.Blocks.Sensors;

public sealed partial class SensorInputs
{
    private List<TestPoint> Points() =>
    [
        Ground("supply", "supply", "Supply of the processor."),
        Ground("sensor-supply", "sensor-supply", "Common supply of all dividers: some ten millivolts below the supply."),
        .. Numbers.Select(n => Ground($"divider{n}", $"divider{n}", Position == SensorPosition.ToGround
            ? $"Middle of divider {n}: falls when the sensor gets warmer."
            : $"Middle of divider {n}: rises when the sensor gets warmer.")),
        .. Numbers.Select(n => Ground($"adc{n}", $"adc{n}", $"Pin of channel {n}: the divider's voltage behind the protection resistor.")),
    ];

    private static List<CurrentPoint> Clamps() =>
    [
        new() { Name = "sensors", Part = "R_common", Description = "Current of all dividers together: about a milliampere." },
        .. Numbers.Select(n => new CurrentPoint { Name = $"sensor{n}", Part = $"R_contact{n}", Description = $"Current through cable and sensor {n}: some tens to hundreds of microamperes." }),
    ];

    private List<StatePoint> WhatTheProgramKnows() =>
    [
        .. Numbers.Select(n => State("U1", $"indicated-{n}", "degC", $"Temperature that the program looks up for channel {n}.")),
        .. Place == SensorPlace.Air ? [] : Numbers.Select(n => State("U1", $"error-{n}", "K", $"Indicated less true temperature of channel {n}: some tenths of a kelvin.")),
        .. Numbers.Select(n => State("U1", $"code-{n}", "", $"Converter's code of channel {n}.")),
        .. Numbers.Select(n => new StatePoint { Name = $"sensor-temperature-{n}", Part = $"RT{n}", State = "temperature", Unit = "degC", Description = $"Temperature of sensor {n} itself, which its measuring current warms a little." }),
    ];

    private static StatePoint State(string part, string state, string unit, string description) =>
        new() { Name = state, Part = part, State = state, Unit = unit, Description = description };

    private static TestPoint Ground(string name, string node, string description) => new()
    {
        Name = name,
        Node = node,
        ReferenceNode = Circuit.Ground,
        Reference = Reference.BoardGround,
        Description = description,
    };
}
