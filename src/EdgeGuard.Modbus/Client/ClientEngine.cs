using EdgeGuard.Modbus.Framing;
using EdgeGuard.Modbus.Pdu;

namespace EdgeGuard.Modbus.Client;

/// <summary>
/// The client's half of a connection without I/O and without a clock: one transaction at a time, request bytes out,
/// received bytes in. An answer counts only if transaction, unit, function, length and echo all fit the request that
/// is open. Answers to earlier requests of the same connection are dropped; everything else that does not fit breaks
/// the connection, because a stream that is wrong once cannot be trusted about which frame is next. Allocates nothing
/// after construction; not for use by two threads.
/// </summary>
public sealed class ClientEngine
{
    /// <summary>How many transactions back an answer still counts as late; an older identifier breaks the connection.</summary>
    public const int LateWindow = 1024;

    private readonly byte[] _frame = new byte[MbapCodec.MaxFrameLength];
    private int _frameLength;
    private byte _unitId;
    private ushort _transactionId;
    private int _issuedCount;
    private bool _isBroken;

    /// <summary>True between a Begin method and the end of the transaction.</summary>
    public bool IsPending { get; private set; }

    /// <summary>Outcome of the last transaction that ended.</summary>
    public ModbusResult Result { get; private set; }

    /// <summary>Why the last answer was refused; None while all is well.</summary>
    public AnswerFault Fault { get; private set; }

    /// <summary>Bytes of the request to send; valid until the next Begin method.</summary>
    public ReadOnlySpan<byte> Request => _frame.AsSpan(0, _frameLength);

    private Span<byte> Pdu => _frame.AsSpan(MbapCodec.HeaderLength);

    /// <summary>Begins a read of 1 to 125 input or holding registers (functions 04, 03).</summary>
    public void BeginReadRegisters(byte unitId, ModbusTable table, ushort address, int quantity)
    {
        FunctionCode function = table switch
        {
            ModbusTable.InputRegisters => FunctionCode.ReadInputRegisters,
            ModbusTable.HoldingRegisters => FunctionCode.ReadHoldingRegisters,
            _ => throw new ArgumentOutOfRangeException(nameof(table), table, "Not a table of registers."),
        };
        Begin(unitId, RequestCodec.WriteRead(Pdu, function, address, quantity));
    }

    /// <summary>Begins a read of 1 to 2000 coils or discrete inputs (functions 01, 02).</summary>
    public void BeginReadBits(byte unitId, ModbusTable table, ushort address, int quantity)
    {
        FunctionCode function = table switch
        {
            ModbusTable.Coils => FunctionCode.ReadCoils,
            ModbusTable.DiscreteInputs => FunctionCode.ReadDiscreteInputs,
            _ => throw new ArgumentOutOfRangeException(nameof(table), table, "Not a table of bits."),
        };
        Begin(unitId, RequestCodec.WriteRead(Pdu, function, address, quantity));
    }

    /// <summary>Begins a write of one coil (function 05).</summary>
    public void BeginWriteCoil(byte unitId, ushort address, bool value) =>
        Begin(unitId, RequestCodec.WriteSingleCoil(Pdu, address, value));

    /// <summary>Begins a write of one holding register (function 06).</summary>
    public void BeginWriteRegister(byte unitId, ushort address, ushort value) =>
        Begin(unitId, RequestCodec.WriteSingleRegister(Pdu, address, value));

    /// <summary>Begins a write of 1 to 1968 coils (function 15).</summary>
    public void BeginWriteCoils(byte unitId, ushort address, ReadOnlySpan<bool> values) =>
        Begin(unitId, RequestCodec.WriteMultipleCoils(Pdu, address, values));

    /// <summary>Begins a write of 1 to 123 holding registers (function 16).</summary>
    public void BeginWriteRegisters(byte unitId, ushort address, ReadOnlySpan<ushort> words) =>
        Begin(unitId, RequestCodec.WriteMultipleRegisters(Pdu, address, words));

