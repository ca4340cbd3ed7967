using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Modbus.Transports;

/// <summary>The running counters of a link: written by its thread, read by any.</summary>
internal sealed class LinkTally
{
    private long _requests;
    private long _good;
    private long _exceptions;
    private long _timeouts;
    private long _badAnswers;
    private long _lost;
    private long _late;
    private long _connects;

    public void Request() => Interlocked.Increment(ref _requests);

    public void LateAnswer() => Interlocked.Increment(ref _late);

    public void Connected() => Interlocked.Increment(ref _connects);

    public void Ended(ModbusOutcome outcome)
    {
        switch (outcome)
        {
            case ModbusOutcome.Good:
                Interlocked.Increment(ref _good);
                break;
            case ModbusOutcome.DeviceException:
                Interlocked.Increment(ref _exceptions);
                break;
            case ModbusOutcome.Timeout:
                Interlocked.Increment(ref _timeouts);
                break;
            case ModbusOutcome.BadAnswer:
                Interlocked.Increment(ref _badAnswers);
                break;
            default:
                Interlocked.Increment(ref _lost);
                break;
        }
    }

    public LinkCounters Snapshot() => new(
        Interlocked.Read(ref _requests),
        Interlocked.Read(ref _good),
        Interlocked.Read(ref _exceptions),
        Interlocked.Read(ref _timeouts),
        Interlocked.Read(ref _badAnswers),
        Interlocked.Read(ref _lost),
        Interlocked.Read(ref _late),
        Math.Max(0, Interlocked.Read(ref _connects) - 1));
}
