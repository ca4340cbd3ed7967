using EdgeGuard.Records.Ring;

namespace EdgeGuard.Records.Tests.Ring;

/// <summary>A ring that finds no room.</summary>
public sealed class RingOnFullDiskTests
{
    [Fact]
    public void A_ring_that_finds_no_room_leaves_nothing_behind_that_takes_the_last_of_it()
    {
        Assert.SkipUnless(File.Exists("/dev/full"), "needs /dev/full, the disk that is always full (full(4))");
        using var folder = new TempFolder();
        File.CreateSymbolicLink(folder.File("scans.ring.new"), "/dev/full");
        Assert.ThrowsAny<IOException>(() => new ScanRingWriter(new ScanRingOptions
        {
            Path = folder.File("scans.ring"),
            Site = RecordsSite.Table,
            SiteDigest = RecordsSite.Digest,
            LinkNames = RingSample.LinkNames,
            RunId = RecordsSite.RunId,
            StartUtcUnixMs = 0,
        }).Dispose());
        Assert.Empty(Directory.GetFileSystemEntries(folder.Path));
    }
}
