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

    private readonly ModbusClientEngine _engine;

    private protected ModbusLink(ModbusClientEngine engine) => _engine = engine;

    /// <inheritdoc/>
    public abstract bool IsConnected { get; }

    /// <inheritdoc/>
    public LinkCounters Counters => Tally.Snapshot();

    /// <inheritdoc/>
    public AnswerFault LastFault => _engine.Fault;

    private protected LinkTally Tally { get; } = new();

    /// <inheritdoc/>
    public abstract void Connect(int timeoutMs);

    /// <inheritdoc/>
    public abstract void Close();

    /// <inheritdoc/>
    public ModbusResult ReadRegisters(byte unitId, ModbusTable table, ushort address, Span<ushort> words, int timeoutMs)
    {
        if (!TryStart(unitId, timeoutMs, out Deadline deadline, out ModbusResult failure))
        {
            return failure;
        }

        _engine.BeginReadRegisters(unitId, table, address, words.Length);
        return Finish(words, deadline);
    }

    /// <inheritdoc/>
    public ModbusResult ReadBits(byte unitId, ModbusTable table, ushort address, Span<ushort> words, int timeoutMs)
    {
        if (!TryStart(unitId, timeoutMs, out Deadline deadline, out ModbusResult failure))
        {
            return failure;
        }

        _engine.BeginReadBits(unitId, table, address, words.Length);
        return Finish(words, deadline);
    }

    /// <inheritdoc/>
    public ModbusResult WriteRegister(byte unitId, ushort address, ushort value, int timeoutMs)
    {
        if (!TryStart(unitId, timeoutMs, out Deadline deadline, out ModbusResult failure))
        {
            return failure;
        }

        _engine.BeginWriteRegister(unitId, address, value);
        return Finish(default, deadline);
    }

    /// <inheritdoc/>
    public ModbusResult WriteRegisters(byte unitId, ushort address, ReadOnlySpan<ushort> words, int timeoutMs)
    {
        if (!TryStart(unitId, timeoutMs, out Deadline deadline, out ModbusResult failure))
        {
            return failure;
        }

        _engine.BeginWriteRegisters(unitId, address, words);
        return Finish(default, deadline);
    }

    /// <inheritdoc/>
    public ModbusResult WriteCoil(byte unitId, ushort address, bool value, int timeoutMs)
    {
        if (!TryStart(unitId, timeoutMs, out Deadline deadline, out ModbusResult failure))
        {
            return failure;
        }

        _engine.BeginWriteCoil(unitId, address, value);
        return Finish(default, deadline);
    }

    /// <inheritdoc/>
    public ModbusResult WriteCoils(byte unitId, ushort address, ReadOnlySpan<bool> values, int timeoutMs)
    {
        if (!TryStart(unitId, timeoutMs, out Deadline deadline, out ModbusResult failure))
        {
            return failure;
        }

        _engine.BeginWriteCoils(unitId, address, values);
        return Finish(default, deadline);
    }

    /// <inheritdoc/>
    public ModbusResult ReadExceptionStatus(byte unitId, out ushort status, int timeoutMs)
    {
        status = 0;
        if (!TryStart(unitId, timeoutMs, out Deadline deadline, out ModbusResult failure))
        {
            return failure;
        }

        _engine.BeginReadExceptionStatus(unitId);
        return Finish(new Span<ushort>(ref status), deadline);
    }

    /// <inheritdoc/>
    public ModbusResult ReturnQueryData(byte unitId, ushort data, int timeoutMs)
    {
        if (!TryStart(unitId, timeoutMs, out Deadline deadline, out ModbusResult failure))
        {
            return failure;
        }

        _engine.BeginReturnQueryData(unitId, data);
        return Finish(default, deadline);
    }

    /// <inheritdoc/>
    public ModbusResult MaskWriteRegister(byte unitId, ushort address, ushort andMask, ushort orMask, int timeoutMs)
    {
        if (!TryStart(unitId, timeoutMs, out Deadline deadline, out ModbusResult failure))
        {
            return failure;
        }

        _engine.BeginMaskWriteRegister(unitId, address, andMask, orMask);
        return Finish(default, deadline);
    }

    /// <inheritdoc/>
    public ModbusResult ReadWriteRegisters(
        byte unitId, ushort readAddress, Span<ushort> read, ushort writeAddress, ReadOnlySpan<ushort> written, int timeoutMs)
    {
        if (!TryStart(unitId, timeoutMs, out Deadline deadline, out ModbusResult failure))
        {
            return failure;
        }

        _engine.BeginReadWriteRegisters(unitId, readAddress, read.Length, writeAddress, written);
        return Finish(read, deadline);
    }

    /// <inheritdoc/>
    public ModbusResult ReadDeviceIdentification(
        byte unitId, DeviceIdAccess access, byte objectId, int timeoutMs, out DeviceIdentification? identification)
    {
        identification = null;
        List<DeviceIdObject> objects = [];
        for (int i = 0; i < MaxIdentificationRequests; i++)
        {
            if (!TryStart(unitId, timeoutMs, out Deadline deadline, out ModbusResult failure))
            {
                return failure;
            }

            _engine.BeginReadDeviceIdentification(unitId, access, objectId);
            ModbusResult result = Finish(default, deadline);
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

    /// <summary>Readies the line for a request to a unit; false, with the reason, when none can be sent.</summary>
    private protected abstract bool TryStart(byte unitId, Deadline deadline, out ModbusOutcome failure);

    /// <summary>Sends the request that the engine holds and brings its transaction to an end.</summary>
    private protected abstract ModbusResult Finish(Span<ushort> words, Deadline deadline);

    private static void Collect(ReadOnlySpan<byte> answer, List<DeviceIdObject> objects)
    {
        int position = DeviceIdCodec.HeadLength;
        while (DeviceIdCodec.TryRead(answer, ref position, out byte id, out ReadOnlySpan<byte> value))
        {
            objects.Add(DeviceIdObject.From(id, value));
        }
    }

    private bool TryStart(byte unitId, int timeoutMs, out Deadline deadline, out ModbusResult failure)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(timeoutMs, 1);
        deadline = Deadline.After(timeoutMs);
        bool isReady = TryStart(unitId, deadline, out ModbusOutcome outcome);
        failure = isReady ? default : new ModbusResult(outcome);
        return isReady;
    }
}