    /// <summary>Ends the open transaction without an answer (deadline passed, connection lost); its answer is late from now on.</summary>
    public void Abandon(ModbusOutcome outcome)
    {
        IsPending = false;
        Result = new ModbusResult(outcome);
    }

    /// <summary>A new connection: answers to requests of the old one cannot arrive on it.</summary>
    public void Reset()
    {
        IsPending = false;
        _isBroken = false;
        _issuedCount = 0;
        Fault = AnswerFault.None;
    }

    /// <summary>Looks at the first frame of the received bytes; call again with the rest after LateDropped.</summary>
    /// <param name="received">All bytes received and not yet consumed, at most one frame of which is judged.</param>
    /// <param name="words">Filled with the values of a read when the status is Completed with a good result, else untouched.</param>
    /// <param name="consumed">Bytes done with; never more than there are.</param>
    public ClientStatus Take(ReadOnlySpan<byte> received, Span<ushort> words, out int consumed)
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

    private void Begin(byte unitId, int pduLength)
    {
        if (IsPending)
        {
            throw new InvalidOperationException("A transaction is open: take its answer or abandon it first.");
        }

        _transactionId = unchecked((ushort)(_transactionId + 1));
        _issuedCount = Math.Min(_issuedCount + 1, LateWindow);
        _unitId = unitId;
        _frameLength = MbapCodec.WriteHeader(_frame, _transactionId, unitId, pduLength);
        IsPending = true;
    }

    private ClientStatus Judge(MbapFrame frame, Span<ushort> words)
    {
        int age = unchecked((ushort)(_transactionId - frame.TransactionId));
        if (age == 0 && IsPending)
        {
            return JudgeAnswer(frame, words);
        }

        // Age 0 without an open transaction is a second copy of the last answer, or the answer after the deadline.
        return age < _issuedCount ? ClientStatus.LateDropped : Break(AnswerFault.TransactionId);
    }

    private ClientStatus JudgeAnswer(MbapFrame frame, Span<ushort> words)
    {
        if (frame.UnitId != _unitId)
        {
            return Break(AnswerFault.UnitId);
        }

        AnswerStatus status = AnswerCodec.Check(
            frame.Pdu, _frame.AsSpan(MbapCodec.HeaderLength, _frameLength - MbapCodec.HeaderLength),
            out ReadOnlySpan<byte> data, out ModbusExceptionCode exception);
        switch (status)
        {
            case AnswerStatus.Ok:
                Unpack(data, words);
                return Complete(new ModbusResult(ModbusOutcome.Good));
            case AnswerStatus.DeviceException:
                return Complete(new ModbusResult(ModbusOutcome.DeviceException, exception));
            case AnswerStatus.WrongFunction:
                return Break(AnswerFault.Function);
            case AnswerStatus.WrongEcho:
                return Break(AnswerFault.Echo);
            case AnswerStatus.WrongExceptionCode:
                return Break(AnswerFault.ExceptionCode);
            default:
                return Break(AnswerFault.PduLength);
        }
    }

    private void Unpack(ReadOnlySpan<byte> data, Span<ushort> words)
    {
        if (data.IsEmpty)
        {
            return; // a write
        }

        int quantity = (_frame[MbapCodec.HeaderLength + 3] << 8) | _frame[MbapCodec.HeaderLength + 4];
        bool isBits = (FunctionCode)_frame[MbapCodec.HeaderLength] is FunctionCode.ReadCoils or FunctionCode.ReadDiscreteInputs;
        if (isBits)
        {
            PduBits.Unpack(data, words[..quantity]);
        }
        else
        {
            PduRegisters.Unpack(data, words[..quantity]);
        }
    }

    private ClientStatus Complete(ModbusResult result)
    {
        IsPending = false;
        Result = result;
        return ClientStatus.Completed;
    }

    private ClientStatus Break(AnswerFault fault)
    {
        IsPending = false;
        _isBroken = true;
        Fault = fault;
        Result = new ModbusResult(ModbusOutcome.BadAnswer);
        return ClientStatus.Broken;
    }
}
