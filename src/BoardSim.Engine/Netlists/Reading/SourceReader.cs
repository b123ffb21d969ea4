using System.Numerics;
using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Netlists.Reading;

/// <summary>
/// Reads what follows the nodes of an independent source: DC value, AC phasor, waveform. Left-out values take Berkeley's
/// defaults, several of which are the step and stop of the <c>.tran</c> card; where Berkeley's sources take a written 0 for
/// "not given", so does this reader (SPICE3 User's Manual, section "Independent sources", and vsrcload; from memory).
/// </summary>
internal sealed class SourceReader(TransientCard? transient, Findings remarks)
{
    private static readonly string[] Words = ["DC", "AC", "SIN", "PULSE", "PWL", "EXP"];
    private static readonly string[] Refused = ["SFFM", "DISTOF1", "DISTOF2"];

    /// <summary>Reads up to the end of the card.</summary>
    public SourceValue Read(Card card)
    {
        double? dc = card.TryNumber(out var first) ? first : null;
        Complex? ac = null;
        SourceWaveform? waveform = null;
        while (!card.AtEnd)
        {
            var word = card.Next("a source word");
            switch (word.Text.ToUpperInvariant())
            {
                case "DC":
                    Once(dc is null, word);
                    dc = card.Number("the direct value");
                    break;
                case "AC":
                    Once(ac is null, word);
                    var magnitude = card.TryNumber(out var m) ? m : 1;
                    var degrees = card.TryNumber(out var p) ? p : 0;
                    ac = Phasor(magnitude, degrees);
                    break;
                case "SIN" or "PULSE" or "PWL" or "EXP":
                    Once(waveform is null, word);
                    waveform = Waveform(word, Numbers(card));
                    break;
                default:
                    throw Card.Fault(word, Refused.Contains(word.Text, StringComparer.OrdinalIgnoreCase)
                        ? $"{word.Text} is not supported; known are {string.Join(", ", Words)}."
                        : $"'{word.Text}' is no source word{Nearest.Hint(word.Text, Words)}; known are {string.Join(", ", Words)}.");
            }
        }

        return waveform is null
            ? new SourceValue(new DcWaveform(dc ?? 0), null, ac ?? Complex.Zero)
            : new SourceValue(waveform, dc, ac ?? Complex.Zero);
    }

    /// <summary>A phasor; a phase of a whole number of right angles leaves no rounding dust in the other part.</summary>
    private static Complex Phasor(double magnitude, double degrees) => (degrees % 360) switch
    {
        0 => new Complex(magnitude, 0),
        90 or -270 => new Complex(0, magnitude),
        180 or -180 => new Complex(-magnitude, 0),
        270 or -90 => new Complex(0, -magnitude),
        _ => Complex.FromPolarCoordinates(magnitude, degrees * (Math.PI / 180)),
    };

    private static void Once(bool isFirst, Token word)
    {
        if (!isFirst)
        {
            throw Card.Fault(word, $"'{word.Text}': the source has a value of this kind already.");
        }
    }

    private static List<(Token At, double Value)> Numbers(Card card)
    {
        var numbers = new List<(Token, double)>();
        while (!card.AtEnd && SpiceNumber.LooksLikeOne(card.Current.Text))
        {
            var at = card.Next("a number");
            numbers.Add((at, Card.Number(at, "a value of the waveform")));
        }

        return numbers;
    }

    private SourceWaveform Waveform(Token word, List<(Token At, double Value)> numbers)
    {
        var waveform = word.Text.ToUpperInvariant() switch
        {
            "SIN" => Sine(word, numbers),
            "PULSE" => Pulse(word, numbers),
            "EXP" => Exponential(word, numbers),
            _ => PiecewiseLinear(word, numbers),
        };
        foreach (var problem in waveform.Problems())
        {
            throw Card.Fault(word, $"{word.Text}: {problem}");
        }

        return waveform;
    }

    private SourceWaveform Sine(Token word, List<(Token At, double Value)> numbers)
    {
        const string Form = "SIN(offset amplitude [frequency [delay [damping]]])";
        Count(word, numbers, 2, 5, Form);
        var offset = numbers[0].Value;
        var frequency = Given(numbers, 2);
        if (frequency is null && transient is null)
        {
            return Constant(word, offset, "the frequency, by default one period in the time of the .tran card,");
        }

        var hertz = frequency ?? 1 / transient!.Stop;
        var (delay, damping, amplitude) = (Given(numbers, 3) ?? 0, Given(numbers, 4) ?? 0, numbers[1].Value);
        if (delay >= 0)
        {
            return new SineWaveform { Offset = offset, Amplitude = amplitude, Frequency = hertz, Delay = delay, Damping = damping };
        }

        // A sine that began before time zero: it has a phase by now, and its damping has been at work.
        return new SineWaveform
        {
            Offset = offset,
            Amplitude = amplitude * Math.Exp(damping * delay),
            Frequency = hertz,
            Damping = damping,
            PhaseDegrees = -360 * hertz * delay,
        };
    }

