namespace EdgeGuard.Core.Interlocks;

/// <summary>What the guard wants of one written point in this scan.</summary>
public struct CommandDecision
{
    /// <summary>Wanted engineering value.</summary>
    public double Value;

    /// <summary>True when the value is to be written now; repeated each scan until the read-back agrees.</summary>
    public bool Write;

    /// <summary>
    /// True when the write can only remove power. It overtakes everything queued and waits for nothing; a write
    /// that is not de-energising is dropped, never replayed, when the link is lost.
    /// </summary>
    public bool DeEnergising;
}
