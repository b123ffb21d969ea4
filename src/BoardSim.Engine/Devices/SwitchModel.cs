namespace BoardSim.Engine.Devices;

/// <summary>Parameters of a switch with hysteresis, shared by all switches of one model. Letters as in Berkeley SPICE's models SW and CSW.</summary>
public sealed record SwitchModel
{
    /// <summary>Resistance RON in ohms when on, positive.</summary>
    public double OnResistance { get; init; } = 1;

    /// <summary>Resistance ROFF in ohms when off, positive and finite.</summary>
    public double OffResistance { get; init; } = 1e12;

    /// <summary>Threshold VT in volts or IT in amperes: the middle of the hysteresis band.</summary>
    public double Threshold { get; init; }

    /// <summary>Half the width of the hysteresis band, VH in volts or IH in amperes; its sign does not matter.</summary>
    public double Hysteresis { get; init; }

    /// <summary>
    /// Half the width that is used: a band of no width at all would leave a switch that has just turned without a state, so a
    /// millionth of threshold and unit is the least.
    /// </summary>
    internal double Band => Math.Max(Math.Abs(Hysteresis), 1e-6 * Math.Abs(Threshold) + Least);

    // Small against any current or voltage that is switched on purpose, large against rounding.
    private const double Least = 1e-9;

    internal IEnumerable<string> Problems(string name)
    {
        if (!(OnResistance > 0 && double.IsFinite(OnResistance)))
        {
            yield return $"{name}: on resistance {OnResistance} ohm; it must be positive and finite.";
        }

        if (!(OffResistance > 0 && double.IsFinite(OffResistance)))
        {
            yield return $"{name}: off resistance {OffResistance} ohm; it must be positive and finite.";
        }

        if (!(double.IsFinite(Threshold) && double.IsFinite(Hysteresis)))
        {
            yield return $"{name}: threshold {Threshold} with hysteresis {Hysteresis}; both must be finite.";
        }
    }
}
