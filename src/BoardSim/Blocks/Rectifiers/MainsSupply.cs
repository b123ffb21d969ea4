namespace BoardSim.Blocks.Rectifiers;

/// <summary>Nominal mains supply (IEC 60038).</summary>
public enum MainsSupply
{
    /// <summary>120 V, 60 Hz.</summary>
    Mains120V,

    /// <summary>230 V, 50 Hz.</summary>
    Mains230V,
}

/// <summary>How the four diodes and the bulk capacitance are wired.</summary>
public enum RectifierArrangement
{
    /// <summary>Full-wave bridge into one capacitor.</summary>
    Bridge,

    /// <summary>Two capacitors in series with their middle linked to neutral: twice the line's peak, as behind a voltage selector
    /// set to 120 V. Each half-wave charges one of them.</summary>
    Doubler,
}

/// <summary>What keeps the first charging current down.</summary>
public enum InrushLimiter
{
    /// <summary>NTC thermistor: high when cold, low once its own loss has heated it.</summary>
    Ntc,

    /// <summary>Fixed series resistor.</summary>
    Resistor,

    /// <summary>Nothing but a link.</summary>
    None,
}

/// <summary>What the bulk capacitor feeds.</summary>
public enum BulkLoad
{
    /// <summary>A converter: constant power down to the voltage where it stops.</summary>
    ConstantPower,

    /// <summary>A resistor.</summary>
    Resistor,
}
