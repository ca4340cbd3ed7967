using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Service.FieldIo;

/// <summary>Puts a taken write on the wire: a coil, one register or two.</summary>
internal sealed class CommandWriter(IModbusLink link, int timeoutMs)
{
    private readonly ushort[] _words = new ushort[2];

    public ModbusResult Send(WritePointTable point, long taken)
    {
        uint words = CommandSlot.WordsOf(taken);
        if (point.Table == ModbusTable.Coils)
        {
            return link.WriteCoil(point.UnitId, point.Address, words != 0, timeoutMs);
        }

        if (!CommandSlot.IsTwoWords(taken))
        {
            return link.WriteRegister(point.UnitId, point.Address, (ushort)(words & ushort.MaxValue), timeoutMs);
        }

        _words[0] = (ushort)(words >> 16);
        _words[1] = (ushort)(words & ushort.MaxValue);
        return link.WriteRegisters(point.UnitId, point.Address, _words, timeoutMs);
    }
}
