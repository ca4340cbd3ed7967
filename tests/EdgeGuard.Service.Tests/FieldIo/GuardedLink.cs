using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Pdu;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>
/// A serial line that holds the next read of a unit back after a time-out, as the real one does while an answer is owed,
/// and counts it.
/// </summary>
internal sealed class GuardedLink : FakeLink, IModbusDiagnosticLink
{
    private bool _isOwed;

    public GuardedLink() => StaysOpen = true;

    public LinkCounters Counters { get; } = new();

    public AnswerFault LastFault => AnswerFault.None;

    /// <summary>Reads whose answer does not come.</summary>
    public Func<string, bool> IsLost { get; set; } = static _ => false;

    public ModbusResult ReadExceptionStatus(byte unitId, out ushort status, int timeoutMs) => throw new NotSupportedException();

    public ModbusResult ReturnQueryData(byte unitId, ushort data, int timeoutMs) => throw new NotSupportedException();

    public ModbusResult MaskWriteRegister(byte unitId, ushort address, ushort andMask, ushort orMask, int timeoutMs) => throw new NotSupportedException();

    public ModbusResult ReadWriteRegisters(
        byte unitId, ushort readAddress, Span<ushort> read, ushort writeAddress, ReadOnlySpan<ushort> written, int timeoutMs) => throw new NotSupportedException();

    public ModbusResult ReadDeviceIdentification(
        byte unitId, DeviceIdAccess access, byte objectId, int timeoutMs, out DeviceIdentification? identification) => throw new NotSupportedException();

    /// <summary>The fault to inject: a lost answer, and the read after it held back.</summary>
    public ModbusResult? Judge(string line)
    {
        if (!line.StartsWith("read 1:", StringComparison.Ordinal))
        {
            return null;
        }

        bool isHeld = _isOwed;
        _isOwed = !isHeld && IsLost(line);
        Counters.Add(LinkCounter.DeferredRequests, isHeld ? 1 : 0);
        return isHeld || _isOwed ? new ModbusResult(ModbusOutcome.Timeout) : null;
    }
}
