using EdgeGuard.Modbus.Framing;
using EdgeGuard.Modbus.Pdu;

namespace EdgeGuard.Modbus.Client;

/// <summary>
/// The client's half of an RTU line without I/O and without a clock. RTU has no transaction id: an answer is known by
/// unit, function, length and echo alone. The engine therefore remembers for each unit the request that is still owed
/// an answer, and whether there are others before it; what shows itself as that late answer is dropped, and where it could
/// not be told from the right one <see cref="MustKeepDistance"/> says so, and the link waits before it asks again. Anything
/// else that does not fit ends the transaction; the line itself is good again after a silence.
/// </summary>
public sealed class RtuClientEngine : ModbusClientEngine
{
    /// <summary>Unit id of a broadcast on a serial line (Serial Line V1.02, 2.2).</summary>
    public const byte BroadcastUnitId = 0;

    private const int PduStart = 1;
    private const int Undefined = -1;

    private readonly byte[] _owedFunction = new byte[256]; // 0: nothing is owed
    private readonly short[] _owedByteCount = new short[256];
    private readonly bool[] _owesSeveral = new bool[256]; // others were asked for before the one that is noted
    private readonly byte[] _lastAnswer = new byte[RtuCodec.MaxFrameLength];
    private int _lastAnswerLength;

    /// <summary>Makes an engine.</summary>
    public RtuClientEngine()
        : base(RtuCodec.MaxFrameLength, PduStart)
    {
    }

    /// <summary>True when the request begun last is a broadcast: it ends with its sending.</summary>
    public bool IsBroadcast => UnitId == BroadcastUnitId;

    /// <summary>
    /// True when an answer still owed by this unit could be taken for that of the open request: both are reads by the
    /// same function with the same count, or several are owed, whose functions and counts are not kept. A write needs no
    /// distance: the echo of another one shows, and that of the same one says the same.
    /// </summary>
    public bool MustKeepDistance =>
        IsPending && !IsBroadcast && ByteCountOf(RequestPdu) is int count && count != Undefined
        && (_owesSeveral[UnitId] || (_owedFunction[UnitId] == RequestPdu[0] && count == _owedByteCount[UnitId]));

    /// <summary>True when the answer taken last may have been that of an earlier request, so that its own may still come.</summary>
    internal bool IsStillOwed => _owedFunction[UnitId] != 0;

    /// <summary>
    /// The line was opened again. What is owed stays owed: the devices behind a port or a box with a serial line know
    /// nothing of its having been closed.
    /// </summary>
    public override void Reset()
    {
        IsPending = false;
        Fault = AnswerFault.None;
        _lastAnswerLength = 0;
    }

    /// <inheritdoc/>
    public override void Abandon(ModbusOutcome outcome)
    {
        NoteOwed();
        base.Abandon(outcome);
    }

    /// <summary>Ends a broadcast once its bytes are on the line.</summary>
    public void EndBroadcast() => Complete(new ModbusResult(ModbusOutcome.BroadcastSent));

    /// <summary>What this unit owed will not come any more.</summary>
    public void Forgive(byte unitId)
    {
        _owedFunction[unitId] = 0;
        _owesSeveral[unitId] = false;
    }

    /// <inheritdoc/>
    public override ClientStatus Take(ReadOnlySpan<byte> received, Span<ushort> words, out int consumed) =>
        Take(received, words, isAwaited: IsPending, out consumed);

    /// <summary>Looks at bytes that came before the open request was sent: nothing in them can be its answer.</summary>
    /// <returns>LateDropped for a whole frame, NeedMore, or Broken for bytes that are no frame; the open request stays open.</returns>
    public ClientStatus TakeBefore(ReadOnlySpan<byte> received, out int consumed) =>
        Take(received, default, isAwaited: false, out consumed);

    /// <summary>Ends the open request because the adapter's own echo came back altered.</summary>
    internal ClientStatus RefuseEcho() => Break(AnswerFault.Echo);

    private ClientStatus Take(ReadOnlySpan<byte> received, Span<ushort> words, bool isAwaited, out int consumed)
    {
        consumed = 0;
        int length = RtuLength.OfAnswer(received);
        if (length == RtuLength.Unknown)
        {
            return BreakIf(isAwaited, AnswerFault.UnknownFunction);
        }

        if (length == 0 || received.Length < length)
        {
            return ClientStatus.NeedMore;
        }

        ReadOnlySpan<byte> frame = received[..length];
        if (RtuCodec.Read(frame, out byte unitId, out ReadOnlySpan<byte> pdu) != FrameStatus.Ok)
        {
            return BreakIf(isAwaited, AnswerFault.Crc, isAnswer: frame[0] == UnitId && frame[1] == RequestPdu[0]);
        }

        consumed = length;
        return isAwaited && unitId == UnitId ? JudgeOwn(frame, pdu, words) : JudgeUnexpected(frame, unitId, isAwaited);
    }

    private ClientStatus JudgeOwn(ReadOnlySpan<byte> frame, ReadOnlySpan<byte> pdu, Span<ushort> words)
    {
        if (IsOwed(pdu))
        {
            return DropOwed(UnitId);
        }

        ClientStatus status = JudgePdu(pdu, words);
        if (status == ClientStatus.Completed)
        {
            Settle(pdu[0]);
            frame.CopyTo(_lastAnswer);
            _lastAnswerLength = frame.Length;
        }

        return status;
    }

