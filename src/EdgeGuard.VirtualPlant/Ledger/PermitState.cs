namespace EdgeGuard.VirtualPlant.Ledger;

/// <summary>Whether the cabinet is allowed to heat, and if not, why, as commanded (not as a faulty element obeys).</summary>
public enum PermitState : byte
{
    /// <summary>Withdrawn by command: token zero, relay or enable off, or never given.</summary>
    Withdrawn = 0,

    /// <summary>The permit token stopped changing.</summary>
    WatchdogExpired = 1,

    /// <summary>The hardwired chain is open.</summary>
    ChainOpen = 2,

    /// <summary>Heating is allowed.</summary>
    Permitted = 3,
}
