using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// Whose removal is sent next on a link with several devices. One that is silent has removals waiting for it without end,
/// because they are repeated until confirmed; each try costs a time-out, and over Modbus TCP the connection. So the other
/// devices have their turn after a failure, and from the second failure in a row on the silent one rests for one round,
/// then two, four and so on up to the longest wait of the link, but, however long rounds take, never for longer than two
/// seconds and one round or attempt to connect: it is power that is to be removed, and a device that cannot answer may
/// still hear. Its first answer to anything ends the rest.
/// </summary>
internal sealed class RemovalTurns
{
    private const int MostDoublings = 16;
    private const int LongestRestMs = 2_000;

    private readonly int[] _unitOfWrite;
    private readonly int[] _missed = new int[byte.MaxValue + 1];
    private readonly long[] _restsUntil = new long[byte.MaxValue + 1];
    private readonly long[] _turnOff = new long[byte.MaxValue + 1];
    private readonly long[] _endsUs = new long[byte.MaxValue + 1];
    private readonly long _longestRest;
    private readonly long _longestRestUs;
    private readonly FieldClock _clock;
    private long _round;
    private long _turn;

    public RemovalTurns(LinkTable table, FieldClock clock)
    {
        _clock = clock;
        _unitOfWrite = new int[table.Writes.Count];
        for (int i = 0; i < _unitOfWrite.Length; i++)
        {
            _unitOfWrite[i] = table.Writes[i].UnitId;
        }

        int longestRestMs = Math.Min(table.ReconnectMaxMs, LongestRestMs);
        _longestRest = Math.Max(1, longestRestMs / Math.Max(1, table.ScanMs));
        _longestRestUs = longestRestMs * 1000L;
    }

    /// <summary>The command to begin with.</summary>
    public int First { get; private set; }

    public void BeginRound()
    {
        _round++;
        _turn++;
    }

    public void BeginAttempt() => _turn++;

    /// <summary>True while the device of a command is not written to.</summary>
    public bool Rests(int index)
    {
        int unit = _unitOfWrite[index];
        return _round < _restsUntil[unit] && (_turn < _turnOff[unit] || _clock.NowUs < _endsUs[unit]);
    }

    /// <summary>A removal was sent and not answered.</summary>
    public void Missed(int index)
    {
        int unit = _unitOfWrite[index];
        int missed = ++_missed[unit];
        if (missed > 1)
        {
            _turnOff[unit] = _turn + 2;
            _endsUs[unit] = _clock.NowUs + _longestRestUs;
            _restsUntil[unit] = _round + 1 + Math.Min(1L << Math.Min(missed - 2, MostDoublings), _longestRest);
        }

        First = NextOtherUnit(index);
    }

    /// <summary>Takes note of the answer to a read or a write. False when it is a gateway's, which did not reach the device.</summary>
    public bool NoteAnswer(byte unitId, ModbusResult result)
    {
        if (result.Exception is ModbusExceptionCode.GatewayPathUnavailable or ModbusExceptionCode.GatewayTargetFailedToRespond)
        {
            return false;
        }

        _missed[unitId] = 0;
        _restsUntil[unitId] = 0;
        return true;
    }

    private int NextOtherUnit(int index)
    {
        for (int n = 1; n < _unitOfWrite.Length; n++)
        {
            int next = (index + n) % _unitOfWrite.Length;
            if (_unitOfWrite[next] != _unitOfWrite[index])
            {
                return next;
            }
        }

        return 0;
    }
}
