using System.Collections.Concurrent;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Brings refusals of this process to the guard's journal, on a thread of its own: no call waits for it, and a flood of
/// calls takes neither memory nor the guard's few places. What does not fit is counted and told with the next.
/// </summary>
internal sealed class RefusalNotes : IDisposable
{
    private const int WaitingMax = 32;
    private const int PauseMs = 100;
    private const int StopMs = 3_000;

    private readonly IGuardRequests _requests;
    private readonly BlockingCollection<(string Person, string Reason)> _waiting = new(WaitingMax);
    private readonly Thread _thread;
    private long _leftOut;

    public RefusalNotes(IGuardRequests requests)
    {
        _requests = requests;
        _thread = new Thread(Run) { IsBackground = true, Name = "notes" };
        _thread.Start();
    }

    /// <summary>Never waits.</summary>
    public void Add(string person, string reason)
    {
        if (!_waiting.IsAddingCompleted && !_waiting.TryAdd((person, reason)))
        {
            Interlocked.Increment(ref _leftOut);
        }
    }

    public void Dispose()
    {
        _waiting.CompleteAdding();
        if (_thread.Join(StopMs))
        {
            _waiting.Dispose();
        }
    }

    private void Run()
    {
        foreach ((string person, string reason) in _waiting.GetConsumingEnumerable())
        {
            long leftOut = Interlocked.Exchange(ref _leftOut, 0);
            _requests.Note(person, leftOut == 0 ? reason : $"{reason} ({leftOut} further left out before)");
            Thread.Sleep(PauseMs);
        }
    }
}
