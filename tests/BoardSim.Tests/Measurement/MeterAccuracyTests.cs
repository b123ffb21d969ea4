using BoardSim.Measurement;

namespace BoardSim.Tests.Measurement;

/// <summary>The arithmetic of a data sheet's plus or minus (per cent of the reading + digits).</summary>
public class MeterAccuracyTests
{
    // Fluke support, article KA-03135: 120 V on the 600.0 V range of a 6000-count meter, (1 % of reading + 3 counts): 1.2 V + 0.3 V = 1.5 V.
    [Fact]
    public void One_per_cent_and_three_counts_of_120_volts_are_a_volt_and_a_half()
    {
        var meter = new Multimeter { Function = MultimeterFunction.AcVoltsTrueRms, AcAccuracy = new Accuracy(0.01, 3), Bandwidth = 1e9 };
        var reading = meter.Read(Sampled.Cycles(x => 120 * Math.Sqrt(2) * Math.Sin(2 * Math.PI * x), 60));
        Assert.Equal("120.0 V", reading.Display);

        // On top comes this meter's crest factor error for a sine, 0.05 % of the reading.
        Assert.Equal(1.5, reading.Uncertainty - 0.0005 * 120, 1e-3);
    }

    // Fluke, "Digital multimeter accuracy and precision": (2 % + 2) at 100.0 V: from 97.8 V to 102.2 V; a display of 2000 counts has 100.0 V on its 200 V range.
    [Fact]
    public void Two_per_cent_and_two_counts_of_100_volts()
    {
        var meter = new Multimeter { Counts = 2000, VoltRanges = [0.2, 2, 20, 200, 1000], DcAccuracy = new Accuracy(0.02, 2) };
        var reading = meter.Read(Sampled.Points((0, 100), (1, 100)));
        Assert.Equal("100.0 V", reading.Display);
        Assert.Equal(97.8, reading.Value!.Value - reading.Uncertainty, 1e-9);
        Assert.Equal(102.2, reading.Value!.Value + reading.Uncertainty, 1e-9);
    }

    // Worked example of a meter maker's page on multimeter error: 2 V range with 1 mV, (0.5 % + 3) at 2 V: 0.013 V.
    [Fact]
    public void Half_a_per_cent_and_three_counts_of_two_volts()
    {
        var meter = new Multimeter { Counts = 2000, VoltRanges = [0.2, 2, 20, 200, 1000], DcAccuracy = new Accuracy(0.005, 3) };
        var reading = meter.Read(Sampled.Points((0, 2), (1, 2)));
        Assert.Equal("2.000 V", reading.Display);
        Assert.Equal(0.013, reading.Uncertainty, 1e-12);
    }

    // Form factor pi/(2 sqrt 2) = 1.111 (any textbook): what a bridge and a moving coil, scaled for a sine, make of a direct voltage behind the bridge. A square
    // wave of 10 V has a mean of 10 V and so reads 11.11 V; the true-RMS meter reads 10 V.
    [Fact]
    public void The_form_factor_shows_on_a_square_wave()
    {
        var wave = Sampled.Pulses(-10, 10, 0.5, 0.02, 5);
        Assert.Equal("11.11 V", (new Multimeter() with { Function = MultimeterFunction.AcVoltsAverage, Bandwidth = 1e8 }).Read(wave).Display);
        Assert.Equal("10.00 V", (new Multimeter() with { Function = MultimeterFunction.AcVoltsTrueRms, Bandwidth = 1e8 }).Read(wave).Display);
    }

    // Hart, Power Electronics (2011), ex. 2-7: 4 + 8 sin(wt + 10 deg) + 5 sin(2wt + 50 deg) has an RMS value of 7.78 V, all of it; without the mean it
    // is the root of 7.78^2 - 4^2.
    [Fact]
    public void Direct_and_alternating_parts_add_as_squares()
    {
        var wave = Sampled.Cycles(x => 4 + 8 * Math.Sin(2 * Math.PI * x + Math.PI / 18) + 5 * Math.Sin(4 * Math.PI * x + 5 * Math.PI / 18), 50);
        var meter = new Multimeter { Bandwidth = 1e9 };
        Assert.Equal(7.78, (meter with { Function = MultimeterFunction.AcDcVoltsTrueRms }).Read(wave).Value!.Value, 0.005);
        Assert.Equal(Math.Sqrt(7.78 * 7.78 - 16), (meter with { Function = MultimeterFunction.AcVoltsTrueRms }).Read(wave).Value!.Value, 0.01);
        Assert.Equal(4, meter.Read(wave).Value!.Value, 0.001);
    }
}
