namespace BoardSim.Measurement;

/// <summary>Largest and smallest values and crossings of a level.</summary>
public static class WaveformFeatures
{
    /// <summary>The largest value and when it is reached first.</summary>
    /// <param name="wave">The waveform.</param>
    public static Extreme Maximum(this Waveform wave) => Find(wave, static v => v);

    /// <summary>The smallest value and when it is reached first.</summary>
    /// <param name="wave">The waveform.</param>
    public static Extreme Minimum(this Waveform wave) => Find(wave, static v => -v);

    /// <summary>The value farthest from zero, with its sign, and when it is reached first.</summary>
    /// <param name="wave">The waveform.</param>
    public static Extreme Peak(this Waveform wave) => Find(wave, Math.Abs);

    /// <summary>Largest minus smallest value.</summary>
    /// <param name="wave">The waveform.</param>
    public static double PeakToPeak(this Waveform wave) => wave.Maximum().Value - wave.Minimum().Value;

    /// <summary>
    /// Passages through a level, in order. One counts when the curve comes to lie beyond the level after it lay on the other
    /// side, so touching the level and turning back is none; its instant is that at which the level was first reached.
    /// </summary>
    /// <param name="wave">The waveform.</param>
    /// <param name="level">The level in the waveform's unit.</param>
    /// <param name="edge">Direction that counts.</param>
    /// <param name="hysteresis">The curve must have been at least this far on the other side before (zero or more), which keeps ripple about the level from counting.</param>
    public static IReadOnlyList<Crossing> Crossings(this Waveform wave, double level, Edge edge = Edge.Either, double hysteresis = 0)
    {
        ArgumentNullException.ThrowIfNull(wave);
        ArgumentOutOfRangeException.ThrowIfNegative(hysteresis);
        var found = new List<Crossing>();
        var t = wave.Times;
        var v = wave.Values;
        // Which side counts as the last one visited: -1 below, +1 above, 0 not known yet.
        var side = 0;
        var reached = t[0];
        for (var i = 0; i < t.Length; i++)
        {
            var now = v[i] - level;
            var before = i > 0 ? v[i - 1] - level : now;
            if (side != 0 && before * side > 0 && now * side <= 0)
            {
                reached = t[i - 1] + (t[i] - t[i - 1]) * (before / (before - now));
            }

            if (side != 0 && now * side < 0)
            {
                var direction = side < 0 ? Edge.Rising : Edge.Falling;
                if (edge == Edge.Either || edge == direction)
                {
                    found.Add(new Crossing(reached, direction));
                }

                side = 0;
            }

            side = now < 0 && now <= -hysteresis ? -1 : now > 0 && now >= hysteresis ? 1 : side;
        }

        return found;
    }

    /// <summary>First passage through a level at or after an instant, or null.</summary>
    /// <param name="wave">The waveform.</param>
    /// <param name="level">The level in the waveform's unit.</param>
    /// <param name="edge">Direction that counts.</param>
    /// <param name="from">Start in seconds; null for the start of the waveform.</param>
    public static double? FirstCrossing(this Waveform wave, double level, Edge edge = Edge.Either, double? from = null)
    {
        ArgumentNullException.ThrowIfNull(wave);
        // A passage in progress at that very instant needs the stretch before it to be seen, hence no slicing.
        foreach (var crossing in wave.Crossings(level, edge))
        {
            if (from is not { } start || crossing.Time >= start)
            {
                return crossing.Time;
            }
        }

        return null;
    }

    private static Extreme Find(Waveform wave, Func<double, double> weight)
    {
        ArgumentNullException.ThrowIfNull(wave);
        var v = wave.Values;
        var (best, at) = (double.NegativeInfinity, 0);
        for (var i = 0; i < v.Length; i++)
        {
            var now = weight(v[i]);
            (best, at) = now > best ? (now, i) : (best, at);
        }

        return new Extreme(wave.Times[at], v[at]);
    }
}
