using BoardSim.Boards;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Thermistors;

public sealed partial class ThermistorInput
{
    private const string IndicatedName = "indicated-temperature";

    /// <summary>What whoever wrote the program went by.</summary>
    private ThermistorInput Designed => Design as ThermistorInput ?? this;

    /// <summary>The program's reading with a table made for a given law.</summary>
    private Readout Indicated(IResistanceCurve law)
    {
        var converter = new Converter((int)ConverterBits, ReferenceKind == ConverterReference.Supply ? SupplyVoltage : ReferenceVoltage);
        var table = Designed.Table(law);
        return new Readout
        {
            Name = IndicatedName,
            Node = "adc",
            ReferenceNode = "0",
            Unit = "degC",
            Description = $"Temperature that the program looks up for the converter's code ({converter.Bits} bits, {TableEntries} entries).",
            Convert = volts => table.Temperature(converter.Code(volts)),
            TrueValue = Place == SensorPlace.Air ? null : Temperature,
        };
    }

    /// <summary>The table as whoever wrote the program made it.</summary>
    private LookupTable Table(IResistanceCurve law) => DividerTable.Of(
        law,
        Position,
        DividerResistance,
        Math.Pow(2, (int)ConverterBits) * (ReferenceKind == ConverterReference.Supply ? 1 : AssumedSupply / ReferenceVoltage),
        (int)TableEntries);
}
