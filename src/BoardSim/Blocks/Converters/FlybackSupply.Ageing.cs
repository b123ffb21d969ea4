using BoardSim.Ageing;

namespace BoardSim.Blocks.Converters;

/// <summary>What the capacitors of the supply age by: temperature, ripple current, rated life.</summary>
public sealed partial class FlybackSupply
{
    /// <summary>Thermal resistance of an output capacitor from core to air, in kelvin per watt.</summary>
    [Quantity("output.thermal-resistance", "K/W", 0.5, 500, "Thermal resistance of an output capacitor from core to air; ripple current heats it by that.")]
    public double OutputThermalResistance { get; set; } = 30;

    /// <summary>Rated life of an output capacitor, in seconds.</summary>
    [Quantity("output.rated-life", "h", 3600e2, 3600e6, "Rated endurance of an output capacitor at its rated temperature; 1000 to 10,000 h.")]
    public double OutputRatedLife { get; set; } = 3000 * 3600.0;

    /// <summary>Temperature that an output capacitor is rated for, in kelvin.</summary>
    [Quantity("output.rated-temperature", "degC", 333.15, 423.15, "Temperature that the endurance of the output capacitors is given for; 85 or 105 degC.")]
    public double OutputRatedTemperature { get; set; } = 378.15;

    /// <summary>RMS ripple current that each output capacitor ages under, in amperes; null for an estimate.</summary>
    [Quantity("output.ripple-current", "A", 0, 100, "RMS ripple current that each output capacitor has aged under in service; estimated from the bench's bulk voltage and load unless set.")]
    public double? OutputRippleCurrent { get; set; }

    /// <summary>Temperature of the capacitor of the controller's supply, in kelvin.</summary>
    [Quantity("vcc.temperature", "degC", 218.15, 398.15, "Temperature of the capacitor of the controller's supply, which stands beside the clamp; its series resistance follows it.")]
    public double VccTemperature { get; set; } = 298.15;

    /// <summary>Thermal resistance of that capacitor from core to air, in kelvin per watt.</summary>
    [Quantity("vcc.thermal-resistance", "K/W", 0.5, 500, "Thermal resistance of that capacitor from core to air.")]
    public double VccThermalResistance { get; set; } = 80;

    /// <summary>Rated life of that capacitor, in seconds.</summary>
    [Quantity("vcc.rated-life", "h", 3600e2, 3600e6, "Rated endurance of that capacitor at its rated temperature.")]
    public double VccRatedLife { get; set; } = 2000 * 3600.0;

    /// <summary>Temperature that it is rated for, in kelvin.</summary>
    [Quantity("vcc.rated-temperature", "degC", 333.15, 423.15, "Temperature that its endurance is given for; 85 or 105 degC.")]
    public double VccRatedTemperature { get; set; } = 378.15;

    /// <summary>RMS ripple current that it ages under, in amperes; null for an estimate.</summary>
    [Quantity("vcc.ripple-current", "A", 0, 10, "RMS ripple current that it has aged under in service; estimated from the controller's current unless set.")]
    public double? VccRippleCurrent { get; set; }

    private ElectrolyticRating OutputRating => new()
    {
        SeriesResistance = OutputEsr,
        Frequency = Frequency,
        Ambient = OutputTemperature,
        ThermalResistance = OutputThermalResistance,
        RatedLife = OutputRatedLife,
        RatedTemperature = OutputRatedTemperature,
    };

    private ElectrolyticRating VccRating => new()
    {
        SeriesResistance = VccEsr,
        Frequency = Frequency,
        Ambient = VccTemperature,
        ThermalResistance = VccThermalResistance,
        RatedLife = VccRatedLife,
        RatedTemperature = VccRatedTemperature,
    };

    /// <summary>Rail in volts that the divider sets.</summary>
    private double Rail => 2.5 * (1 + UpperResistance / LowerResistance);

    /// <summary>
    /// Share of the period in which the secondary conducts, without losses: on time by the energy that the load takes in each period, <c>(D Vin)^2 = 2 P L f</c>
    /// (discontinuous conduction), then balance of volt seconds; at most the off time of continuous conduction, Vin / (Vin + n V) (any textbook on converters).
    /// </summary>
    private double Conduction()
    {
        var reflected = Ratio * (Rail + 0.4);
        var energy = Math.Sqrt(2 * Rail * Rail / LoadResistance * PrimaryInductance * Frequency);
        return Math.Min(energy / reflected, InputVoltage / (InputVoltage + reflected));
    }

    /// <summary>Ripple current in amperes of each output capacitor: triangles whose mean is the load's current, shared by two.</summary>
    private double OutputRippleEstimate() => 0.5 * Rail / LoadResistance * Math.Sqrt(4 / (3 * Conduction()) - 1);

    /// <summary>Ripple current in amperes of the capacitor of the controller's supply: even pulses while the auxiliary winding conducts, its current in between.</summary>
    private double VccRippleEstimate()
    {
        var share = Conduction();
        return RunCurrent * Math.Sqrt((1 - share) / share);
    }
}
