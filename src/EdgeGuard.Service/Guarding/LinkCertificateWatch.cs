using EdgeGuard.Records.Certificates;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Tells in time that a certificate of a secured link is about to end: own, trusted issuers, and the one the device showed
/// at the latest connect. Not left to the link's own thread, which may wait for a connection that an expired certificate
/// keeps from coming. Looked at once a second; allocates only when something is told.
/// </summary>
internal sealed class LinkCertificateWatch
{
    private readonly LinkEngine[] _engines;
    private readonly LinkCertificate[][] _certificates;
    private readonly ExpiryWatch[][] _known;
    private readonly ExpiryWatch?[] _peers;
    private readonly Action<string, bool> _tell;

    /// <summary>Watches the links of a plan.</summary>
    /// <param name="plan">The links.</param>
    /// <param name="workers">Their workers, in the same order.</param>
    /// <param name="tell">Takes a sentence, and whether the certificate has expired.</param>
    public LinkCertificateWatch(GuardPlan plan, IReadOnlyList<LinkWorker> workers, Action<string, bool> tell)
    {
        _engines = [.. workers.Select(static w => w.Engine)];
        _certificates = [.. plan.Links.Select(static l => LinkCertificate.Of(l.Options?.Security).ToArray())];
        _known = [.. _certificates.Select(static c => c.Select(static k => new ExpiryWatch(k.NotAfterUtc)).ToArray())];
        _peers = new ExpiryWatch?[_engines.Length];
        _tell = tell;
    }

    /// <summary>Looks at the time and tells what is to be told.</summary>
    public void Look(DateTime utcNow)
    {
        for (int link = 0; link < _engines.Length; link++)
        {
            for (int i = 0; i < _known[link].Length; i++)
            {
                Look(link, _certificates[link][i].What, _known[link][i], utcNow);
            }

            if (_engines[link].PeerCertificateEndUtc is { } end)
            {
                // A renewed one begins anew.
                ExpiryWatch peer = _peers[link] is { } watch && watch.NotAfterUtc == end ? watch : _peers[link] = new ExpiryWatch(end);
                Look(link, LinkCertificate.OfDevice, peer, utcNow);
            }
        }
    }

    private void Look(int link, string what, ExpiryWatch watch, DateTime utcNow)
    {
        if (!watch.Look(utcNow, out ExpiryLevel level))
        {
            return;
        }

        int days = CertificateExpiry.DaysLeft(watch.NotAfterUtc, utcNow);
        bool expired = level == ExpiryLevel.Expired;
        string when = expired ? $"has expired on {watch.NotAfterUtc:yyyy-MM-dd}" : $"expires in {Counted.Of(days, "day")}, on {watch.NotAfterUtc:yyyy-MM-dd}";
        _tell($"link {_engines[link].Table.Name}: {what} {when}; from then on the link does not connect again: have it renewed", expired);
    }
}
