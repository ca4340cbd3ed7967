using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Service.FieldIo;

/// <summary>What one link has been through since start. Written by its worker only, read by anyone.</summary>
public sealed class LinkFigures
{
    private long _goodReads;
    private long _failedReads;
    private long _goodWrites;
    private long _failedWrites;
    private long _droppedWrites;
    private long _timeouts;
    private long _connects;
    private long _losses;
    private long _pollOverruns;
    private long _faults;
    private long _exceptions;
    private long _badAnswers;
    private long _splits;
    private long _replacedFunctions;
    private long _roundTripLastUs;
    private long _roundTripMaxUs;

    /// <summary>Answered poll requests.</summary>
    public long GoodReads => Volatile.Read(ref _goodReads);

    /// <summary>Poll requests without a usable answer, exceptions of the device included.</summary>
    public long FailedReads => Volatile.Read(ref _failedReads);

    /// <summary>Confirmed writes.</summary>
    public long GoodWrites => Volatile.Read(ref _goodWrites);

    /// <summary>Writes refused or not answered.</summary>
    public long FailedWrites => Volatile.Read(ref _failedWrites);

    /// <summary>Energising writes dropped because the link was lost; none is ever replayed.</summary>
    public long DroppedWrites => Volatile.Read(ref _droppedWrites);

    /// <summary>Transactions that ran into their time limit.</summary>
    public long Timeouts => Volatile.Read(ref _timeouts);

    /// <summary>From the sending of the last answered request to its answer, µs; 0 before there was one.</summary>
    public long RoundTripLastUs => Volatile.Read(ref _roundTripLastUs);

    /// <summary>The longest of them since start, µs.</summary>
    public long RoundTripMaxUs => Volatile.Read(ref _roundTripMaxUs);

    /// <summary>Connections that were proved by an answer.</summary>
    public long Connects => Volatile.Read(ref _connects);

    /// <summary>Proved connections that were lost or closed after a failure.</summary>
    public long Losses => Volatile.Read(ref _losses);

    /// <summary>Poll rounds that were skipped because the previous one took too long.</summary>
    public long PollOverruns => Volatile.Read(ref _pollOverruns);

    /// <summary>Exceptions that no outcome describes: faults of the software.</summary>
    public long Faults => Volatile.Read(ref _faults);

    /// <summary>Exception answers of devices, to reads and writes.</summary>
    public long Exceptions => Volatile.Read(ref _exceptions);

    /// <summary>Answers that did not fit their request; each closed the connection.</summary>
    public long BadAnswers => Volatile.Read(ref _badAnswers);

    /// <summary>Poll requests that a device refused to answer across a gap, and that are read in parts since.</summary>
    public long SplitRequests => Volatile.Read(ref _splits);

    /// <summary>Devices that refuse a function by which single values are written, and get them by the other one since; registers and coils apart.</summary>
    public long ReplacedFunctions => Volatile.Read(ref _replacedFunctions);

    /// <summary>Outcome of the latest request that was not answered well, as it ends a connection; None before the first. Its worker only.</summary>
    internal ModbusOutcome LastFailure { get; private set; }

    internal void CountRead(bool good) => Add(ref good ? ref _goodReads : ref _failedReads, 1);

    internal void CountWrite(ModbusResult result)
    {
        Add(ref result.IsGood ? ref _goodWrites : ref _failedWrites, 1);
        Add(ref _exceptions, result.Outcome == ModbusOutcome.DeviceException ? 1 : 0);
    }

    /// <summary>Keeps the round trip of what was answered, exceptions of the device included.</summary>
    internal void NoteRoundTrip(ModbusOutcome outcome, long us)
    {
        if (outcome is ModbusOutcome.Good or ModbusOutcome.DeviceException)
        {
            Volatile.Write(ref _roundTripLastUs, us);
            Volatile.Write(ref _roundTripMaxUs, Math.Max(_roundTripMaxUs, us));
        }
    }

    internal void CountDropped() => Add(ref _droppedWrites, 1);

    /// <summary>Counts what was not answered, or not answered as it must be.</summary>
    internal void CountFailure(ModbusOutcome outcome)
    {
        LastFailure = outcome;
        Add(ref _timeouts, outcome == ModbusOutcome.Timeout ? 1 : 0);
        Add(ref _badAnswers, outcome == ModbusOutcome.BadAnswer ? 1 : 0);
    }

    internal void CountConnect() => Add(ref _connects, 1);

    internal void CountLoss() => Add(ref _losses, 1);

    internal void CountPollOverruns(long skipped) => Add(ref _pollOverruns, skipped);

    internal void CountFault() => Add(ref _faults, 1);

    internal void CountException() => Add(ref _exceptions, 1);

    internal void CountReplacedFunction() => Add(ref _replacedFunctions, 1);

    internal void CountSplit() => Add(ref _splits, 1);

    private static void Add(ref long counter, long by) => Volatile.Write(ref counter, counter + by);
}
