namespace EdgeGuard.Records.Certificates;

/// <summary>
/// Decides when the coming end of a certificate is told by a process that runs for years: when a level is reached (90, 30
/// and 7 days, expired), and from the last week on once with every new day (UTC), because by then it is urgent. The time is
/// data; a clock that is set back tells nothing twice. Allocates nothing.
/// </summary>
public sealed class ExpiryWatch
{
    private ExpiryLevel _told = ExpiryLevel.None;
    private DateTime _toldOn = DateTime.MinValue;

    /// <summary>Watches one certificate.</summary>
    /// <param name="notAfterUtc">Its end.</param>
    public ExpiryWatch(DateTime notAfterUtc) => NotAfterUtc = notAfterUtc;

    /// <summary>Its end.</summary>
    public DateTime NotAfterUtc { get; }

    /// <summary>Looks at the time.</summary>
    /// <param name="utcNow">The time.</param>
    /// <param name="level">The level now.</param>
    /// <returns>True when it is to be told now.</returns>
    public bool Look(DateTime utcNow, out ExpiryLevel level)
    {
        level = CertificateExpiry.Level(NotAfterUtc, utcNow);
        bool worse = level < _told;
        bool newDay = level <= ExpiryLevel.Within7Days && utcNow.Date > _toldOn;
        if (!worse && !newDay)
        {
            return false;
        }

        _told = worse ? level : _told;
        _toldOn = utcNow.Date;
        return true;
    }
}
