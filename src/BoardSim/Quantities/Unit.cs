namespace BoardSim.Quantities;

/// <summary>
/// A unit that a value may be asked in. Values are held in SI units, with two habits of the trade kept: an angle is held in
/// degrees, and a percentage as a plain fraction (10 % is 0.1). Compare units by reference.
/// </summary>
public sealed class Unit
{
    private Unit(string symbol, string kind, string example, string display, params UnitSpelling[] spellings)
    {
        (Symbol, Kind, Example, DisplayPrefixes, Spellings) = (symbol, kind, example, display, spellings);
    }

    /// <summary>Resistance in ohms. Also read as an IEC 60062 letter code: 4k7, R47, 4L7 (milliohms).</summary>
    public static Unit Ohm { get; } = new("ohm", "resistance", "4k7 or 4.7 kohm", "um kMGT", Many("numkKMGT", "ohm", "Ohm", "ohms", "Ohms")) { Letters = "LRKkMGT" };

    /// <summary>Voltage in volts. Also read with the letter V as decimal point: 3V3.</summary>
    public static Unit Volt { get; } = new("V", "voltage", "5.1 V or 170 mV", "pnum kM", Many("pnumkM", "V", "volt", "volts")) { Letters = "V" };

    /// <summary>Current in amperes.</summary>
    public static Unit Ampere { get; } = new("A", "current", "1.5 A or 20 mA", "fpnum k", Many("fpnumk", "A", "ampere", "amperes"));

    /// <summary>Capacitance in farads. Also read as an IEC 60062 letter code: 4n7, 470u.</summary>
    public static Unit Farad { get; } = new("F", "capacitance", "470 uF or 4n7", "fpnum ", Many("fpnum", "F", "farad", "farads")) { Letters = "pnumF" };

    /// <summary>Inductance in henries. Also read as a letter code: 4u7.</summary>
    public static Unit Henry { get; } = new("H", "inductance", "1.5 mH or 4u7", "pnum ", Many("pnum", "H", "henry", "henries")) { Letters = "pnumH" };

    /// <summary>Time in seconds; min, h, days and years (of 365.25 days) are read as well.</summary>
    public static Unit Second { get; } = new("s", "time", "20 ms", "fpnum ", [.. Many("fpnum", "s", "second", "seconds"), new("min", 0, 60), new("h", 0, 3600), new("days", 0, 86_400), new("years", 0, 31_557_600)]);

    /// <summary>Life of a part, held in seconds, shown in hours as data sheets do; days and years are read as well.</summary>
    public static Unit Hour { get; } = new("h", "life in hours", "2000 h", "", [new("h", 0, 3600), new("hours", 0, 3600), new("days", 0, 86_400), new("years", 0, 31_557_600)]) { ShownFactor = 3600 };

    /// <summary>Time in service, held in seconds, shown in years (of 365.25 days); days and h are read as well.</summary>
    public static Unit Year { get; } = new("years", "time in service", "8 years", "", [new("years", 0, 31_557_600), new("h", 0, 3600), new("days", 0, 86_400)]) { ShownFactor = 31_557_600 };

    /// <summary>Frequency in hertz.</summary>
    public static Unit Hertz { get; } = new("Hz", "frequency", "60 Hz or 65 kHz", "m kMG", Many("mkMG", "Hz", "hertz"));

    /// <summary>Real power in watts.</summary>
    public static Unit Watt { get; } = new("W", "power", "15 W or 250 mW", "pnum kM", Many("pnumkM", "W", "watt", "watts"));

    /// <summary>Apparent power in volt-amperes.</summary>
    public static Unit VoltAmpere { get; } = new("VA", "apparent power", "40 VA", "num kM", Many("numkM", "VA"));

    /// <summary>Energy in joules.</summary>
    public static Unit Joule { get; } = new("J", "energy", "5.3 J or 20 mJ", "pnum k", Many("pnumk", "J", "joule", "joules"));

    /// <summary>Absolute temperature, held in kelvin, shown in degrees Celsius; not below absolute zero.</summary>
    public static Unit Temperature { get; } = new("degC", "temperature", "40 degC or 313 K", "", [new("degC", 0, 1, 273.15), new("K"), new("kelvin")]) { Offset = 273.15, Lowest = 0 };

