using BoardSim.Engine.Analyses;
using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>The speed loop's program against arithmetic: what it measures, what it sets, when it gives up.</summary>
public class SpeedControllerTests
{
    private static TransientResult Run(SpeedController controller, SourceWaveform tacho, double stop)
    {
        var circuit = Bench.Circuit(
            new VoltageSource("V1", "logic", "0", 5), new VoltageSource("V2", "t", "0", tacho), controller, new Resistor("R1", "p", "0", 10e3));
        return Bench.Run(
            circuit,
            new TransientOptions { Stop = stop, Accuracy = 1e-3, UseInitialConditions = true },
            Probe.State("U1", "duty"), Probe.State("U1", "measured-speed"), Probe.State("U1", "stalls"), Probe.Voltage("p"));
    }

    private static SpeedController Controller() => new("U1", "logic", "0", "t", "p");

    // 60 pulses a second at two a turn are 30 turns a second, 60 pi rad/s; an error of e moves the duty by P e at once and by I e in a second.
    [Fact]
    public void Measures_the_pulses_and_integrates_the_error()
    {
        var controller = Controller();
        (controller.Target, controller.StartDuty, controller.Steps) = (60 * Math.PI + 10, 0.3, 1e6);
        var run = Run(controller, new PulseWaveform { High = 5, Rise = 1e-5, Fall = 1e-5, Width = 5e-3, Period = 1.0 / 60 }, 2.05);
        Bench.Near(60 * Math.PI, run.At(1.95, 1), 1e-4);

        // After the first sample, in which the start counts as a pulse, ten rad/s of error are 0.1 in a second.
        Assert.Equal(0.1, run.At(1.95) - run.At(0.95), 1e-3);
    }

    // The mean of the pulses is the duty's share of the supply, behind 40 ohm into 10 kohm.
    [Fact]
    public void Pulses_have_the_duty_factor_that_is_set()
    {
        var controller = Controller();
        (controller.Proportional, controller.Integral, controller.StartDuty) = (0, 0, 0.3);
        var run = Run(controller, new DcWaveform(0), 0.5);
        var (t, v) = (run.Times, run.Values(3));
        var area = Enumerable.Range(1, t.Length - 1).Where(k => t[k - 1] >= 0.1 - 1e-9 && t[k] <= 0.4 + 1e-9).Sum(k => (t[k] - t[k - 1]) * (v[k] + v[k - 1]) / 2);
        Bench.Near(0.3 * 5 * 10_000 / 10_040, area / 0.3, 2e-3);
    }

    // Its ground lead off, the controller is fed through what pulls its output down: as soon as that goes high nothing feeds it, and it has to begin anew when its reset is over (fan-drive, seed 503, case 1219). Between
    // two beginnings lies one reset, by definition.
    [Fact]
    public void Begins_anew_after_each_reset_where_its_own_output_takes_its_supply()
    {
        var controller = new SpeedController("U1", "logic", "lead", "t", "p") { ResetTime = 2e-3 };
        var circuit = Bench.Circuit(new VoltageSource("V1", "logic", "0", 5), new Resistor("R2", "logic", "t", 23e3), controller, new Resistor("R1", "p", "0", 40e3));
        using var run = new TransientRun(new CircuitSystem(circuit), new TransientOptions { Stop = 21e-3, UseInitialConditions = true });
        while (run.Advance())
        {
        }

        var began = run.Events.Where(e => e.State == "high").Select(e => e.Time).ToArray();
        Assert.Equal(10, began.Length);

        // Each time the failure is noticed at the end of the short step that leads in, which may last 5e-7 of the run.
        Assert.All(began.Select((at, k) => at - 2e-3 * (k + 1)), off => Assert.InRange(off, 0, 10 * 5e-7 * 21e-3));
    }

    // No pulse: full duty within a few samples, off after two seconds, again after another five.
    [Fact]
    public void Gives_up_without_pulses_and_tries_again()
    {
        var controller = Controller();
        (controller.GiveUpAfter, controller.RetryAfter) = (2, 5);
        var run = Run(controller, new DcWaveform(5), 10);
        Assert.Equal(1, run.At(1.5));
        Assert.Equal(0, run.At(3));
        Assert.Equal(1, run.At(3, 2));
        Assert.True(run.At(8) > 0.5);
        Assert.Equal(2, run.At(9.9, 2));
        Assert.True(run.At(1.5, 3) > 4.9);
        Assert.Equal(0, run.At(3, 3), 1e-3);
    }
}