    private SourceWaveform Pulse(Token word, List<(Token At, double Value)> numbers)
    {
        const string Form = "PULSE(low high [delay [rise [fall [width [period]]]]])";
        Count(word, numbers, 2, 7, Form);
        if (transient is null && Enumerable.Range(3, 4).Any(k => Given(numbers, k) is null))
        {
            return Constant(word, numbers[0].Value, "a time, by default step or stop of the .tran card,");
        }

        return new PulseWaveform
        {
            Low = numbers[0].Value,
            High = numbers[1].Value,
            Delay = Given(numbers, 2) ?? 0,
            Rise = Given(numbers, 3) ?? transient!.Step,
            Fall = Given(numbers, 4) ?? transient!.Step,
            Width = Given(numbers, 5) ?? transient!.Stop,
            Period = Given(numbers, 6) ?? transient!.Stop,
        };
    }

    private SourceWaveform Exponential(Token word, List<(Token At, double Value)> numbers)
    {
        const string Form = "EXP(initial pulsed [rise delay [rise time constant [fall delay [fall time constant]]]])";
        Count(word, numbers, 2, 6, Form);
        if (transient is null && Enumerable.Range(3, 3).Any(k => Given(numbers, k) is null))
        {
            return Constant(word, numbers[0].Value, "a time, by default taken from the step of the .tran card,");
        }

        var rise = Given(numbers, 2) ?? 0;
        return new ExponentialWaveform
        {
            Initial = numbers[0].Value,
            Pulsed = numbers[1].Value,
            RiseDelay = rise,
            RiseTime = Given(numbers, 3) ?? transient!.Step,
            FallDelay = Given(numbers, 4) ?? rise + transient!.Step,
            FallTime = Given(numbers, 5) ?? transient!.Step,
        };
    }

    private static PiecewiseLinearWaveform PiecewiseLinear(Token word, List<(Token At, double Value)> numbers)
    {
        if (numbers.Count == 0 || numbers.Count % 2 != 0)
        {
            throw Card.Fault(word, $"PWL has {numbers.Count} numbers; the form is: PWL(time value [time value]...), in pairs.");
        }

        for (var k = 2; k < numbers.Count; k += 2)
        {
            if (!(numbers[k].Value > numbers[k - 2].Value))
            {
                throw Card.Fault(numbers[k].At, $"Time {numbers[k].At.Text} follows {numbers[k - 2].At.Text}; the times of a PWL must increase.");
            }
        }

        return new PiecewiseLinearWaveform(
            [.. numbers.Where((_, k) => k % 2 == 0).Select(n => n.Value)],
            [.. numbers.Where((_, k) => k % 2 == 1).Select(n => n.Value)]);
    }

    /// <summary>Without a .tran card only the value at time zero is ever asked for.</summary>
    private DcWaveform Constant(Token word, double value, string what)
    {
        remarks.Add(word.Finding($"{word.Text} leaves {what} to a default, but there is no .tran card; the source keeps its value at time zero."));
        return new DcWaveform(value);
    }

    private static void Count(Token word, List<(Token At, double Value)> numbers, int least, int most, string form)
    {
        if (numbers.Count < least)
        {
            throw Card.Fault(word, $"{word.Text} has {numbers.Count} value{(numbers.Count == 1 ? "" : "s")} and needs {least}; the form is: {form}.");
        }

        if (numbers.Count > most)
        {
            throw Card.Fault(numbers[most].At, $"'{numbers[most].At.Text}' is one value too many; the form is: {form}.");
        }
    }

    private static double? Given(List<(Token At, double Value)> numbers, int index) =>
        index < numbers.Count && numbers[index].Value != 0 ? numbers[index].Value : null;
}

/// <summary>What an independent source says.</summary>
/// <param name="Waveform">Value over time.</param>
/// <param name="Dc">Value for operating point and DC sweep where it was given beside a waveform.</param>
/// <param name="SmallSignal">Phasor of the small-signal analysis.</param>
internal readonly record struct SourceValue(SourceWaveform Waveform, double? Dc, Complex SmallSignal);