    /// <summary>Difference of temperatures, or a material constant such as the beta of a thermistor, in kelvin. Degrees Celsius are refused, since they name a point on the scale.</summary>
    public static Unit Kelvin { get; } = new("K", "temperature difference or constant in kelvin", "3977 K", "", [new("K"), new("kelvin")]);

    /// <summary>Share of a whole, held as a fraction: 10 % is 0.1. The sign must be written.</summary>
    public static Unit Percent { get; } = new("%", "percentage", "10 %", "", [new("%", -2), new("percent", -2), new("ppm", -6)]) { ShownPower = -2 };

    /// <summary>Ratio or plain number: 0.8, 80 % or 50 ppm.</summary>
    public static Unit Ratio { get; } = new("", "ratio", "0.8 or 80 %", "", [new(""), new("%", -2), new("percent", -2), new("ppm", -6)]);

    /// <summary>Angle, held in degrees.</summary>
    public static Unit Degree { get; } = new("deg", "angle", "30 deg", "", [new("deg"), new("degrees")]);

    /// <summary>Integral of the square of a current, in ampere squared seconds (melting I2t of a fuse, let-through of a surge).</summary>
    public static Unit AmpereSquaredSecond { get; } = new("A2s", "I2t", "3.7 A2s", "", [new("A2s"), new("A^2s"), new("A2.s"), new("A^2.s")]);

    /// <summary>Slope of a voltage in volts per second.</summary>
    public static Unit VoltPerSecond { get; } = new("V/s", "voltage slope", "0.5 V/us", "m kMG", [Slope("V/s", 0), Slope("V/ms", 3), Slope("V/us", 6), Slope("V/ns", 9)]);

    /// <summary>Slope of a current in amperes per second.</summary>
    public static Unit AmperePerSecond { get; } = new("A/s", "current slope", "20 A/us", "m kMG", [Slope("A/s", 0), Slope("A/ms", 3), Slope("A/us", 6), Slope("A/ns", 9)]);

    /// <summary>Thermal conductance (dissipation factor of a thermistor) in watts per kelvin.</summary>
    public static Unit WattPerKelvin { get; } = new("W/K", "thermal conductance", "7 mW/K", "um k", Many("umk", "W/K", "W/degC"));

    /// <summary>Heat capacity in joules per kelvin.</summary>
    public static Unit JoulePerKelvin { get; } = new("J/K", "heat capacity", "0.5 J/K", "um k", Many("umk", "J/K", "J/degC"));

    /// <summary>Thermal resistance in kelvin per watt.</summary>
    public static Unit KelvinPerWatt { get; } = new("K/W", "thermal resistance", "60 K/W", "m k", Many("mk", "K/W", "degC/W"));

    /// <summary>Temperature coefficient per kelvin; %/K and ppm/K are read as well.</summary>
    public static Unit PerKelvin { get; } = new("1/K", "temperature coefficient", "0.00393 1/K or 100 ppm/K", "", [new("1/K"), new("/K"), new("%/K", -2), new("ppm/K", -6)]);

    /// <summary>Conductance or transconductance in siemens.</summary>
    public static Unit Siemens { get; } = new("S", "conductance", "2 mS", "pnum k", Many("pnumk", "S", "siemens"));

    /// <summary>Speed of rotation, held in radians per second, shown in revolutions per minute.</summary>
    public static Unit Rpm { get; } = new("rpm", "speed of rotation", "2600 rpm or 40 rad/s", "", [new("rpm", 0, Math.PI / 30), new("rad/s")]) { ShownFactor = Math.PI / 30 };

    /// <summary>Torque in newton metres.</summary>
    public static Unit NewtonMetre { get; } = new("Nm", "torque", "8 mNm", "num k", Many("numk", "Nm", "N.m"));

    /// <summary>Moment of inertia in kilogram square metres.</summary>
    public static Unit KilogramSquareMetre { get; } = new("kgm2", "moment of inertia", "2e-6 kgm2", "", [new("kgm2"), new("kg.m2"), new("gcm2", -7)]);

