using BoardSim.Ageing;
using BoardSim.Blocks.Rectifiers;
using BoardSim.Boards;
using BoardSim.Engine.Devices;
using BoardSim.Faults;
using BoardSim.Measurement;
using BoardSim.Quantities;
using BoardSim.Tests.Blocks;
using BoardSim.Tests.Measurement;

namespace BoardSim.Tests.Ageing;

/// <summary>Heating and life of electrolytic capacitors against makers' tables and examples.</summary>
public class ServiceLifeTests
{
    private const double Hour = 3600;

    // TDK, primer on electrolytic capacitors, example of the ten-degree rule: 2000 h at 105 degC are 4000 h at 95, 8000 h at 85 and 32,000 h at 65 degC.
    [Theory]
    [InlineData(95, 4000)]
    [InlineData(85, 8000)]
    [InlineData(65, 32000)]
    public void Life_doubles_for_every_ten_degrees_as_in_the_makers_example(double celsius, double hours)
    {
        var idle = Sampled.Cycles(_ => 0, 60, 2, unit: Unit.Ampere);
        var life = Take.Value("expected-life", idle, ("frequency", 60), ("esr", 0.2), ("ambient", 273.15 + celsius), ("thermal-resistance", 20), ("rated-life", 2000 * Hour));
        Near.Relative(hours * Hour, life, 1e-6);
        Near.Relative(1, ServiceLife.Consumed(Rating(0.2, 273.15 + celsius), [(120, 0)], hours * Hour), 1e-6);
    }

    // Loss times thermal resistance (BHC's notes on ripple current, P = I^2 ESR): 1 A through 0.5 ohm with 20 K/W is 10 K, at the temperature and the frequency that the resistance is given for.
    [Fact]
    public void Ripple_heats_the_core_by_loss_times_thermal_resistance()
    {
        var wave = Sampled.Cycles(x => Math.Sqrt(2) * Math.Sin(2 * Math.PI * x), 120, 3, unit: Unit.Ampere);
        Near.Absolute(298.15, Take.Value("capacitor-core-temperature", wave, ("frequency", 120), ("esr", 0.5), ("ambient", 288.15), ("thermal-resistance", 20)), 0.01);
    }

    // Ripple current multipliers of a maker's application data for aluminium electrolytics (GE Capacitor, tables AP1; over its nine series): 0.92 to 0.97 at 100 Hz, 1 at 120 Hz, 1.04 to 1.15 at
    // 400 Hz, 1.06 to 1.40 at 10 to 20 kHz. The same heat at another frequency: the multiplier is the root of the inverse of the resistances' ratio.
    [Theory]
    [InlineData(100, 0.92, 0.98)]
    [InlineData(120, 1, 1)]
    [InlineData(400, 1.04, 1.15)]
    [InlineData(20e3, 1.06, 1.40)]
    public void Frequency_multipliers_lie_within_a_makers_table(double hertz, double least, double most) =>
        Assert.InRange(Math.Round(1 / Math.Sqrt(ElectrolyticResistance.Factor(298.15, hertz)), 12), least, most);

    // Same maker, table AP2, parts for 85 degC whose core may reach 95 degC: 1.4 times the ripple current at 75 degC, 1.7 at 65, 2.0 at 55, 2.3 at 45 degC. The core
    // reaches its limit somewhere within the table's step of 0.1.
    [Theory]
    [InlineData(75, 1.4)]
    [InlineData(65, 1.7)]
    [InlineData(55, 2.0)]
    [InlineData(45, 2.3)]
    public void Temperature_multipliers_of_a_makers_table_lead_to_the_same_core(double celsius, double multiplier)
    {
        // The current that heats by 10 K at 85 degC.
        var (hot, thermal) = (Rating(0.2, 358.15), 20);
        var amperes = Math.Sqrt(10 / (thermal * hot.ResistanceAt(368.15, 120)));
        Near.Absolute(368.15, hot.CoreTemperature([(120, amperes)])!.Value, 0.01);
        var rating = Rating(0.2, 273.15 + celsius);
        Assert.True(rating.CoreTemperature([(120, (multiplier - 0.1) * amperes)]) < 368.15);
        Assert.True(rating.CoreTemperature([(120, (multiplier + 0.1) * amperes)]) > 368.15);
    }

