namespace EdgeGuard.Service.Requests;

/// <summary>How many notes may be written down: a few at once, then so many a second. What is left out is counted and told with the next.</summary>
internal sealed class NoteGate
{
    private const int BurstMax = 20;
    private const int PerSecond = 2;
    private const int MsPerNote = 1000 / PerSecond;

    private readonly Lock _gate = new();
    private long _left = BurstMax;
    private long _refilledMs;
    private long _leftOut;

    /// <summary>Whether one more may be written; then <paramref name="leftOut"/> says how many were not since the last.</summary>
    public bool TryPass(long nowMs, out long leftOut)
    {
        lock (_gate)
        {
            long more = (nowMs - _refilledMs) / MsPerNote;
            _refilledMs += more * MsPerNote;
            _left = Math.Min(BurstMax, _left + Math.Min(BurstMax, more));
            leftOut = _leftOut;
            if (_left == 0)
            {
                _leftOut++;
                return false;
            }

            _left--;
            _leftOut = 0;
            return true;
        }
    }
}
