using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Modbus.Transports;

/// <summary>The running counters of a link: written by its thread, read by any.</summary>
internal sealed class LinkTally
{
    private readonly long[] _outcomes = new long[(int)ModbusOutcome.BroadcastSent + 1];
    private readonly long[] _faults = new long[(int)AnswerFault.UnknownFunction + 1];
    private long _requests;
    private long _late;
    private long _duplicates;
    private long _connects;
    private long _truncated;
    private long _split;
    private long _glued;
    private long _zeroTransactionIds;
    private long _noise;
    private long _deferred;

    public void Request() => Add(ref _requests);

    public void LateAnswer(bool isDuplicate)
    {
        Add(ref _late);
        if (isDuplicate)
        {
            Add(ref _duplicates);
        }
    }

    public void Connected() => Add(ref _connects);

    public void Deferred() => Add(ref _deferred);

    public void Truncated() => Add(ref _truncated);

    public void Split() => Add(ref _split);

    public void Glued() => Add(ref _glued);

    public void ZeroTransactionId() => Add(ref _zeroTransactionIds);

    public void Noise(int byteCount) => Volatile.Write(ref _noise, _noise + byteCount);

    public void Ended(ModbusOutcome outcome) => Add(ref _outcomes[(int)outcome]);

    /// <summary>The cause of a bad answer, beside its outcome.</summary>
    public void Bad(AnswerFault fault) => Add(ref _faults[(int)fault]);

    public LinkCounters Snapshot() => new(
        Volatile.Read(ref _requests),
        Of(ModbusOutcome.Good),
        Of(ModbusOutcome.DeviceException),
        Of(ModbusOutcome.Timeout),
        Of(ModbusOutcome.BadAnswer),
        Of(ModbusOutcome.ConnectionLost),
        Volatile.Read(ref _late),
        Math.Max(0, Volatile.Read(ref _connects) - 1))
    {
        Broadcasts = Of(ModbusOutcome.BroadcastSent),
        Duplicates = Volatile.Read(ref _duplicates),
        WrongUnit = Of(AnswerFault.UnitId),
        WrongFunction = Of(AnswerFault.Function),
        WrongLength = Of(AnswerFault.PduLength),
        WrongEcho = Of(AnswerFault.Echo),
        WrongTransaction = Of(AnswerFault.TransactionId),
        Malformed = Of(AnswerFault.ProtocolId) + Of(AnswerFault.FrameLength) + Of(AnswerFault.ExceptionCode) + Of(AnswerFault.UnknownFunction),
        BadCrc = Of(AnswerFault.Crc),
        Truncated = Volatile.Read(ref _truncated),
        Split = Volatile.Read(ref _split),
        Glued = Volatile.Read(ref _glued),
        ZeroTransactionIds = Volatile.Read(ref _zeroTransactionIds),
        Noise = Volatile.Read(ref _noise),
        Deferred = Volatile.Read(ref _deferred),
    };

    // One writer: a plain store that other threads see whole is enough, and costs no bus lock in each transaction.
    private static void Add(ref long counter) => Volatile.Write(ref counter, counter + 1);

    private long Of(ModbusOutcome outcome) => Volatile.Read(ref _outcomes[(int)outcome]);

    private long Of(AnswerFault fault) => Volatile.Read(ref _faults[(int)fault]);
}
