namespace BoardSim.Engine.Circuits;

/// <summary>
/// A nonlinear device whose law binds one voltage to one current and one charge. It may be asked for that law alone and at
/// several voltages at once, which is much cheaper than <see cref="Device.Evaluate"/>; both must say the same, without limiting.
/// </summary>
internal interface IOnePort
{
    /// <summary>Index of the unknown at the law's positive side, not the ground.</summary>
    int Positive { get; }

    /// <summary>Index of the unknown at its negative side, 0 for the ground.</summary>
    int Negative { get; }

    /// <summary>1 when the law's voltage is counted from positive to negative, -1 when the other way round.</summary>
    int Direction { get; }

    /// <summary>The law at several voltages; all spans are of one length.</summary>
    /// <param name="volts">Voltages in volts.</param>
    /// <param name="gmin">Conductance in siemens that lies in parallel (<see cref="Loads.Gmin"/>).</param>
    /// <param name="law">Receives currents, charges and their slopes.</param>
    void Law(ReadOnlySpan<double> volts, double gmin, PortLaws law);
}

/// <summary>Where the values of several laws, or of one law at several voltages, go.</summary>
/// <param name="current">Currents in amperes into the positive side.</param>
/// <param name="conductance">Their slopes in siemens.</param>
/// <param name="charge">Charges in coulombs.</param>
/// <param name="capacitance">Their slopes in farads.</param>
internal readonly ref struct PortLaws(Span<double> current, Span<double> conductance, Span<double> charge, Span<double> capacitance)
{
    public readonly Span<double> Current = current;
    public readonly Span<double> Conductance = conductance;
    public readonly Span<double> Charge = charge;
    public readonly Span<double> Capacitance = capacitance;

    /// <summary>A part of all four.</summary>
    public PortLaws Slice(int from, int length) =>
        new(Current.Slice(from, length), Conductance.Slice(from, length), Charge.Slice(from, length), Capacitance.Slice(from, length));
}
