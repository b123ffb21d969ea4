using BoardSim.Ageing;
using BoardSim.Quantities;

namespace BoardSim.Measurement;

/// <summary>Metrics of what a capacitor's ripple current does to it.</summary>
internal static class AgeingMetrics
{
    private const int Orders = 100;

    private static readonly MetricParameter[] Parameters =
    [
        Derived("frequency", Unit.Hertz, "Frequency that the ripple repeats with; that of the line, or else the switching frequency, unless given.", 1e-3),
        Derived("esr", Unit.Ohm, "Series resistance at 25 degC; that of the observed capacitor unless given.", 0),
        Derived("esr-frequency", Unit.Hertz, "Frequency that the series resistance is given at; that of the observed capacitor's rating, or else 120 Hz, unless given.", 1e-3),
        Derived("ambient", Unit.Temperature, "Temperature around the capacitor; that of the observed one unless given.", 218.15),
        Derived("thermal-resistance", Unit.KelvinPerWatt, "Thermal resistance from core to air; that of the observed capacitor unless given.", 0),
    ];

    public static IReadOnlyList<Metric> All { get; } =
    [
        new()
        {
            Id = "capacitor-core-temperature", Title = "Core temperature of a capacitor", Of = Unit.Ampere, Unit = Unit.Temperature,
            Definition = "Temperature of the air and what the ripple current heats: thermal resistance times the sum of each harmonic's I^2 ESR, with the series resistance at its frequency and at the core's temperature (makers' application notes on ripple current and life; the spread of ESR over frequency and temperature is a typical one).",
            Parameters = Parameters,
            Compute = input => Rating(input, out var why) is { } rating ? Core(input, rating) : MetricResult.None(why),
        },
        new()
        {
            Id = "expected-life", Title = "Expected life of a capacitor", Of = Unit.Ampere, Unit = Unit.Hour,
            Definition = "Rated life times 2^((T0 - T) / 10 K) with the core's temperature T (ten-degree rule: makers' application notes). The rated temperature is taken as the core's, which leaves a few kelvins of the rated ripple on the safe side; no factor for the voltage.",
            Parameters =
            [
                .. Parameters,
                Derived("rated-life", Unit.Hour, "Rated endurance; that of the observed capacitor unless given.", 1),
                Derived("rated-temperature", Unit.Temperature, "Temperature that it is rated for; that of the observed capacitor, or else 105 degC, unless given.", 273.15),
            ],
            Compute = input => Rating(input, out var why) is { } rating ? Life(input, rating) : MetricResult.None(why),
        },
        new()
        {
            Id = "life-at-temperature", Title = "Expected life at a run's temperatures", Of = Unit.Temperature, Unit = Unit.Hour,
            Definition = "Rated life over the mean of 2^((T - T0) / 10 K), T being the observed temperature, taken as the part's own: the ten-degree rule (makers' application notes) with the shares of life added up over time (Palmgren 1924 and Miner 1945, from memory).",
            Parameters =
            [
                new("rated-life", Unit.Hour, "Rated endurance.") { Source = ParameterSource.Required, Minimum = 1 },
                new("rated-temperature", Unit.Temperature, "Temperature that it is rated for.") { Source = ParameterSource.Required, Minimum = 273.15 },
            ],
            Compute = LifeAt,
        },
    ];

    /// <summary>Life at a temperature that goes up and down: each moment takes its share of the life at its own temperature (Miner's rule).</summary>
    private static MetricResult LifeAt(MetricInput input)
    {
        var (rated, top) = (input["rated-life"], input["rated-temperature"]);
        var t = input.Wave.Times;
        var kelvin = input.Wave.Values;
        var consumed = 0.0;
        for (var k = 1; k < t.Length; k++)
        {
            // The exact mean of the power along a straight line.
            var (from, to) = (Math.Pow(2, (kelvin[k - 1] - top) / TenDegrees), Math.Pow(2, (kelvin[k] - top) / TenDegrees));
            var rise = (kelvin[k] - kelvin[k - 1]) / TenDegrees * Math.Log(2);
            consumed += (t[k] - t[k - 1]) * (Math.Abs(rise) < 1e-6 ? (from + to) / 2 : (to - from) / rise);
        }

        return rated * input.Wave.Duration / consumed;
    }

    private const double TenDegrees = 10;

    private static MetricResult Life(MetricInput input, ElectrolyticRating rating)
    {
        if ((input.Optional("rated-life") ?? input.Capacitor?.RatedLife) is not { } rated)
        {
            return MetricResult.None("Expected life of a capacitor needs the parameter rated-life: the observed current is not that of a capacitor whose rating is known.");
        }

        var full = rating with { RatedLife = rated, RatedTemperature = input.Optional("rated-temperature") ?? rating.RatedTemperature };
        return Core(input, full).Then(core => full.LifeAt(core));
    }

    private static MetricResult Core(MetricInput input, ElectrolyticRating rating)
    {
        if ((input.Optional("frequency") ?? input.LineFrequency ?? input.SwitchingFrequency) is not { } frequency)
        {
            return MetricResult.None("Core temperature of a capacitor needs the parameter frequency: neither line nor switching frequency is known.");
        }

        if (HarmonicAnalysis.Of(input.Wave, frequency, Orders) is not { } harmonics)
        {
            return WholeCycles.TooShort(input.Wave, frequency);
        }

        var ripple = new List<(double Hertz, double Amperes)>();
        var square = 0.0;
        for (var order = 1; order <= Orders; order++)
        {
            var amperes = harmonics.Rms(order);
            ripple.Add((order * frequency, amperes));
            square += amperes * amperes;
        }

        // What lies above counts at the highest order: the series resistance hardly falls any more there.
        var whole = WholeCycles.Last(input.Wave, frequency)!.Value.Wave.AcRms();
        ripple.Add((Orders * frequency, Math.Sqrt(Math.Max(0, whole * whole - square))));
        return rating.CoreTemperature(ripple) ?? MetricResult.None("The ripple current heats the core beyond 125 degC; no capacitor lasts there.");
    }

    private static ElectrolyticRating? Rating(MetricInput input, out string why)
    {
        var known = input.Capacitor;
        var (esr, ambient, thermal) = (
            input.Optional("esr") ?? known?.SeriesResistance,
            input.Optional("ambient") ?? known?.Ambient,
            input.Optional("thermal-resistance") ?? known?.ThermalResistance);
        why = esr is null ? "esr" : ambient is null ? "ambient" : thermal is null ? "thermal-resistance" : "";
        if (why.Length > 0)
        {
            why = $"Core temperature of a capacitor needs the parameter {why}: the observed current is not that of a capacitor whose rating is known.";
            return null;
        }

        return new ElectrolyticRating
        {
            SeriesResistance = esr!.Value,
            Ambient = ambient!.Value,
            ThermalResistance = thermal!.Value,
            Frequency = input.Optional("esr-frequency") ?? known?.Frequency ?? ElectrolyticResistance.ReferenceFrequency,
            RatedTemperature = known?.RatedTemperature ?? 378.15,
        };
    }

    private static MetricParameter Derived(string key, Unit unit, string description, double minimum) =>
        new(key, unit, description) { Source = ParameterSource.Derived, Minimum = minimum };
}
