namespace BoardSim.Engine.Devices;

/// <summary>
/// Two-point control in a processor's program: the voltage at its analog input, as a ratio to the supply, switches heat on and off. With the
/// on-ratio above the off-ratio heat goes on when the ratio rises above it (a thermistor towards ground), otherwise when it falls below it.
/// </summary>
/// <param name="OnRatio">Ratio at which heat goes on, 0 to 1.</param>
/// <param name="OffRatio">Ratio at which it goes off, 0 to 1, another one.</param>
/// <param name="Sampling">Program time in seconds between two looks at the input, positive.</param>
public sealed record Thermostat(double OnRatio, double OffRatio, double Sampling)
{
    internal string? Problem =>
        !(OnRatio is >= 0 and <= 1 && OffRatio is >= 0 and <= 1 && OnRatio != OffRatio) ? $"thermostat on at {OnRatio} and off at {OffRatio}; they must lie within 0 and 1 and differ."
        : !(Sampling > 0 && double.IsFinite(Sampling)) ? $"thermostat samples every {Sampling} s; it must be positive and finite."
        : null;

    /// <summary>Zero or more when the input asks for the other state than the present one; in volts.</summary>
    internal double Urge(bool heat, double input, double supply)
    {
        var sign = OnRatio > OffRatio ? 1 : -1;
        return heat ? sign * (OffRatio * supply - input) : sign * (input - OnRatio * supply);
    }
}
