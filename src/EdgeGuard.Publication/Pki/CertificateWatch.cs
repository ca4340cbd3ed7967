using EdgeGuard.OpcUa.Security;
using EdgeGuard.OpcUa.Server;

namespace EdgeGuard.Publication.Pki;

/// <summary>
/// Watches the end of the own certificate, not only at the start: a publisher runs for years. Told in the log when a level
/// is reached (90, 30 and 7 days, expired), and from the last week on once with every new day (UTC), because by then it is
/// urgent. The time is data; a clock that is set back tells nothing twice.
/// </summary>
public sealed class CertificateWatch
{
    private readonly DateTime _notAfterUtc;
    private readonly IServerLog _log;
    private ExpiryLevel _told = ExpiryLevel.None;
    private DateTime _toldOn = DateTime.MinValue;

    /// <summary>Watches one certificate.</summary>
    /// <param name="notAfterUtc">Its end.</param>
    /// <param name="log">Takes what is told.</param>
    public CertificateWatch(DateTime notAfterUtc, IServerLog log) => (_notAfterUtc, _log) = (notAfterUtc, log);

    /// <summary>Its end.</summary>
    public DateTime NotAfterUtc => _notAfterUtc;

    /// <summary>Looks at the time and tells what is to be told.</summary>
    /// <returns>The level now.</returns>
    public ExpiryLevel Look(DateTime utcNow)
    {
        ExpiryLevel level = CertificateExpiry.Level(_notAfterUtc, utcNow);
        bool worse = level < _told;
        bool newDay = level <= ExpiryLevel.Within7Days && utcNow.Date > _toldOn;
        if (worse || newDay)
        {
            _told = worse ? level : _told;
            _toldOn = utcNow.Date;
            Tell(CertificateExpiry.DaysLeft(_notAfterUtc, utcNow));
        }

        return level;
    }

    private void Tell(int days)
    {
        string when = days < 0 ? "has expired, clients refuse it" : $"expires in {days} days, clients will refuse it then";
        _log.Refused($"the own certificate {when}; try edgeguard certs renew, and trust the new one at the clients");
    }
}
