using System.Diagnostics;
using EdgeGuard.Service.Guarding;
using Serilog;
using Serilog.Core;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>What one look at the publisher costs: called five times a second for months, it must not allocate.</summary>
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

    [Fact]
    public void Listening_to_signs_of_life_allocates_nothing_a_sign()
    {
        // The first listening sets up what stays; then a thousand signs more cost not a byte more.
        Listen(100);
        long few = Listen(100);
        long many = Listen(1_100);
        Assert.Equal(few, many);
    }

    // Bytes the reading thread allocates for so many empty lines, each written and read on its own.
    private static long Listen(int signs)
    {
        using Logger log = new LoggerConfiguration().CreateLogger();
        using Process child = Process.Start(new ProcessStartInfo("/bin/cat") { RedirectStandardInput = true, RedirectStandardOutput = true, UseShellExecute = false })!;
        var relay = new LineRelay(child.StandardOutput.BaseStream, log, static () => { });
        long allocated = -1;
        var thread = new Thread(() =>
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            relay.Run();
            allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        });
        thread.Start();
        for (int i = 0; i < signs; i++)
        {
            long heard = relay.SignsHeard;
            child.StandardInput.BaseStream.WriteByte((byte)'\n');
            child.StandardInput.BaseStream.Flush();
            Assert.True(SpinWait.SpinUntil(() => relay.SignsHeard > heard, 60_000), "a sign was not heard");
        }

        child.StandardInput.Close();
        Assert.True(thread.Join(60_000));
        return allocated;
    }

    private static bool Look(PublisherProcess child, PublisherLaunch launch, int times)
    {
        bool well = true;
        for (int i = 0; i < times; i++)
        {
            well &= !child.HasExited && !child.StaysStopped() && child.ResidentBytes() >= 0 && child.Complaint(launch) is null;
        }

        return well;
    }
}
