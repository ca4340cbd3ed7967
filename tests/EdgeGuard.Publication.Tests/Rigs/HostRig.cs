using System.Net;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>Options of a publisher on loopback over the ring of a test.</summary>
internal static class HostRig
{
    public static PublicationOptions Options(RingRig ring, int port = 0) => new()
    {
        Site = RingRig.Site,
        LinkNames = RingRig.LinkNames,
        SiteDigest = RingRig.Digest,
        RingPath = ring.RingPath,
        JournalHeadPath = ring.HeadPath,
        EndPoint = new IPEndPoint(IPAddress.Loopback, port),
        Version = "0",
        Log = new ListLog(),
        AllowNone = true,

        // A test that waits for its client must not see the guard fall silent.
        GuardLateMs = 120_000,
        GuardLostMs = 240_000,
    };

    public static PublicationHost Start(RingRig ring, int port = 0)
    {
        var host = new PublicationHost(Options(ring, port));
        host.Start();
        return host;
    }
}
