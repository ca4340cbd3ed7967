using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// COMM: every block the unit uses must have been answered within the limit, and a permit token must be confirmed
/// within the cabinet's watchdog time. The age is the larger of the one reported and the one counted here since the
/// last good read, so that a slot that keeps its age by mistake is seen. Removal proper is the cabinet's watchdog.
/// A guard that stood still for about the watchdog time must take it that the cabinet has removed power: to go on
/// renewing would energise again without a reset, so that is a demand however fresh the readings are by now.
/// </summary>
internal sealed class CommFunction : ProtectiveFunction
{
    private readonly int[] _blocks;
    private readonly uint[] _readCount;
    private readonly long[] _readScan;
    private long _tokenScan;
    private ScanDelay _old;

    public CommFunction(UnitTable table)
        : base(FunctionId.Comm)
    {
        List<int> blocks = [];
        foreach (SignalTable signal in table.Signals)
        {
            // The verdict on settings is no answer of the device: when it is not known CMDV says so.
            bool verdict = signal.Role is SignalRole.ControllerSettings or SignalRole.MeterSettings;
            if (!verdict && !blocks.Contains(signal.Block))
            {
                blocks.Add(signal.Block);
            }
        }

        _blocks = blocks.ToArray();
        _readCount = new uint[_blocks.Length];
        _readScan = new long[_blocks.Length];
    }

    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        bool fresh = true;
        long worstMs = 0;
        for (int i = 0; i < _blocks.Length; i++)
        {
            ref RawBlock block = ref unit.Raw.Blocks[_blocks[i]];
            fresh &= block.Result == ReadResult.Good;
            worstMs = Math.Max(worstMs, AgeMs(unit, i, ref block));
        }

        long standstillMs = StandstillMs(unit);
        long tokenMs = Math.Max(TokenUnconfirmedMs(unit), standstillMs);
        bool tokenLost = tokenMs > unit.Table.WatchdogMs;
        bool tooOld = worstMs > unit.Table.CommLimitMs || tokenLost;
        _old.Passed(!fresh || tooOld, unit.Scan, 0);
        status.Value = tokenLost ? tokenMs : worstMs;
        status.Limit = tokenLost ? unit.Table.WatchdogMs : unit.Table.CommLimitMs;
        status.Finding = !tokenLost ? Finding.None : standstillMs == tokenMs ? Finding.Standstill : Finding.TokenUnconfirmed;
        status.SinceScan = _old.Since;
        status.State = tooOld ? FunctionState.Demand : fresh ? FunctionState.Healthy : FunctionState.Pending;
    }

    private long AgeMs(UnitMemory unit, int index, ref RawBlock block)
    {
        if (block.Result == ReadResult.Good && block.ReadCount != _readCount[index])
        {
            _readCount[index] = block.ReadCount;
            _readScan[index] = unit.Scan;
        }

        // A block never read since start ages from the start of the guard, not from the beginning of time.
        long countedMs = (unit.Scan - _readScan[index]) * unit.Site.ScanMs;
        return block.AgeMs == int.MaxValue ? countedMs : Math.Max(countedMs, block.AgeMs);
    }

    private long TokenUnconfirmedMs(UnitMemory unit)
    {
        CommandFeedback feedback = unit.Raw.Feedback[(unit.Unit * CommandRoles.Count) + (int)CommandRole.Heartbeat];
        if (!unit.Permit || feedback is CommandFeedback.Confirmed or CommandFeedback.None)
        {
            _tokenScan = unit.Scan;
        }

        return (unit.Scan - _tokenScan) * unit.Site.ScanMs;
    }

    /// <summary>Age of the newest token after a standstill, ms: the gap and one scan for the way of the next write; 0 without one.</summary>
    private static long StandstillMs(UnitMemory unit)
    {
        long scanMs = unit.Site.ScanMs;
        return unit.Permit && unit.Raw.GapMs > 2 * scanMs ? unit.Raw.GapMs + scanMs : 0;
    }
}
