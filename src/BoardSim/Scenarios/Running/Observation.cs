using BoardSim.Ageing;
using BoardSim.Measurement;
using BoardSim.Quantities;

namespace BoardSim.Scenarios.Running;

/// <summary>What an observation gave in one computation.</summary>
internal sealed class Observation
{
    private readonly Observed set;
    private readonly double[] times;
    private readonly double[] values;
    private readonly Waveform? recorded;
    private readonly InstrumentReading? shown;

    public Observation(ObservationSpec spec, Observed set, double[] times, double[] values)
    {
        (Spec, this.set, this.times) = (spec, set, times);
        this.values = set.Convert is { } convert ? Array.ConvertAll(values, v => convert(v)) : values;

        // A readout may have no number to show (an ohmmeter on an open circuit); a waveform cannot.
        Wave = this.values.All(double.IsFinite) ? new Waveform(spec.Label, set.Unit, times, this.values) : null;
        recorded = Wave;
        if (Wave is not null && times.Length > 1 && set.Instrument is { } instrument)
        {
            Wave = instrument.Shape(Wave);
            (this.times, this.values) = (Wave.Times.ToArray(), Wave.Values.ToArray());
        }
    }

    /// <summary>An observation that was made by itself at rest: what the display showed.</summary>
    public Observation(ObservationSpec spec, Observed set, InstrumentReading shown)
        : this(spec, set, [0], [shown.Value ?? double.NaN]) => this.shown = shown;

    public ObservationSpec Spec { get; }

    public SignalInfo Signal => set.Signal;

    public string Node => set.Node;

    public Unit Unit => set.Unit;

    /// <summary>The capacitor whose current it is; null for anything else.</summary>
    public ElectrolyticRating? Capacitor => set.Capacitor;

    public double Start => times[0];

    public double Stop => times[^1];

    /// <summary>The waveform as the instrument draws it; null when some of it is no number.</summary>
    public Waveform? Wave { get; }

    public SignalTrace ToTrace() =>
        new(Signal, times, Array.ConvertAll(values, v => double.IsFinite(v) ? set.Unit.Shown(v) : double.NaN));

    /// <summary>The reading over a stretch of the waveform.</summary>
    /// <param name="stretch">The stretch; null when some of the waveform is no number.</param>
    public Reading Read(Waveform? stretch)
    {
        if (shown is not null)
        {
            return Reading(shown);
        }

        if (stretch is null)
        {
            return Reading(double.NaN, "OL");
        }

        if (set.Instrument?.Read(stretch, recorded!) is { } reading)
        {
            return Reading(reading);
        }

        var mean = stretch.Mean();
        return Reading(set.Unit.Shown(mean), set.Unit.Display(mean));
    }

    private Reading Reading(InstrumentReading reading) =>
        Reading(reading.Value is { } number ? reading.Unit.Shown(number) : double.NaN, reading.Display) with
        {
            Unit = reading.Unit.Symbol,
            Uncertainty = reading.Uncertainty,
            Note = reading.Note,
        };

    private Reading Reading(double value, string display) => new()
    {
        Name = Signal.Name,
        Label = Signal.Label,
        Value = value,
        Unit = Signal.Unit,
        Display = display,
        Signal = Signal,
    };
}
