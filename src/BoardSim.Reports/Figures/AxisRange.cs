namespace BoardSim.Reports.Figures;

/// <summary>The visible part of one axis: its ends in SI units, how numbers are printed on it, and where a value lies.</summary>
/// <param name="Low">Lower end in SI units.</param>
/// <param name="High">Upper end in SI units, above the lower one.</param>
/// <param name="Logarithmic">True for decades.</param>
/// <param name="Unit">Unit symbol without prefix.</param>
/// <param name="Quantity">Name of the quantity.</param>
/// <param name="MayShift">True when numbers may be printed relative to the lower end, as for a short look late in time.</param>
internal sealed record AxisRange(double Low, double High, bool Logarithmic, string Unit, string Quantity, bool MayShift)
{
    /// <summary>What is subtracted before printing: nonzero when the window is short and far from zero.</summary>
    public double Shift => MayShift && !Logarithmic && Low > 0 && (High - Low) * 25 < Low ? Low : 0;

    // Over more than four decades the prefix of the middle keeps both ends readable: 0.01 kHz and 1000 kHz, not 0.00001 MHz.
    private const double ManyDecades = 1e4;

    // Nobody reads a night in kiloseconds.
    private const double LongRun = 600;

    private (double Factor, string Symbol) InClockUnits => (High - Low) switch
    {
        < 3 * 3600 => (60, "min"),
        < 10 * 86_400 => (3600, "h"),
        _ => (86_400, "days"),
    };

    /// <summary>Factor and prefixed symbol for printing.</summary>
    public (double Factor, string Symbol) Scale => Unit == "s" && !Logarithmic && High - Low >= LongRun ? InClockUnits : Engineering.Scale(
        Logarithmic ? (High > ManyDecades * Low ? Math.Sqrt(Low * High) : High) : Math.Max(Math.Abs(Low - Shift), Math.Abs(High - Shift)), Unit);

    /// <summary>The axis label, e.g. "Time (ms)" or "Time after 120 ms (µs)".</summary>
    public string Label
    {
        get
        {
            var name = Shift == 0 ? Quantity : $"{Quantity} after {Engineering.Short(Shift, Unit)}";
            var symbol = Scale.Symbol;
            return symbol.Length == 0 ? name : $"{name} ({symbol})";
        }
    }

    /// <summary>The range with a share of its length added at both ends, so that markers there are drawn whole.</summary>
    public AxisRange Widened(double share) => Logarithmic
        ? this with { Low = Low / Math.Pow(High / Low, share), High = High * Math.Pow(High / Low, share) }
        : this with { Low = Low - (share * (High - Low)), High = High + (share * (High - Low)) };

    /// <summary>Position along the axis, 0 at the lower end and 1 at the upper.</summary>
    public double Position(double value) => Logarithmic
        ? Math.Log(value / Low) / Math.Log(High / Low)
        : (value - Low) / (High - Low);

    /// <summary>
    /// Takes the range from the axis and the data: a margin all round for values, none for positions; zero is shown when the
    /// data come near it, so that a height is not exaggerated by accident.
    /// </summary>
    public static AxisRange From(FigureAxis axis, IEnumerable<double> data, bool vertical)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        foreach (var value in data)
        {
            if (!double.IsFinite(value) || (axis.Logarithmic && value <= 0))
                continue;
            low = Math.Min(low, value);
            high = Math.Max(high, value);
        }

        if (low > high)
            (low, high) = axis.Logarithmic ? (1, 10) : (0, 1);
        if (axis.Logarithmic)
        {
            if (high / low < 1.0001)
                (low, high) = (low / 2, high * 2);
            var pad = vertical ? Math.Pow(high / low, 0.06) : 1;
            (low, high) = (low / pad, high * pad);
        }
        else if (vertical)
        {
            var span = high - low;
            var size = Math.Max(Math.Abs(high), Math.Abs(low));
            if (span <= size * 1e-6)
                (low, high) = size == 0 ? (-1, 1) : (low - (size * 0.1), high + (size * 0.1));
            else
                (low, high) = (Padded(low, -span, size), Padded(high, span, size));
        }
        else if (high <= low)
        {
            (low, high) = (low - 0.5, high + 0.5);
        }

        low = axis.Minimum ?? low;
        high = axis.Maximum ?? high;
        if (!(high > low) || (axis.Logarithmic && low <= 0))
            throw new ReportException(
                $"The axis '{axis.Quantity}' would run from {low:R} to {high:R}; its maximum must lie above its minimum"
                + (axis.Logarithmic ? " and a logarithmic axis must start above zero." : "."));
        return new AxisRange(low, high, axis.Logarithmic, axis.Unit, axis.Quantity, !vertical);
    }

    // An end that lies on the far side of zero keeps its margin; one that comes near zero is drawn down to it.
    private static double Padded(double end, double outward, double size)
    {
        var padded = end + (0.07 * outward);
        var towardsZero = Math.Sign(end) != Math.Sign(outward) && end != 0;
        return towardsZero && Math.Abs(end) < 0.4 * size ? -0.03 * Math.Sign(end) * size : padded;
    }
}
