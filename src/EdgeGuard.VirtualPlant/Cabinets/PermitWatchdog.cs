namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>Watchdog of the permit token: alive while a non-zero token keeps changing within the watchdog time.</summary>
public sealed class PermitWatchdog(int watchdogMs)
{
    private ushort _token;

    private bool _changedOnce;

    /// <summary>Time of the last change to a non-zero token, ms of plant time.</summary>
    public long LastChangeMs { get; private set; }

    /// <summary>Takes a written token. The same token again is no sign of life; zero withdraws the permit at once.</summary>
    public void Accept(ushort token, long nowMs)
    {
        if (token != 0 && token != _token)
        {
            LastChangeMs = nowMs;
            _changedOnce = true;
        }

        _token = token;
    }

    /// <summary>True while the permit holds.</summary>
    public bool IsAlive(long nowMs) => _token != 0 && _changedOnce && nowMs - LastChangeMs < watchdogMs;

    /// <summary>True when the permit was withdrawn by a zero token (or never given), not by silence.</summary>
    public bool IsWithdrawn => _token == 0;
}
