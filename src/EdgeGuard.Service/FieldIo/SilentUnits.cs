namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// Devices of a line that stays open and do not answer: each costs its neighbours a time-out, so after the second one in
/// a row it rests, for one round, then two, four and so on up to the longest wait of the link. Its first answer ends that.
/// A device behind a gateway that answers for it with exception 0A or 0B counts as silent: it costs the gateway's time-out.
/// </summary>
internal sealed class SilentUnits
{
    private const int FreeMisses = 2;
    private const int MostDoublings = 16;

    private readonly int[] _unitOfBlock;
    private readonly int[] _missed = new int[byte.MaxValue + 1];
    private readonly long[] _restsUntil = new long[byte.MaxValue + 1];
    private readonly long _longestRest;
    private long _round;
    private bool _isMissedInRound;

    public SilentUnits(LinkTable table)
    {
        _unitOfBlock = new int[table.Polls.Count];
        for (int i = 0; i < _unitOfBlock.Length; i++)
        {
            _unitOfBlock[i] = table.Polls[i].UnitId;
        }

        _longestRest = Math.Max(1, table.ReconnectMaxMs / Math.Max(1, table.ScanMs));
    }

    /// <summary>
    /// True when no device has answered since it was asked last: not a device is silent, the line is. A round in which all
    /// rested says nothing new.
    /// </summary>
    public bool IsEverybody()
    {
        foreach (int unit in _unitOfBlock)
        {
            if (_missed[unit] == 0)
            {
                return false;
            }
        }

        return _isMissedInRound;
    }

    public void BeginRound()
    {
        _round++;
        _isMissedInRound = false;
    }

    /// <summary>True while the device of a block is not asked.</summary>
    public bool Rests(int index) => _round < _restsUntil[_unitOfBlock[index]];

    /// <summary>A read or a write was answered; by a gateway, which did not reach the device, when not <paramref name="isOfDevice"/>.</summary>
    public void Answered(byte unitId, bool isOfDevice)
    {
        _missed[unitId] = isOfDevice ? 0 : _missed[unitId];
        _restsUntil[unitId] = isOfDevice ? 0 : _restsUntil[unitId];
    }

    /// <summary>Counts a time-out, the link's own or a gateway's; true when the device rests from now on.</summary>
    /// <param name="index">The block that was asked for.</param>
    /// <param name="isHeldBack">The request was not sent because an answer is owed: behind a time-out it says nothing new of the device.</param>
    public bool Missed(int index, bool isHeldBack)
    {
        int unit = _unitOfBlock[index];
        _isMissedInRound = true;
        if (isHeldBack && _missed[unit] > 0)
        {
            return false;
        }

        _missed[unit]++;
        bool rests = _missed[unit] >= FreeMisses;
        if (rests)
        {
            long rest = Math.Min(1L << Math.Min(_missed[unit] - FreeMisses, MostDoublings), _longestRest);
            _restsUntil[unit] = _round + 1 + rest;
        }

        return rests;
    }

    public void Clear()
    {
        Array.Clear(_missed);
        Array.Clear(_restsUntil);
    }
}
