using BoardSim.Engine.Circuits;
using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Scenarios.Running;

/// <summary>An instrument that is connected to a circuit.</summary>
internal abstract class Connection
{
    /// <summary>Name with what matters of it, for titles and tables.</summary>
    public abstract string Name { get; }

    /// <summary>Connects the instrument of an observation; null when it has none.</summary>
    public static Connection? Make(Circuit circuit, ObservationSpec spec, string node, string reference)
    {
        Connection? connection = spec.Instrument switch
        {
            InstrumentKind.None => null,
            InstrumentKind.Oscilloscope => new ScopeConnection(new Oscilloscope { AcCoupled = spec.AcCoupled }),
            InstrumentKind.MultimeterDc => new MeterConnection(new Multimeter()),
            InstrumentKind.MultimeterAcTrueRms => new MeterConnection(new Multimeter { Function = MultimeterFunction.AcVoltsTrueRms }),
            InstrumentKind.MultimeterAcAverage => new MeterConnection(new Multimeter { Function = MultimeterFunction.AcVoltsAverage }),
            InstrumentKind.MultimeterLowImpedanceDc => new MeterConnection(new Multimeter { LowImpedance = true }),
            InstrumentKind.MultimeterLowImpedanceAc => new MeterConnection(new Multimeter { Function = MultimeterFunction.AcVoltsTrueRms, LowImpedance = true }),
            _ => throw new ArgumentOutOfRangeException(nameof(spec), spec.Instrument, "There is no such instrument."),
        };
        connection?.Attach(circuit, node, reference, $"_probe_{spec.Name}");
        return connection;
    }

    /// <summary>Makes the instrument part of the circuit.</summary>
    protected abstract void Attach(Circuit circuit, string node, string reference, string name);

    /// <summary>The waveform as the instrument draws it.</summary>
    public abstract Waveform Shape(Waveform wave);

    /// <summary>What the instrument shows; null when it draws and shows no number.</summary>
    public abstract InstrumentReading? Read(Waveform wave);
}

/// <summary>An oscilloscope with its probe.</summary>
internal sealed class ScopeConnection(Oscilloscope scope) : Connection
{
    public override string Name =>
        $"{scope.Name}, {Quantity.FormatShort(scope.Probe.Resistance, Unit.Ohm)} probe{(scope.AcCoupled ? ", AC coupled" : "")}";

    public override Waveform Shape(Waveform wave) => scope.Pass(wave);

    public override InstrumentReading? Read(Waveform wave) => null;

    protected override void Attach(Circuit circuit, string node, string reference, string name) => scope.Attach(circuit, node, reference, name);
}

/// <summary>A multimeter; its waveform is the one at its leads.</summary>
internal sealed class MeterConnection(Multimeter meter) : Connection
{
    public override string Name => $"{meter.Name}, {meter.FunctionName}";

    public override Waveform Shape(Waveform wave) => wave;

    public override InstrumentReading? Read(Waveform wave) => meter.Read(wave);

    protected override void Attach(Circuit circuit, string node, string reference, string name) => meter.Attach(circuit, node, reference, name);
}
