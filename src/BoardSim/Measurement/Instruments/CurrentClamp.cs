using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>How a current clamp senses.</summary>
public enum ClampKind
{
    /// <summary>A current transformer: it passes no direct current and loses low frequencies.</summary>
    Transformer,

    /// <summary>A Hall sensor in the gap of the core: direct current as well, with an offset that has to be zeroed.</summary>
    Hall,
}

/// <summary>What a clamp meter's display shows.</summary>
public enum ClampFunction
{
    /// <summary>The mean.</summary>
    DcAmperes,

    /// <summary>True RMS of what is left without the mean.</summary>
    AcAmperesTrueRms,

    /// <summary>True RMS with the mean included.</summary>
    AcDcAmperesTrueRms,
}

/// <summary>
/// Current clamp around a conductor, as a meter (<see cref="Read"/>) or on an oscilloscope (<see cref="Pass"/>). What it puts into the
/// conductor, microhenries and less than a milliohm, is left out, and so is that a large direct current saturates a transformer's core
/// (values: common practice, no source).
/// </summary>
public sealed record CurrentClamp
{
    /// <summary>What tables call it.</summary>
    public string Name => Kind == ClampKind.Hall ? "Hall clamp" : "AC clamp";

    /// <summary>How it senses.</summary>
    public ClampKind Kind { get; init; } = ClampKind.Transformer;

    /// <summary>What its display shows; a transformer has no direct current to show.</summary>
    public ClampFunction Function { get; init; } = ClampFunction.AcAmperesTrueRms;

    /// <summary>Upper frequency of 3 dB loss in hertz, one pole, positive; 10 kHz.</summary>
    public double Bandwidth { get; init; } = 10e3;

    /// <summary>Lower frequency of 3 dB loss of a transformer in hertz, one pole, positive; 2 Hz.</summary>
    public double LowCorner { get; init; } = 2;

    /// <summary>What a Hall sensor shows without current, in amperes; zero when it has just been zeroed.</summary>
    public double Offset { get; init; }

    /// <summary>Offset in amperes, zero or more, that a Hall clamp may have drifted by since it was zeroed; part of the uncertainty.</summary>
    public double OffsetDrift { get; init; } = 0.05;

    /// <summary>Largest magnitude in amperes that it passes on, positive; what is beyond is cut off, and the display shows OL.</summary>
    public double Range { get; init; } = 40;

    /// <summary>Counts of the display, at least 100.</summary>
    public int Counts { get; init; } = 4000;

    /// <summary>Accuracy of the display within the bandwidth.</summary>
    public Accuracy Accuracy { get; init; } = new(0.02, 5);

    /// <summary>The function in words.</summary>
    public string FunctionName => Function switch
    {
        ClampFunction.DcAmperes => "DC amperes",
        ClampFunction.AcAmperesTrueRms => "AC amperes, true RMS",
        _ => "AC+DC amperes, true RMS",
    };

    /// <summary>What the clamp passes on of a current.</summary>
    /// <param name="wave">The current in amperes.</param>
    /// <param name="start">State at the start: settled on the first value for an event, on the repetition for a steady state.</param>
    public Waveform Pass(Waveform wave, FilterStart start = FilterStart.FirstValue)
    {
        ArgumentNullException.ThrowIfNull(wave);
        var passed = SinglePole.LowPass(wave, Bandwidth, start);
        passed = Kind == ClampKind.Hall ? passed.Scaled(1, Offset) : SinglePole.HighPass(passed, LowCorner, start);
        return Math.Abs(passed.Peak().Value) > Range ? passed.Clipped(-Range, Range) : passed;
    }

    /// <summary>What the display shows of a steady state; give it whole cycles.</summary>
    /// <param name="wave">The current in amperes, cut to the window.</param>
    /// <exception cref="InvalidOperationException">A transformer is asked for direct current.</exception>
    /// <exception cref="ArgumentException">The waveform is no current.</exception>
    public InstrumentReading Read(Waveform wave)
    {
        ArgumentNullException.ThrowIfNull(wave);
        if (Kind == ClampKind.Transformer && Function != ClampFunction.AcAmperesTrueRms)
        {
            throw new InvalidOperationException("A clamp with a current transformer shows alternating current alone; direct current takes a Hall sensor.");
        }

        if (wave.Unit != Unit.Ampere)
        {
            throw new ArgumentException($"A clamp reads a current; {wave.Name} is a {wave.Unit.Kind}.", nameof(wave));
        }

        var passed = Pass(wave, FilterStart.Periodic);
        var value = Function switch
        {
            ClampFunction.DcAmperes => passed.Mean(),
            ClampFunction.AcAmperesTrueRms => passed.AcRms(),
            _ => passed.Rms(),
        };
        var reading = new InstrumentReading { Instrument = Name, Function = FunctionName, TestPoint = wave.Name, Value = null, Unit = Unit.Ampere, Display = "OL" };
        var range = DisplayRange.For(Range, Counts);
        if (Math.Abs(passed.Peak().Value) >= Range || !range.Holds(value))
        {
            return reading with { IsOverload = true, Note = $"The current goes beyond the range of {Quantity.FormatShort(Range, Unit.Ampere)}." };
        }

        var shown = range.Round(value);
        var drift = Kind == ClampKind.Hall && Function != ClampFunction.AcAmperesTrueRms ? OffsetDrift : 0;
        return reading with { Value = shown, Display = range.Show(value, Unit.Ampere), Uncertainty = Accuracy.At(shown, range.Resolution) + drift };
    }
}
