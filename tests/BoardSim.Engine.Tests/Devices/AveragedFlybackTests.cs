using BoardSim.Engine.Devices.Converters;

namespace BoardSim.Engine.Tests.Devices;

/// <summary>The averaged converter while it runs; what it gives is tested where it is a part of a supply.</summary>
public sealed class AveragedFlybackTests
{
    // Calculus is the outside source: currents and their derivatives, in discontinuous and continuous conduction and at the duty limit.
    [Theory]
    [InlineData(-1, 12)]
    [InlineData(5, 60)]
    [InlineData(0, 3)]
    public void Derivatives_agree_with_differences(double low, double high)
    {
        var parameters = new ControllerParameters { SoftStart = 1e-9, FeedbackOffset = 0.1, FeedbackDivider = 1, FeedbackSupply = 5 };
        var converter = new AveragedFlyback("u", "v", "r", "f", "i", "o", "g", "c", parameters, new FlybackStage());

        // The first guard is the start voltage; it started long ago.
        converter.Cross(0, -1, []);
        var probe = new DeviceProbe(converter, 320);
        var random = new Random(7);
        for (var point = 0; point < 300; point++)
        {
            probe.Scatter(random, low, high);
            probe.AssertDerivatives(2e-5, 2e-5, 1e-7, 1e-18, $"point {point} ({string.Join(", ", probe.Loads.X.Skip(1))})");
        }
    }
}
