using EdgeGuard.Modbus.Pdu;

namespace EdgeGuard.Modbus.Client;

/// <summary>
/// What the client engines of all framings share: one transaction at a time, the request on the wire, the verdict on
/// its answer. The engines differ only in the frame around the PDU and in how much of an answer they can tell apart.
/// No I/O and no clock; allocates nothing after construction; not for use by two threads.
/// </summary>
public abstract class ModbusClientEngine
{
    private readonly byte[] _frame;
    private readonly int _pduStart;
    private readonly byte[] _answer = new byte[PduLimits.MaxPduLength];
    private int _pduLength;
    private int _answerLength;
    private int _frameLength;

    private protected ModbusClientEngine(int maxFrameLength, int pduStart)
    {
        _frame = new byte[maxFrameLength];
        _pduStart = pduStart;
    }

    /// <summary>True between a Begin method and the end of the transaction.</summary>
    public bool IsPending { get; private protected set; }

    /// <summary>Outcome of the last transaction that ended.</summary>
    public ModbusResult Result { get; private protected set; }

    /// <summary>Why the last answer was refused; None while all is well.</summary>
    public AnswerFault Fault { get; private protected set; }

    /// <summary>True when the answer dropped last had been taken before: a second copy, not one that came too late.</summary>
    public bool WasDuplicate { get; private protected set; }

    /// <summary>Bytes of the request to send; valid until the next Begin method.</summary>
    public ReadOnlySpan<byte> Request => _frame.AsSpan(0, _frameLength);

    /// <summary>PDU of the last good answer, function byte included; valid until the next Begin method.</summary>
    public ReadOnlySpan<byte> Answer => _answer.AsSpan(0, _answerLength);

    /// <summary>Unit id of the request that was begun last.</summary>
    public byte UnitId { get; private set; }

    private protected ReadOnlySpan<byte> RequestPdu => _frame.AsSpan(_pduStart, _pduLength);

    private protected Span<byte> FrameBuffer => _frame;

    private Span<byte> Pdu => _frame.AsSpan(_pduStart);

    /// <summary>Begins a read of 1 to 125 input or holding registers (functions 04, 03).</summary>
    public void BeginReadRegisters(byte unitId, ModbusTable table, ushort address, int quantity)
    {
        FunctionCode function = table switch
        {
            ModbusTable.InputRegisters => FunctionCode.ReadInputRegisters,
            ModbusTable.HoldingRegisters => FunctionCode.ReadHoldingRegisters,
            _ => throw new ArgumentOutOfRangeException(nameof(table), table, "Not a table of registers."),
        };
        RequireIdle();
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
        RequireIdle();
        Begin(unitId, RequestCodec.WriteRead(Pdu, function, address, quantity));
    }

    /// <summary>Begins a write of one coil (function 05).</summary>
    public void BeginWriteCoil(byte unitId, ushort address, bool value)
    {
        RequireIdle();
        Begin(unitId, RequestCodec.WriteSingleCoil(Pdu, address, value));
    }

    /// <summary>Begins a write of one holding register (function 06).</summary>
    public void BeginWriteRegister(byte unitId, ushort address, ushort value)
    {
        RequireIdle();
        Begin(unitId, RequestCodec.WriteSingleRegister(Pdu, address, value));
    }

    /// <summary>Begins a write of 1 to 1968 coils (function 15).</summary>
    public void BeginWriteCoils(byte unitId, ushort address, ReadOnlySpan<bool> values)
    {
        RequireIdle();
        Begin(unitId, RequestCodec.WriteMultipleCoils(Pdu, address, values));
    }

    /// <summary>Begins a write of 1 to 123 holding registers (function 16).</summary>
    public void BeginWriteRegisters(byte unitId, ushort address, ReadOnlySpan<ushort> words)
    {
        RequireIdle();
        Begin(unitId, RequestCodec.WriteMultipleRegisters(Pdu, address, words));
    }

    /// <summary>Begins a read of the eight exception status outputs (function 07).</summary>
    public void BeginReadExceptionStatus(byte unitId)
    {
        RequireIdle();
        Begin(unitId, ExtendedRequestCodec.WriteReadExceptionStatus(Pdu));
    }

