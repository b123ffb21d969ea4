using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>
/// Frequency and duty cycle: a comparator with hysteresis behind a bandwidth of its own. Without a threshold of its own the input is AC
/// coupled, so that the comparator switches at the mean, and ripple on a rail counts as well as a line; a pulse that is mostly low then
/// lies with its low level close to the threshold, which is what a set threshold is for.
/// </summary>
public sealed partial record Multimeter
{
    /// <summary>Level in volts at which frequency and duty count; null for an AC-coupled input, which counts at the mean.</summary>
    public double? CounterThreshold { get; init; }

    /// <summary>Half of the comparator's hysteresis in volts, zero or more: a voltage that does not go that far beyond the threshold on both sides is not
    /// seen; 50 mV (common practice, no source).</summary>
    public double CounterHysteresis { get; init; } = 0.05;

    /// <summary>Frequency of 3 dB loss of frequency and duty in hertz, one pole, positive; 5 MHz (common practice, no source).</summary>
    public double CounterBandwidth { get; init; } = 5e6;

    /// <summary>Full scales of the frequency ranges in hertz, rising.</summary>
    public IReadOnlyList<double> HertzRanges { get; init; } = [60, 600, 6e3, 60e3, 600e3, 6e6];

    /// <summary>Accuracy of the frequency function.</summary>
    public Accuracy HertzAccuracy { get; init; } = new(0.001, 1);

    /// <summary>Accuracy of the duty function.</summary>
    public Accuracy DutyAccuracy { get; init; } = new(0.01, 2);

    private InstrumentReading CountFrequency(Waveform wave)
    {
        var counted = Counted(wave);
        var rises = Rises(counted, Level(counted));
        if (rises.Count >= 2)
        {
            return Show(wave.Name, (rises.Count - 1) / (rises[^1].Time - rises[0].Time), 0, Unit.Hertz, HertzRanges, HertzAccuracy);
        }

        // Nothing to count is shown as no frequency, as a meter does.
        return Show(wave.Name, 0, 0, Unit.Hertz, HertzRanges, HertzAccuracy) with { Note = Unseen() };
    }

    private InstrumentReading CountDuty(Waveform wave)
    {
        var counted = Counted(wave);
        var level = Level(counted);
        var rises = Rises(counted, level);
        if (rises.Count < 2)
        {
            return new InstrumentReading
            {
                Instrument = Name,
                Function = FunctionName,
                TestPoint = wave.Name,
                Value = null,
                Unit = Unit.Percent,
                Display = "----",
                Note = Unseen(),
            };
        }

        var cycles = counted.Slice(rises[0].Time, rises[^1].Time);
        var range = DisplayRange.For(0.999, 999);
        var share = range.Round(cycles.TimeAbove(level) / cycles.Duration);
        return new InstrumentReading
        {
            Instrument = Name,
            Function = FunctionName,
            TestPoint = wave.Name,
            Value = share,
            Unit = Unit.Percent,
            Display = FormattableString.Invariant($"{100 * share:F1} %"),
            Uncertainty = DutyAccuracy.At(share, range.Resolution),
        };
    }

    private Waveform Counted(Waveform wave) => SinglePole.LowPass(wave, CounterBandwidth);

    private double Level(Waveform counted)
    {
        if (CounterThreshold is { } set)
        {
            return set;
        }

        // The coupling capacitor averages for much longer than the window, so a broken cycle at its ends must not count.
        var rough = counted.Mean();
        var rises = Rises(counted, rough);
        return rises.Count < 2 ? rough : counted.Slice(rises[0].Time, rises[^1].Time).Mean();
    }

    private IReadOnlyList<Crossing> Rises(Waveform counted, double level) => counted.Crossings(level, Edge.Rising, CounterHysteresis);

    private string Unseen() => CounterThreshold is { } level
        ? $"Fewer than two passages upwards through {Quantity.FormatShort(level, Unit.Volt)}: nothing to count."
        : "Fewer than two passages upwards through the mean: nothing to count.";
}
