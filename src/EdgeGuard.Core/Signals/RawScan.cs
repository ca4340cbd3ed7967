namespace EdgeGuard.Core.Signals;

/// <summary>
/// Everything that decides, as one input: words, outcomes, ages, requests, journal state, command feedback, clock
/// quality. The same sequence of these gives the same decisions bit for bit, so this is also what is recorded.
/// All arrays are allocated once and reused.
/// </summary>
public sealed class RawScan
{
    /// <summary>Allocates the arrays for a site.</summary>
    /// <param name="blockWordCounts">Number of words of each poll block.</param>
    /// <param name="unitCount">Number of units.</param>
    public RawScan(ReadOnlySpan<int> blockWordCounts, int unitCount)
    {
        Blocks = new RawBlock[blockWordCounts.Length];
        for (int i = 0; i < Blocks.Length; i++)
        {
            Blocks[i].Words = new ushort[blockWordCounts[i]];
            Blocks[i].AgeMs = int.MaxValue;
        }

        Requests = new OperatorRequest[unitCount];
        Feedback = new CommandFeedback[unitCount * Interlocks.CommandRoles.Count];
    }

    /// <summary>Number of the scan since start, from 0, rising by exactly 1.</summary>
    public long Scan { get; set; }

    /// <summary>UTC of the nominal scan time, ms since 1970-01-01; for stamps only, no decision reads it.</summary>
    public long UtcUnixMs { get; set; }

    /// <summary>How far the clock can be trusted.</summary>
    public ClockQuality Clock { get; set; }

    /// <summary>
    /// Measured time from the beginning of the previous scan to the beginning of this one, ms; 0 in the first scan and
    /// where scans are conducted. Delays count nominal scans and do not read it; it tells a guard that stood still, whose
    /// cabinets may have removed power meanwhile.
    /// </summary>
    public int GapMs { get; set; }

    /// <summary>
    /// Nominal scans between the previous scan and this one that were never made because the machine stood still; 0 or
    /// more. Every delay that ends in a demand goes on through them; a proof that ends in a permission does not, since
    /// nobody looked.
    /// </summary>
    public int SkippedScans { get; set; }

    /// <summary>Whether events can be made durable.</summary>
    public JournalHealth Journal { get; set; }

    /// <summary>Highest event sequence number known to be on disk; 0 when none.</summary>
    public long DurableEvent { get; set; }

    /// <summary>Poll blocks in the order of the site table.</summary>
    public RawBlock[] Blocks { get; }

    /// <summary>One request slot per unit.</summary>
    public OperatorRequest[] Requests { get; }

    /// <summary>Feedback of each command, index = unit × <see cref="Interlocks.CommandRoles.Count"/> + role.</summary>
    public CommandFeedback[] Feedback { get; }
}
