using BoardSim.Blocks.Thermistors;
using BoardSim.Engine.Devices;

namespace BoardSim.Blocks.Sensors;

public sealed partial class SensorInputs
{
    /// <summary>What whoever wrote the program went by.</summary>
    private SensorInputs Designed => Design as SensorInputs ?? this;

    /// <summary>Codes, temperatures and errors of all channels; the converter works with ratios, so its reference counts as one.</summary>
    private List<AnalogReading> Readings()
    {
        var converter = new Converter((int)ConverterBits, 1);
        var table = Designed.Table();
        var readings = new List<AnalogReading>();
        foreach (var n in Numbers)
        {
            var (input, truth) = (n - 1, Temperatures[n - 1]);
            readings.Add(new($"code-{n}", input, ratio => converter.Code(ratio)));
            readings.Add(new($"indicated-{n}", input, ratio => table.Temperature(converter.Code(ratio))));
            if (Place != SensorPlace.Air)
            {
                readings.Add(new($"error-{n}", input, ratio => table.Temperature(converter.Code(ratio)) - truth));
            }
        }

        return readings;
    }

    private LookupTable Table() => DividerTable.Of(
        new BetaCurve(R25, Beta),
        Position,
        DividerResistance,
        Math.Pow(2, (int)ConverterBits) * (ReferenceKind == SensorReference.Fixed ? SupplyVoltage / ReferenceVoltage : 1),
        (int)TableEntries);
}
