using EdgeGuard.Modbus.Framing;

namespace EdgeGuard.Modbus.Client;

/// <summary>
/// The client's half of a Modbus TCP connection without I/O and without a clock. An answer counts only if transaction,
/// unit, function, length and echo all fit the request that is open. Answers to earlier requests of the same
/// connection are dropped; everything else that does not fit breaks the connection, because a stream that is wrong
/// once cannot be trusted about which frame is next.
/// </summary>
public sealed class ClientEngine : ModbusClientEngine
{
    /// <summary>How many transactions back an answer still counts as late; an older identifier breaks the connection.</summary>
    public const int LateWindow = 1024;

    private readonly bool _acceptsZeroTransactionId;
    private readonly bool[] _isAnswered = new bool[LateWindow];
    private ushort _transactionId;
    private int _issuedCount;
    private bool _isBroken;

    /// <summary>Makes an engine.</summary>
    /// <param name="acceptsZeroTransactionId">
    /// True for a device that answers every request with transaction id 0: such an answer is held against the open
    /// request by unit, function, length and echo alone, so a late one can no longer be told from the right one.
    /// </param>
    public ClientEngine(bool acceptsZeroTransactionId = false)
        : base(MbapCodec.MaxFrameLength, MbapCodec.HeaderLength) => _acceptsZeroTransactionId = acceptsZeroTransactionId;

    /// <summary>True when the answer taken last carried transaction id 0 in place of that of the request.</summary>
    public bool HadZeroTransactionId { get; private set; }

    /// <inheritdoc/>
    public override void Reset()
    {
        IsPending = false;
        _isBroken = false;
        _issuedCount = 0;
        Fault = AnswerFault.None;
    }

    /// <inheritdoc/>
    public override ClientStatus Take(ReadOnlySpan<byte> received, Span<ushort> words, out int consumed)
    {
        consumed = 0;
        if (_isBroken)
        {
            return ClientStatus.Broken;
        }

        switch (MbapCodec.Decode(received, out MbapFrame frame))
        {
            case FrameStatus.NeedMore:
                return ClientStatus.NeedMore;
            case FrameStatus.BadProtocolId:
                return Break(AnswerFault.ProtocolId);
            case FrameStatus.Ok:
                consumed = frame.FrameLength;
                return Judge(frame, words);
            default:
                return Break(AnswerFault.FrameLength);
        }
    }

    private protected override int Frame(byte unitId, int pduLength)
    {
        _transactionId = unchecked((ushort)(_transactionId + 1));
        if (_acceptsZeroTransactionId && _transactionId == 0)
        {
            _transactionId = 1; // 0 stands for "not told" here and must not be one of ours
        }

        _isAnswered[_transactionId % LateWindow] = false;
        _issuedCount = Math.Min(_issuedCount + 1, LateWindow);
        HadZeroTransactionId = false;
        return MbapCodec.WriteHeader(FrameBuffer, _transactionId, unitId, pduLength);
    }

    private protected override ClientStatus Break(AnswerFault fault)
    {
        IsPending = false;
        _isBroken = true;
        Fault = fault;
        Result = new ModbusResult(ModbusOutcome.BadAnswer);
        return ClientStatus.Broken;
    }

    private ClientStatus Judge(MbapFrame frame, Span<ushort> words)
    {
        if (_acceptsZeroTransactionId && frame.TransactionId == 0)
        {
            return JudgeZero(frame, words);
        }

        int age = unchecked((ushort)(_transactionId - frame.TransactionId));
        if (age == 0 && IsPending)
        {
            return JudgeAnswer(frame, words);
        }

        // Age 0 without an open transaction is a second copy of the last answer, or the answer after the deadline.
        return age < _issuedCount ? DropLate(frame.TransactionId) : Break(AnswerFault.TransactionId);
    }

    private ClientStatus JudgeZero(MbapFrame frame, Span<ushort> words)
    {
        if (!IsPending)
        {
            return _issuedCount > 0 ? DropLate(_transactionId) : Break(AnswerFault.TransactionId);
        }

        HadZeroTransactionId = true;
        return JudgeAnswer(frame, words);
    }

    private ClientStatus JudgeAnswer(MbapFrame frame, Span<ushort> words)
    {
        if (frame.UnitId != UnitId)
        {
            return Break(AnswerFault.UnitId);
        }

        _isAnswered[_transactionId % LateWindow] = true;
        return JudgePdu(frame.Pdu, words);
    }

    private ClientStatus DropLate(ushort transactionId)
    {
        WasDuplicate = _isAnswered[transactionId % LateWindow];
        _isAnswered[transactionId % LateWindow] = true;
        return ClientStatus.LateDropped;
    }
}
