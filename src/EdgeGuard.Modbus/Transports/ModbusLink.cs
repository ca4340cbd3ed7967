using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Pdu;

namespace EdgeGuard.Modbus.Transports;

/// <summary>
/// What the links over all transports share: the functions, the counters and the rule that one deadline covers a whole
/// transaction. Nothing is repeated here: whether a request may be sent again is the caller's decision. One thread;
/// only <see cref="Counters"/> and <see cref="IsConnected"/> may be read from others.
/// </summary>
public abstract class ModbusLink : IModbusDiagnosticLink
{
    private const int MaxIdentificationRequests = 64; // 256 ids in objects of some size; a stream that turns in a circle must end
    private const int WindowLength = 1024;

    private readonly ModbusClientEngine _engine;
    private Deadline _deadline;
    private ModbusOutcome _obstacle;

    private protected ModbusLink(ModbusClientEngine engine) => _engine = engine;

    /// <inheritdoc/>
    public abstract bool IsConnected { get; }

    /// <inheritdoc/>
    public LinkCounters Counters { get; } = new();

    /// <inheritdoc/>
    public AnswerFault LastFault => _engine.Fault;

    /// <inheritdoc/>
    public virtual DateTime? PeerCertificateEndUtc => null;

    private protected ReceiveWindow Window { get; } = new(WindowLength);

    /// <summary>Pieces in which the answer has come so far.</summary>
    private protected int PieceCount { get; set; }

    /// <inheritdoc/>
    public abstract void Connect(int timeoutMs);

    /// <inheritdoc/>
    public abstract void Close();

    /// <inheritdoc/>
    public ModbusResult ReadRegisters(byte unitId, ModbusTable table, ushort address, Span<ushort> words, int timeoutMs)
    {
        Start(timeoutMs);
        _engine.BeginReadRegisters(unitId, table, address, words.Length);
        return Finish(words);
    }

    /// <inheritdoc/>
    public ModbusResult ReadBits(byte unitId, ModbusTable table, ushort address, Span<ushort> words, int timeoutMs)
    {
        Start(timeoutMs);
        _engine.BeginReadBits(unitId, table, address, words.Length);
        return Finish(words);
    }

    /// <inheritdoc/>
    public ModbusResult WriteRegister(byte unitId, ushort address, ushort value, int timeoutMs)
    {
        Start(timeoutMs);
        _engine.BeginWriteRegister(unitId, address, value);
        return Finish(default);
    }

    /// <inheritdoc/>
    public ModbusResult WriteRegisters(byte unitId, ushort address, ReadOnlySpan<ushort> words, int timeoutMs)
    {
        Start(timeoutMs);
        _engine.BeginWriteRegisters(unitId, address, words);
        return Finish(default);
    }

    /// <inheritdoc/>
    public ModbusResult WriteCoil(byte unitId, ushort address, bool value, int timeoutMs)
    {
        Start(timeoutMs);
        _engine.BeginWriteCoil(unitId, address, value);
        return Finish(default);
    }

    /// <inheritdoc/>
    public ModbusResult WriteCoils(byte unitId, ushort address, ReadOnlySpan<bool> values, int timeoutMs)
    {
        Start(timeoutMs);
        _engine.BeginWriteCoils(unitId, address, values);
        return Finish(default);
    }

    /// <inheritdoc/>
    public ModbusResult ReadExceptionStatus(byte unitId, out ushort status, int timeoutMs)
    {
        status = 0;
        Start(timeoutMs);
        _engine.BeginReadExceptionStatus(unitId);
        return Finish(new Span<ushort>(ref status));
    }

    /// <inheritdoc/>
    public ModbusResult ReturnQueryData(byte unitId, ushort data, int timeoutMs)
    {
        Start(timeoutMs);
        _engine.BeginReturnQueryData(unitId, data);
        return Finish(default);
    }

    /// <inheritdoc/>
    public ModbusResult MaskWriteRegister(byte unitId, ushort address, ushort andMask, ushort orMask, int timeoutMs)
    {
        Start(timeoutMs);
        _engine.BeginMaskWriteRegister(unitId, address, andMask, orMask);
        return Finish(default);
    }

