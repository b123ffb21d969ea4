using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>Diode and the junction law that all semiconductors share.</summary>
public sealed class JunctionTests
{
    // Banwell and Jayakumar, "Exact analytical solution for current flow through diode with series resistance", Electron. Lett. 36
    // (2000) 291: I = (n VT/R) W((Is R/(n VT)) exp((V + Is R)/(n VT))) - Is; values evaluated with Lambert's W at 300 K, SI 2019 constants.
    [Theory]
    [InlineData(1e-14, 1, 5, 1e3, 4.30745637251e-3)]
    [InlineData(1e-12, 1, 1, 1e3, 0.483071792424e-3)]
    [InlineData(2.52e-9, 1.752, 5, 1e3, 4.34953691623e-3)]
    public void Diode_and_resistor_carry_the_exact_current(double saturation, double emission, double volts, double ohms, double amperes)
    {
        var model = new DiodeModel { SaturationCurrent = saturation, EmissionCoefficient = emission, NominalTemperature = 300 };
        var circuit = Circuit(new VoltageSource("v", "in", "0", volts), new Resistor("r", "in", "a", ohms), new Diode("d", "a", "0", model));
        circuit.Temperature = 300;
        Near(amperes, Solve(circuit).Current("r"), 1e-9);
    }

    [Fact]
    public void Series_resistance_within_the_model_is_the_same_as_outside()
    {
        // Same source and value as above.
        var model = new DiodeModel { NominalTemperature = 300, SeriesResistance = 1e3 };
        var circuit = Circuit(new VoltageSource("v", "in", "0", 5), new Diode("d", "in", "0", model));
        circuit.Temperature = 300;
        Near(4.30745637251e-3, Solve(circuit).Current("d"), 1e-9);
    }

    // SI 2019: k and e are exact, so kT/e ln 10 at 300 K is 59.5264 mV per decade of current.
    [Fact]
    public void Current_rises_a_decade_per_59_5264_mV_at_300_K()
    {
        var diode = new Diode("d", "a", "0", new DiodeModel { NominalTemperature = 300 });
        var transistor = new BipolarTransistor("q", "a", "a", "0", new BipolarModel { NominalTemperature = 300 });
        foreach (var device in new Device[] { diode, transistor })
        {
            var probe = new DeviceProbe(device, 300);
            var low = probe.Set("a", 0.55).Evaluate().F("a");
            var high = probe.Set("a", 0.55 + 0.0595264).Evaluate().F("a");
            Near(10, high / low, 2e-6);
        }
    }

    [Fact]
    public void Breakdown_current_flows_at_the_breakdown_voltage()
    {
        // Definition of BV and IBV (Berkeley SPICE3 user's manual, model D).
        var probe = new DeviceProbe(new Diode("d", "0", "k", new DiodeModel { BreakdownVoltage = 5.1, BreakdownCurrent = 5e-3 }));
        Near(5e-3, probe.Set("k", 5.1).Evaluate().F("k"), 1e-6);
        Assert.InRange(probe.Set("k", 4).Evaluate().F("k"), 0, 1e-12);
    }

    [Fact]
    public void Zener_regulates_a_sagging_rail()
    {
        // Common practice, no source: a 5.1 V zener behind 470 ohm holds its rail within 0.1 V while the supply goes from 10 to 15 V.
        var zener = new DiodeModel { BreakdownVoltage = 5.1, BreakdownCurrent = 5e-3 };
        foreach (var volts in new[] { 10.0, 15 })
        {
            var rail = Solve(new VoltageSource("v", "in", "0", volts), new Resistor("r", "in", "z", 470), new Diode("d", "0", "z", zener)).Voltage("z");
            Assert.InRange(rail, 5.0, 5.2);
        }
    }