    /// <summary>Begins a loopback of two bytes (function 08, sub-function 0).</summary>
    public void BeginReturnQueryData(byte unitId, ushort data)
    {
        RequireIdle();
        Begin(unitId, ExtendedRequestCodec.WriteReturnQueryData(Pdu, data));
    }

    /// <summary>Begins a change of single bits of a holding register: (value AND andMask) OR (orMask AND NOT andMask) (function 22).</summary>
    public void BeginMaskWriteRegister(byte unitId, ushort address, ushort andMask, ushort orMask)
    {
        RequireIdle();
        Begin(unitId, ExtendedRequestCodec.WriteMask(Pdu, address, andMask, orMask));
    }

    /// <summary>Begins a write of 1 to 121 holding registers and, after it, a read of 1 to 125, in one request (function 23).</summary>
    public void BeginReadWriteRegisters(byte unitId, ushort readAddress, int readQuantity, ushort writeAddress, ReadOnlySpan<ushort> words)
    {
        RequireIdle();
        Begin(unitId, ExtendedRequestCodec.WriteReadWrite(Pdu, readAddress, readQuantity, writeAddress, words));
    }

    /// <summary>Begins a read of the device identification (function 43, MEI type 14).</summary>
    public void BeginReadDeviceIdentification(byte unitId, DeviceIdAccess access, byte objectId)
    {
        RequireIdle();
        Begin(unitId, ExtendedRequestCodec.WriteReadDeviceId(Pdu, access, objectId));
    }

    /// <summary>Ends the open transaction without an answer (deadline passed, connection lost); its answer is late from now on.</summary>
    public virtual void Abandon(ModbusOutcome outcome) => Withdraw(outcome);

    /// <summary>Ends the open transaction without its request having been sent: no answer is owed.</summary>
    public void Withdraw(ModbusOutcome outcome)
    {
        IsPending = false;
        Result = new ModbusResult(outcome);
    }

    /// <summary>A new connection: answers to requests of the old one cannot arrive on it.</summary>
    public abstract void Reset();

    /// <summary>Looks at the first frame of the received bytes; call again with the rest after LateDropped.</summary>
    /// <param name="received">All bytes received and not yet consumed, at most one frame of which is judged.</param>
    /// <param name="words">Filled with the values of a read when the status is Completed with a good result, else untouched.</param>
    /// <param name="consumed">Bytes done with; never more than there are.</param>
    public abstract ClientStatus Take(ReadOnlySpan<byte> received, Span<ushort> words, out int consumed);

    /// <summary>Puts the frame around the PDU, which is in place already; returns the length of the frame.</summary>
    private protected abstract int Frame(byte unitId, int pduLength);

    private protected abstract ClientStatus Break(AnswerFault fault);

    /// <summary>Holds a PDU, of the right unit and in answer to this request as far as the framing can tell, against the request.</summary>
    private protected ClientStatus JudgePdu(ReadOnlySpan<byte> pdu, Span<ushort> words)
    {
        AnswerStatus status = AnswerCodec.Check(pdu, RequestPdu, out ReadOnlySpan<byte> data, out ModbusExceptionCode exception);
        switch (status)
        {
            case AnswerStatus.Ok:
                pdu.CopyTo(_answer);
                _answerLength = pdu.Length;
                AnswerCodec.Unpack(data, RequestPdu, words);
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

    private protected ClientStatus Complete(ModbusResult result)
    {
        IsPending = false;
        Result = result;
        Fault = AnswerFault.None;
        return ClientStatus.Completed;
    }

    private protected virtual void RequireUnit(byte unitId)
    {
    }

    private void RequireIdle()
    {
        if (IsPending)
        {
            throw new InvalidOperationException("A transaction is open: take its answer or abandon it first.");
        }
    }

    private void Begin(byte unitId, int pduLength)
    {
        RequireUnit(unitId);
        UnitId = unitId;
        _pduLength = pduLength;
        _answerLength = 0;
        _frameLength = Frame(unitId, pduLength);
        IsPending = true;
    }
}