    /// <inheritdoc/>
    public ModbusResult ReadWriteRegisters(
        byte unitId, ushort readAddress, Span<ushort> read, ushort writeAddress, ReadOnlySpan<ushort> written, int timeoutMs)
    {
        Start(timeoutMs);
        _engine.BeginReadWriteRegisters(unitId, readAddress, read.Length, writeAddress, written);
        return Finish(read);
    }

    /// <inheritdoc/>
    public ModbusResult ReadDeviceIdentification(
        byte unitId, DeviceIdAccess access, byte objectId, int timeoutMs, out DeviceIdentification? identification)
    {
        identification = null;
        List<DeviceIdObject> objects = [];
        for (int i = 0; i < MaxIdentificationRequests; i++)
        {
            Start(timeoutMs);
            _engine.BeginReadDeviceIdentification(unitId, access, objectId);
            ModbusResult result = Finish(default);
            if (!result.IsGood)
            {
                return result;
            }

            Collect(_engine.Answer, objects);
            if (!DeviceIdCodec.IsContinued(_engine.Answer, out byte next) || next <= objectId || access == DeviceIdAccess.Individual)
            {
                break;
            }

            objectId = next;
        }

        identification = new DeviceIdentification(DeviceIdCodec.Conformity(_engine.Answer), objects);
        return new ModbusResult(ModbusOutcome.Good);
    }

    /// <summary>Closes the link.</summary>
    public void Dispose()
    {
        Dispose(disposing: true);
        GC.SuppressFinalize(this);
    }

    /// <summary>Closes the link.</summary>
    protected virtual void Dispose(bool disposing)
    {
        if (disposing)
        {
            Close();
        }
    }

    /// <summary>Readies the line for a request; None, or why none can be sent.</summary>
    private protected abstract ModbusOutcome Ready(Deadline deadline);

    /// <summary>Sends the request that the engine holds and brings its transaction to an end.</summary>
    private protected abstract ModbusResult Transact(Span<ushort> words, Deadline deadline);

    /// <summary>Hands the engine what has come, frame by frame, until it has what it waits for; late answers are dropped.</summary>
    private protected ClientStatus TakeAll(Span<ushort> words)
    {
        while (true)
        {
            ClientStatus status = _engine.Take(Window.Unread, words, out int consumed);
            Window.Consume(consumed);
            if (status != ClientStatus.LateDropped)
            {
                return status;
            }

            Counters.Late(_engine.WasDuplicate);
            if (Window.Unread.IsEmpty)
            {
                PieceCount = 0; // the answer itself has not begun
            }
            else
            {
                Counters.Add(LinkCounter.GluedAnswers);
            }
        }
    }

    /// <summary>Counts the transaction that the engine has completed.</summary>
    private protected ModbusResult Complete()
    {
        if (PieceCount > 1)
        {
            Counters.Add(LinkCounter.SplitAnswers);
        }

        if (!Window.Unread.IsEmpty)
        {
            Counters.Add(LinkCounter.GluedAnswers);
        }

        Counters.Ended(_engine.Result);
        return _engine.Result;
    }

    private static void Collect(ReadOnlySpan<byte> answer, List<DeviceIdObject> objects)
    {
        int position = DeviceIdCodec.HeadLength;
        while (DeviceIdCodec.TryRead(answer, ref position, out byte id, out ReadOnlySpan<byte> value))
        {
            objects.Add(DeviceIdObject.From(id, value));
        }
    }

    private void Start(int timeoutMs)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(timeoutMs, 1);
        _deadline = Deadline.After(timeoutMs);
        _obstacle = Ready(_deadline);
    }

    private ModbusResult Finish(Span<ushort> words)
    {
        if (_obstacle == ModbusOutcome.None)
        {
            return Transact(words, _deadline);
        }

        _engine.Withdraw(_obstacle);
        return new ModbusResult(_obstacle);
    }
}