    [Fact]
    public void Charge_stored_at_a_forward_current_is_current_times_transit_time()
    {
        // Charge control (Sze, Physics of Semiconductor Devices, 2nd ed. 1981, section 2.5; from memory): Q = tau I.
        var probe = new DeviceProbe(new Diode("d", "a", "0", new DiodeModel { TransitTime = 4e-9 }));
        probe.Loads.Gmin = 0;
        probe.Set("a", 0.7).Evaluate();
        Near(4e-9, probe.Q("a") / probe.F("a"), 1e-9);
        Near(4e-9, probe.C("a", "a") / probe.G("a", "a"), 1e-9);
    }

    // Depletion capacitance of an abrupt junction halves where the total barrier has grown fourfold (Sze, section 2.3: C ~ (Vbi - V)^-1/2).
    [Fact]
    public void Abrupt_junction_halves_its_capacitance_at_three_times_the_potential()
    {
        var model = new DiodeModel { JunctionCapacitance = 100e-12, JunctionPotential = 0.8, Grading = 0.5 };
        var probe = new DeviceProbe(new Diode("d", "0", "k", model));
        var atZero = probe.Set("k", 0).Evaluate().C("k", "k");
        var biased = probe.Set("k", 2.4).Evaluate().C("k", "k");
        Near(100e-12, atZero, 1e-12);
        Near(0.5, biased / atZero, 1e-12);
    }

    // Silicon junction at constant current: -2 mV/K, as data sheets of small-signal parts have it (NXP BC848 series, p. 4).
    [Fact]
    public void Forward_voltage_falls_by_two_millivolts_per_kelvin()
    {
        double Volts(double kelvin)
        {
            var circuit = Circuit(new CurrentSource("i", "0", "a", 2e-3), new Diode("d", "a", "0", new DiodeModel { SaturationCurrent = 2e-14 }));
            circuit.Temperature = kelvin;
            return Solve(circuit).Voltage("a");
        }

        Assert.InRange((Volts(325.15) - Volts(275.15)) / 50, -2.3e-3, -1.6e-3);
    }

    [Fact]
    public void Saturation_current_doubles_about_every_ten_kelvin_with_data_sheet_parameters()
    {
        // Common practice, no source: leakage of a silicon junction doubles every 8 to 12 K near room temperature when generation in the
        // depletion layer governs it, which N = 2 stands for.
        double Leakage(double kelvin) =>
            -new DeviceProbe(new Diode("d", "a", "0", new DiodeModel { EmissionCoefficient = 2 }), kelvin).Set("a", -5).Evaluate().F("a");

        Assert.InRange(10 * Math.Log(2) / Math.Log(Leakage(310.15) / Leakage(300.15)), 8, 12);
    }

    [Fact]
    public void Changed_model_counts_from_the_next_stamping_on()
    {
        var diode = new Diode("d", "a", "0", new DiodeModel());
        var probe = new DeviceProbe(diode);
        var before = probe.Set("a", 0.6).Evaluate().F("a");
        diode.Model = diode.Model with { SaturationCurrent = 10 * diode.Model.SaturationCurrent };
        probe.Restamp();
        Near(10, probe.Evaluate().F("a") / before, 1e-12);
    }

    [Fact]
    public void Series_resistance_that_appears_after_compiling_is_refused()
    {
        var diode = new Diode("d", "a", "0", new DiodeModel());
        var probe = new DeviceProbe(diode);
        diode.Model = diode.Model with { SeriesResistance = 1 };
        var problem = Assert.Throws<InvalidOperationException>(probe.Restamp);
        Assert.Contains("compile the circuit again", problem.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(-1e3)]
    [InlineData(1e3)]
    [InlineData(1e6)]
    public void Absurd_voltages_give_finite_currents(double volts)
    {
        foreach (var (name, it) in DeviceCases.All)
        {
            var probe = new DeviceProbe(it.Make(), 300.15, it.Others);
            for (var i = 1; i <= probe.Size; i++)
            {
                probe.Loads.X[i] = i % 2 == 0 ? volts : 0;
            }

            probe.Evaluate();
            Assert.All(probe.Loads.F.Concat(probe.Loads.Q).Concat(probe.Loads.G).Concat(probe.Loads.C), v => Assert.True(double.IsFinite(v), name));
        }
    }
}
