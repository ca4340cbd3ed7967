namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// Time whose waits hold the thread that asks for them. The system's own time wakes a waiting link by its timer thread and
/// its pool; on a machine that gives no further thread or file descriptor the runtime cannot make those and ends the
/// process, so that the loss of one link would end the guard of all. Here a wait needs nothing but the thread it holds.
/// </summary>
/// <param name="stop">Ends every wait.</param>
internal sealed class WaitingTime(WaitHandle stop) : TimeProvider
{
    /// <summary>Waits for the time, then calls back on this thread; a wait that is ended by the stop calls nobody.</summary>
    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        ArgumentNullException.ThrowIfNull(callback);
        if (!stop.WaitOne(dueTime))
        {
            callback(state);
        }

        return new Elapsed();
    }

    private sealed class Elapsed : ITimer
    {
        public bool Change(TimeSpan dueTime, TimeSpan period) => false;

        public void Dispose()
        {
        }

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }
}
