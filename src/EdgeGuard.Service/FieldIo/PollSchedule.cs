namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// Which blocks of a link are due in which round. A block of period n is read in every n-th round, each with a phase of
/// its own, so that slow blocks do not all fall into the same round. After a loss everything is due at once.
/// </summary>
internal sealed class PollSchedule
{
    private readonly int[] _everyScans;
    private readonly int[] _phases;
    private readonly long[] _due;
    private long _round;

    public PollSchedule(IReadOnlyList<PollRequestTable> polls)
    {
        _everyScans = new int[polls.Count];
        _phases = new int[polls.Count];
        _due = new long[polls.Count];
        int slow = 0;
        for (int i = 0; i < polls.Count; i++)
        {
            _everyScans[i] = Math.Max(1, polls[i].EveryScans);
            _phases[i] = _everyScans[i] > 1 ? slow++ % _everyScans[i] : 0;
        }
    }

    public void BeginRound() => _round++;

    public bool IsDue(int index) => _round >= _due[index];

    /// <summary>The block was read: its next round is the next one of its phase.</summary>
    public void Done(int index)
    {
        int every = _everyScans[index];
        long next = _round + 1;
        _due[index] = next + ((_phases[index] - (next % every) + every) % every);
    }

    public void AllDue() => Array.Clear(_due);
}
