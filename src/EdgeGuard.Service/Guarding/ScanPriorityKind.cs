namespace EdgeGuard.Service.Guarding;

/// <summary>How the system's scheduler treats the scan thread.</summary>
internal enum ScanPriorityKind
{
    /// <summary>Like any other thread.</summary>
    Ordinary,

    /// <summary>Like any other, but let in at once when it wakes: a time slice of 0.1 ms (Linux 6.12 and later; before, the slice is ignored).</summary>
    ShortSlice,

    /// <summary>Before every ordinary thread of the machine (SCHED_FIFO, priority 1).</summary>
    RealTime,
}
