namespace BoardSim.Engine.Tests.Devices;

/// <summary>Evaluation is the innermost loop of every run: once warm it must leave the garbage collector nothing to do.</summary>
public sealed class AllocationTests
{
    public static TheoryData<string> Names => new(DeviceCases.All.Keys);

    [Theory]
    [MemberData(nameof(Names))]
    public void Warm_evaluation_allocates_nothing(string name)
    {
        var it = DeviceCases.All[name];
        var device = it.Make();
        var probe = new DeviceProbe(device, 300.15, it.Others);
        probe.Scatter(new Random(3), it.Low, it.High);
        var loads = probe.Loads;
        for (var round = 0; round < 50; round++)
        {
            Once();
        }

        // The runtime itself leaves a few kilobytes once, when it replaces code that has become warm; a device that allocates does so each time.
        var least = Enumerable.Range(0, 3).Min(_ => Allocated());
        Assert.Equal(0, least);

        long Allocated()
        {
            var before = GC.GetAllocatedBytesForCurrentThread();
            for (var round = 0; round < 100; round++)
            {
                Once();
            }

            return GC.GetAllocatedBytesForCurrentThread() - before;
        }

        void Once()
        {
            device.StampConstant(loads);
            (loads.Limiting, loads.Fresh) = (true, true);
            device.Evaluate(loads);
            loads.Fresh = false;
            loads.X[1] = -loads.X[1];
            device.Evaluate(loads);
            loads.Limiting = false;
            device.Evaluate(loads);
        }
    }
}