    // Cornell Dubilier, application guide, ESR: loss of the oxide falls with the frequency down to a constant rest; cold it rises by 10 to 100 times at -40 degC.
    [Fact]
    public void Resistance_falls_with_frequency_to_a_constant_rest_that_temperature_rules()
    {
        var factors = new[] { 50.0, 120, 1e3, 10e3, 100e3 }.Select(f => ElectrolyticResistance.Factor(298.15, f)).ToArray();
        Assert.Equal(factors.OrderDescending(), factors);
        Assert.InRange(factors[3] / factors[4], 1, 1.02);
        Assert.InRange(ElectrolyticResistance.Factor(233.15, 100e3) / ElectrolyticResistance.Factor(298.15, 100e3), 10, 100);
    }

    // The usual clause at the end of an endurance test (from memory): a fifth of the capacitance lost, twice the resistance.
    [Fact]
    public void One_life_at_the_rated_temperature_ends_at_the_usual_limits()
    {
        var block = new BridgeBulk { BulkTemperature = 378.15, BulkRippleCurrent = 0 };
        var aged = block.Build().With(block.Fault("aged-in-service"), 2000 * Hour).Circuit;
        Near.Relative(0.8, ((Capacitor)aged["C_bulk"]).Capacitance / block.BulkCapacitance, 1e-6);
        Near.Relative(2, ((Capacitor)aged["C_bulk"]).SeriesResistance / ((Capacitor)block.Build().Circuit["C_bulk"]).SeriesResistance, 1e-6);
    }

    [Fact]
    public void The_last_years_go_faster_than_the_first()
    {
        var warm = Rating(1, 338.15) with { ThermalResistance = 40 };
        var (half, full) = (ServiceLife.Consumed(warm, [(120, 0.5)], 15000 * Hour), ServiceLife.Consumed(warm, [(120, 0.5)], 30000 * Hour));
        Assert.InRange(full / half, 2.05, 4);
        Assert.Equal(ServiceLife.Most, ServiceLife.Consumed(warm, [(120, 5)], Hour * 1e6));
        Assert.Equal(0, ServiceLife.Consumed(warm, [(120, 0.5)], 0));
    }

    // The block's estimate of its ripple current is a balance of charge; the run's own value is the judge.
    [Theory]
    [InlineData(MainsSupply.Mains120V, 12)]
    [InlineData(MainsSupply.Mains120V, 25)]
    [InlineData(MainsSupply.Mains230V, 25)]
    public void Estimated_ripple_ages_the_bulk_capacitor_as_the_runs_ripple_does(MainsSupply supply, double watts)
    {
        var block = new BridgeBulk { Supply = supply, LoadPower = watts, BulkTemperature = 338.15, LimiterStartTemperature = 380 };
        var ripple = Bench.Run(block.Build()).I("bulk-capacitor").AcRms();
        var estimated = Aged(block);
        block.BulkRippleCurrent = ripple;
        Near.Relative(Aged(block), estimated, 0.15);

        static double Aged(BridgeBulk block) =>
            ((Capacitor)block.Build().With(block.Fault("aged-in-service"), 5 * 8766 * Hour).Circuit["C_bulk"]).SeriesResistance;
    }

    [Fact]
    public void What_the_metrics_miss_is_said()
    {
        var wave = Sampled.Cycles(x => Math.Sin(2 * Math.PI * x), 120, 3, unit: Unit.Ampere);
        Assert.Contains("esr", Take.Reason("capacitor-core-temperature", wave, ("frequency", 120)), StringComparison.Ordinal);
        Assert.Contains("frequency", Take.Reason("expected-life", wave, ("esr", 0.1), ("ambient", 300), ("thermal-resistance", 20), ("rated-life", 1e6)), StringComparison.Ordinal);
        Assert.Contains("rated-life", Take.Reason("expected-life", wave, ("frequency", 120), ("esr", 0.1), ("ambient", 300), ("thermal-resistance", 20)), StringComparison.Ordinal);
        Assert.Contains("125 degC", Take.Reason("capacitor-core-temperature", wave, ("frequency", 120), ("esr", 50), ("ambient", 350), ("thermal-resistance", 20)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_current_point_knows_the_capacitor_as_it_is_now()
    {
        var block = new BridgeBulk { BulkTemperature = 338.15 };
        var aged = block.Build().With(block.Fault("bulk-esr-high"), 7);
        Near.Relative(7, aged.CurrentPoint("bulk-capacitor").CapacitorIn(aged.Circuit)!.SeriesResistance, 1e-9);
        Assert.Null(aged.CurrentPoint("line").CapacitorIn(aged.Circuit));
        var shorted = block.Build().With(block.Fault("bulk-shorted"));
        Assert.Null(shorted.CurrentPoint("bulk-capacitor").CapacitorIn(shorted.Circuit));
    }

    private static ElectrolyticRating Rating(double ohms, double ambient) => new() { SeriesResistance = ohms, Ambient = ambient, ThermalResistance = 20 };
}
