using BoardSim.Boards;
using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Measurement;

namespace BoardSim.Scenarios.Running;

/// <summary>Where an instrument is connected.</summary>
/// <param name="Circuit">The circuit.</param>
/// <param name="Node">Node under the red lead, or the tip.</param>
/// <param name="Reference">Node under the black lead, or the clip.</param>
/// <param name="Earth">Node of protective earth; null when the board has none.</param>
/// <param name="Name">Name of the connection.</param>
internal sealed record Leads(Circuit Circuit, string Node, string Reference, string? Earth, string Name)
{
    /// <summary>Protective earth, which the reader has seen to be there.</summary>
    /// <exception cref="CircuitException">The board has none.</exception>
    public string EarthOr(string instrument) => Earth ?? throw new CircuitException($"{instrument}: the board has no protective earth that it could be bonded to.");
}

/// <summary>An instrument that is connected to a circuit.</summary>
internal abstract class Connection
{
    /// <summary>Name with what matters of it, for titles and tables.</summary>
    public abstract string Name { get; }

    /// <summary>The instrument of an observation; null when it has none.</summary>
    public static Connection? Make(ObservationSpec spec) => spec.Instrument switch
    {
        InstrumentKind.None => null,
        InstrumentKind.Oscilloscope => new ScopeConnection(spec),
        InstrumentKind.DifferentialProbe => new DifferentialConnection(Instruments.Differential(spec)),
        InstrumentKind.EsrMeter => new EsrConnection(Instruments.Esr(spec)),
        _ when InstrumentKinds.Clamps.Contains(spec.Instrument) => new ClampConnection(Instruments.Clamp(spec), spec.Instrument.ShowsNumber()),
        _ => new MeterConnection(Instruments.Meter(spec), spec.Settings.ConnectAt, spec.Settings.DisconnectAt),
    };

    /// <summary>Makes the instrument part of the circuit, at a point.</summary>
    /// <returns>Where the voltage is recorded that it draws or reads.</returns>
    public virtual Tap Attach(Leads leads) => throw new InvalidOperationException($"{Name} is not connected to a point.");

    /// <summary>Makes the instrument part of the circuit, at a current. A clamp goes around the wire and changes nothing.</summary>
    public virtual void Insert(Board board, string part)
    {
    }

    /// <summary>The waveform as the instrument draws it.</summary>
    public virtual Waveform Shape(Waveform wave) => wave;

    /// <summary>What the instrument shows; null when it draws and shows no number.</summary>
    /// <param name="wave">The stretch of the drawn waveform that is read.</param>
    /// <param name="whole">All of the waveform as it was recorded.</param>
    public virtual InstrumentReading? Read(Waveform wave, Waveform whole) => null;

    /// <summary>What an instrument with a current of its own shows at rest; null for the others.</summary>
    public virtual InstrumentReading? MeasureAtRest(Circuit circuit, string node, string reference, RunLimits limits) => null;
}