    /// <summary>Viscous drag in newton metres per radian per second.</summary>
    public static Unit NewtonMetreSecond { get; } = new("Nms", "viscous drag", "2 uNms", "pnum ", Many("pnum", "Nms", "N.m.s"));

    /// <summary>Constant of a motor: volts per radian per second, which is the same number of newton metres per ampere.</summary>
    public static Unit VoltSecond { get; } = new("Vs", "motor constant or flux linkage", "20 mVs", "num ", Many("num", "Vs", "V.s", "Nm/A"));

    /// <summary>Force in newtons.</summary>
    public static Unit Newton { get; } = new("N", "force", "1.5 N", "um k", Many("umk", "N", "newton", "newtons"));

    /// <summary>Length in metres.</summary>
    public static Unit Metre { get; } = new("m", "length", "4 mm", "num k", Many("numk", "m", "metre", "metres"));

    /// <summary>Mass, held in kilograms, shown in grams.</summary>
    public static Unit Gram { get; } = new("g", "mass", "12 g", "", [new("g", -3), new("kg"), new("mg", -6)]) { ShownFactor = 1e-3 };

    /// <summary>Level in decibels, of voltages or currents unless said otherwise.</summary>
    public static Unit Decibel { get; } = new("dB", "level", "40 dB", "", [new("dB")]);

    /// <summary>Symbol rate of a serial link in baud.</summary>
    public static Unit Baud { get; } = new("Bd", "symbol rate", "9600 Bd", " k", Many("kM", "Bd", "baud"));

    /// <summary>All units.</summary>
    public static IReadOnlyList<Unit> All { get; } =
    [
        Ohm, Volt, Ampere, Farad, Henry, Second, Hour, Year, Hertz, Watt, VoltAmpere, Joule, Temperature, Kelvin, Percent, Ratio, Degree,
        AmpereSquaredSecond, VoltPerSecond, AmperePerSecond, WattPerKelvin, JoulePerKelvin, KelvinPerWatt, PerKelvin,
        Siemens, Rpm, NewtonMetre, KilogramSquareMetre, NewtonMetreSecond, VoltSecond, Newton, Metre, Gram, Decibel, Baud,
    ];

    /// <summary>Symbol in plain characters, as shown after a number; empty for a ratio.</summary>
    public string Symbol { get; }

    /// <summary>What the unit measures, in words.</summary>
    public string Kind { get; }

    /// <summary>Examples of a well-formed value, for messages.</summary>
    public string Example { get; }

    /// <summary>Every spelling that is read, without prefixes; the first one is the symbol. <c>µ</c>, the omega and degree signs and a superscript two are read as <c>u</c>, <c>ohm</c>, <c>deg</c> and <c>2</c>.</summary>
    public IEnumerable<string> Names => Spellings.Select(spelling => spelling.Text);

    internal IReadOnlyList<UnitSpelling> Spellings { get; }

    /// <summary>Letters that may stand for the decimal point when the unit is left out; empty for none.</summary>
    internal string Letters { get; private init; } = "";

    /// <summary>Prefixes to show a value with; a blank stands for none.</summary>
    internal string DisplayPrefixes { get; }

    internal double Offset { get; private init; }

    internal int ShownPower { get; private init; }

    internal double ShownFactor { get; private init; } = 1;

    internal double Lowest { get; private init; } = double.NegativeInfinity;

    /// <summary>The unit of a symbol as <see cref="Symbol"/> has it, or null.</summary>
    /// <param name="symbol">Case-sensitive; empty for a ratio.</param>
    public static Unit? Find(string symbol) => All.FirstOrDefault(unit => unit.Symbol == symbol);

    /// <inheritdoc/>
    public override string ToString() => Symbol.Length > 0 ? Symbol : "1";

    private static UnitSpelling[] Many(string prefixes, params string[] texts) => [.. texts.Select(text => new UnitSpelling(text, Prefixes: prefixes))];

    private static UnitSpelling Slope(string text, int power) => new(text, power, Prefixes: "mkM");
}
