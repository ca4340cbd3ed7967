using EdgeGuard.Service.Guarding;
using Serilog;
using Serilog.Core;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>What one look at the publisher costs: called twice a second for months, it must not allocate.</summary>
public sealed class KeeperAllocationTests
{
    [Fact]
    public void A_look_at_a_healthy_process_allocates_nothing()
    {
        using Logger log = new LoggerConfiguration().CreateLogger();
        var launch = new PublisherLaunch { Command = ["/bin/sh", "-c", "while sleep 0.1; do echo; done"], MemoryLimitMb = 64 };
        using var child = PublisherProcess.Start(launch, log, static () => { });
        Look(child, launch, 20);
        long before = GC.GetAllocatedBytesForCurrentThread();
        bool well = Look(child, launch, 1_000);
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        child.Kill();
        Assert.True(well);
        Assert.Equal(0, allocated);
    }

    private static bool Look(PublisherProcess child, PublisherLaunch launch, int times)
    {
        bool well = true;
        for (int i = 0; i < times; i++)
        {
            well &= !child.HasExited && child.ResidentBytes() >= 0 && child.Complaint(launch) is null;
        }

        return well;
    }
}