    /// <summary>
    /// Devices answer in turn, so an answer ends what was owed before it. An exception carries nothing by which that of an
    /// earlier request by the same function could be told from it; then the open request stays owed.
    /// </summary>
    private void Settle(byte answeredFunction)
    {
        bool mayBeLate = answeredFunction != RequestPdu[0] && (_owesSeveral[UnitId] || _owedFunction[UnitId] == RequestPdu[0]);
        Forgive(UnitId);
        if (mayBeLate)
        {
            Owe();
        }
    }

    /// <summary>True when a frame of the unit that is asked shows itself as the answer to its earlier request.</summary>
    private bool IsOwed(ReadOnlySpan<byte> pdu)
    {
        byte owed = _owedFunction[UnitId];
        if (owed == 0 || (pdu[0] & ~PduLimits.ExceptionFlag) != owed)
        {
            return false;
        }

        if (owed != RequestPdu[0])
        {
            return true;
        }

        int asked = ByteCountOf(RequestPdu);
        return pdu[0] == owed && (asked == Undefined
            ? AnswerCodec.Check(pdu, RequestPdu, out _, out _) == AnswerStatus.WrongEcho
            : pdu.Length > 1 && pdu[1] != asked && pdu[1] == _owedByteCount[UnitId]);
    }

    /// <summary>A whole frame nobody waits for now: owed from earlier, a copy of the last one, or wrong.</summary>
    private ClientStatus JudgeUnexpected(ReadOnlySpan<byte> frame, byte unitId, bool isAwaited)
    {
        if (_owedFunction[unitId] != 0)
        {
            return DropOwed(unitId);
        }

        WasDuplicate = frame.SequenceEqual(_lastAnswer.AsSpan(0, _lastAnswerLength));
        return WasDuplicate || !isAwaited ? ClientStatus.LateDropped : Break(AnswerFault.UnitId);
    }

    private ClientStatus DropOwed(byte unitId)
    {
        WasDuplicate = false;
        _owedFunction[unitId] = 0;
        return ClientStatus.LateDropped;
    }

    private void NoteOwed()
    {
        if (IsPending && !IsBroadcast)
        {
            byte owed = _owedFunction[UnitId];
            _owesSeveral[UnitId] |= owed != 0 && (owed != RequestPdu[0] || _owedByteCount[UnitId] != ByteCountOf(RequestPdu));
            Owe();
        }
    }

    private void Owe()
    {
        _owedFunction[UnitId] = RequestPdu[0];
        _owedByteCount[UnitId] = (short)ByteCountOf(RequestPdu);
    }

    /// <summary>Byte count that the answer to a read must carry; Undefined for what is answered by an echo.</summary>
    private static int ByteCountOf(ReadOnlySpan<byte> request) => (FunctionCode)request[0] switch
    {
        FunctionCode.ReadCoils or FunctionCode.ReadDiscreteInputs => PduBits.ByteCount((request[3] << 8) | request[4]),
        FunctionCode.ReadHoldingRegisters or FunctionCode.ReadInputRegisters or FunctionCode.ReadWriteMultipleRegisters =>
            2 * ((request[3] << 8) | request[4]),
        FunctionCode.ReadExceptionStatus or FunctionCode.EncapsulatedInterface => 0, // no count: any two look alike
        _ => Undefined,
    };

    private protected override int Frame(byte unitId, int pduLength) =>
        RtuCodec.Write(FrameBuffer, unitId, FrameBuffer.Slice(PduStart, pduLength));

    private protected override void RequireUnit(byte unitId)
    {
        // V1.02, 2.1: a broadcast is a write; a read that nobody may answer makes no sense.
        if (unitId == BroadcastUnitId && (FunctionCode)FrameBuffer[PduStart] is not (
            FunctionCode.WriteSingleCoil or FunctionCode.WriteSingleRegister or FunctionCode.WriteMultipleCoils
            or FunctionCode.WriteMultipleRegisters or FunctionCode.MaskWriteRegister))
        {
            throw new ArgumentOutOfRangeException(nameof(unitId), unitId, "Unit 0 is broadcast on a serial line: only writes.");
        }
    }

    private ClientStatus BreakIf(bool isAwaited, AnswerFault fault, bool isAnswer = false) =>
        isAwaited ? Break(fault, isAnswer) : ClientStatus.Broken;

    private protected override ClientStatus Break(AnswerFault fault) => Break(fault, isAnswer: false);

    /// <summary>
    /// Ends the transaction. What was no frame may have been said by the line itself when a driver let go of it, and a
    /// frame that does not fit was none of this answer: in both cases that may still follow. Only a disturbed frame that
    /// begins like the answer is taken for it.
    /// </summary>
    private ClientStatus Break(AnswerFault fault, bool isAnswer)
    {
        if (!isAnswer)
        {
            NoteOwed();
        }

        IsPending = false;
        Fault = fault;
        Result = new ModbusResult(ModbusOutcome.BadAnswer);
        return ClientStatus.Broken;
    }
}
