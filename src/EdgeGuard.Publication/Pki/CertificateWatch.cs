using EdgeGuard.OpcUa.Server;
using EdgeGuard.Records.Certificates;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Publication.Pki;

/// <summary>Watches the end of the own certificate, not only at the start: a publisher runs for years.</summary>
public sealed class CertificateWatch
{
    private readonly ExpiryWatch _watch;
    private readonly IServerLog _log;

    /// <summary>Watches one certificate.</summary>
    /// <param name="notAfterUtc">Its end.</param>
    /// <param name="log">Takes what is told.</param>
    public CertificateWatch(DateTime notAfterUtc, IServerLog log) => (_watch, _log) = (new ExpiryWatch(notAfterUtc), log);

    /// <summary>Its end.</summary>
    public DateTime NotAfterUtc => _watch.NotAfterUtc;

    /// <summary>Looks at the time and tells what is to be told.</summary>
    /// <returns>The level now.</returns>
    public ExpiryLevel Look(DateTime utcNow)
    {
        if (_watch.Look(utcNow, out ExpiryLevel level))
        {
            Tell(CertificateExpiry.DaysLeft(NotAfterUtc, utcNow));
        }

        return level;
    }

    private void Tell(int days)
    {
        string when = days < 0 ? "has expired, clients refuse it" : $"expires in {Counted.Of(days, "day")}, clients will refuse it then";
        _log.Refused($"the own certificate {when}; try edgeguard certs renew, and trust the new one at the clients");
    }
}
