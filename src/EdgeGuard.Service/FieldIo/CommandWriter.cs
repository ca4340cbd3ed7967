using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// Puts a taken write on the wire: a coil, one register or two. A single value that the device refuses by its function
/// is sent by the other one: a removal at once, since it must not wait for a round; what energises in its next turn,
/// since a removal may have been offered meanwhile.
/// </summary>
internal sealed class CommandWriter(LinkTable table, IModbusLink link, LinkFigures figures, FieldClock clock, DeviceNews news)
{
    private readonly ushort[] _words = new ushort[2];
    private readonly bool[] _coil = new bool[1];
    private readonly WriteFunctions _functions = new(figures, news);

    /// <summary>Sends a write.</summary>
    /// <param name="point">Where it goes.</param>
    /// <param name="taken">What a <see cref="CommandSlot"/> gave.</param>
    /// <param name="goesAgain">True when it was refused by its function only and has to be taken once more.</param>
    public ModbusResult Send(WritePointTable point, long taken, out bool goesAgain)
    {
        ModbusResult result = SendOnce(point, taken);
        goesAgain = IsSingle(point, taken) && _functions.Turns(point, result);
        if (goesAgain && CommandSlot.IsDeEnergising(taken))
        {
            result = SendOnce(point, taken);
            goesAgain = _functions.Turns(point, result);
        }

        return result;
    }

    private ModbusResult SendOnce(WritePointTable point, long taken)
    {
        long sentUs = clock.NowUs;
        ModbusResult result = Transact(point, taken);
        figures.AddWrite(result);
        figures.NoteRoundTrip(result.Outcome, clock.NowUs - sentUs);
        return result;
    }

    private ModbusResult Transact(WritePointTable point, long taken)
    {
        uint words = CommandSlot.WordsOf(taken);
        if (!IsSingle(point, taken))
        {
            _words[0] = (ushort)(words >> 16);
            _words[1] = (ushort)(words & ushort.MaxValue);
            return link.WriteRegisters(point.UnitId, point.Address, _words, table.TimeoutMs);
        }

        bool isMultiple = _functions.IsMultiple(point);
        if (point.Table == ModbusTable.Coils)
        {
            _coil[0] = words != 0;
            return isMultiple
                ? link.WriteCoils(point.UnitId, point.Address, _coil, table.TimeoutMs)
                : link.WriteCoil(point.UnitId, point.Address, _coil[0], table.TimeoutMs);
        }

        _words[0] = (ushort)(words & ushort.MaxValue);
        return isMultiple
            ? link.WriteRegisters(point.UnitId, point.Address, _words.AsSpan(0, 1), table.TimeoutMs)
            : link.WriteRegister(point.UnitId, point.Address, _words[0], table.TimeoutMs);
    }

    private static bool IsSingle(WritePointTable point, long taken) => point.Table == ModbusTable.Coils || !CommandSlot.IsTwoWords(taken);
}
