using BoardSim.Engine.Circuits;
using BoardSim.Engine.Devices;
using static BoardSim.Engine.Tests.Devices.Bench;

namespace BoardSim.Engine.Tests.Analyses.Envelopes;

/// <summary>
/// An RC low-pass behind a pulse source, and its closed form: behind a straight line u0 + s t, from v0, the capacitor has
/// u(t) - s tau + (v0 - u0 + s tau) exp(-t/tau) (any circuit theory text, e.g. Chua, Desoer and Kuh, Linear and Nonlinear
/// Circuits, 1987, chapter 6). The values at the starts of periods follow as a geometric series.
/// </summary>
internal sealed class PulsedFilter
{
    public const double Ohms = 1e3;

    public PulseWaveform Pulse { get; } = new() { High = 12, Rise = 50e-9, Fall = 50e-9, Width = 4e-6, Period = 10e-6 };

    public double Farads { get; init; } = 1e-6;

    public Circuit Build() => Circuit(
        new VoltageSource("v", "in", "0", Pulse),
        new Resistor("r", "in", "a", Ohms),
        new Capacitor("c", "a", "0", Farads) { InitialVoltage = 0 });

    /// <summary>The capacitor's voltage at an instant, in volts.</summary>
    public double Exact(double time) => Exact(time, 0, 0, Ohms * Farads, 1);

    /// <summary>The capacitor's voltage at an instant after another at which it is known; the source is seen through a divider.</summary>
    public double Exact(double time, double from, double volts, double tau, double gain)
    {
        var v = volts;
        for (var t = from; t < time;)
        {
            var end = Math.Min(time, Pulse.NextCorner(t));
            var (u0, u1) = (gain * Pulse.Value(t), gain * Pulse.Value(end));
            var slope = (u1 - u0) / (end - t);
            v = u1 - slope * tau + (v - u0 + slope * tau) * Math.Exp(-(end - t) / tau);
            t = end;
        }

        return v;
    }
}
