namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// A delay that counts nominal scans, so that jitter of the scan thread never adds one: a condition first present in
/// scan k has passed a delay of n scans in scan k + n. The default value means "absent".
/// </summary>
internal struct ScanDelay
{
    private long _sincePlusOne;

    /// <summary>Scan in which the condition became present without interruption; −1 when absent.</summary>
    public readonly long Since => _sincePlusOne - 1;

    /// <summary>True while the condition stands.</summary>
    public readonly bool Runs => _sincePlusOne != 0;

    /// <summary>Takes the condition of this scan; true when it has stood for the delay.</summary>
    public bool Passed(bool present, long scan, int delayScans)
    {
        if (!present)
        {
            _sincePlusOne = 0;
            return false;
        }

        if (_sincePlusOne == 0)
        {
            _sincePlusOne = scan + 1;
        }

        return scan - Since >= delayScans;
    }

    /// <summary>Whole scans of a time, rounded up.</summary>
    public static int Scans(long timeMs, int scanMs) => (int)((timeMs + scanMs - 1) / scanMs);
}
