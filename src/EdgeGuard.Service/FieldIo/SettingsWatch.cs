using System.Globalization;
using System.Text;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// Compares the settings of devices with their snapshot: at each connect for the time of one scan, then one a round, each minute anew.
/// The verdict of a device is a word of the scan like any reading. It is good only while the device answers and every
/// setting was read since it was last silent: a device that was away may have been set otherwise meanwhile.
/// </summary>
internal sealed class SettingsWatch
{
    /// <summary>Settings are read again after this time, µs: behind a gateway a device can be changed without a lost connection.</summary>
    private const long AgainUs = 60_000_000;

    private readonly IReadOnlyList<SettingsTable> _devices;
    private readonly int[] _deviceOf;
    private readonly SettingPoint[] _points;
    private readonly bool[] _known;
    private readonly ushort[][] _found;
    private readonly long[] _answeredUs;
    private readonly bool?[] _told;
    private readonly ushort[] _verdict = new ushort[1];
    private readonly DeviceNews _news;
    private int _again;
    private int _unknown;
    private long _againUs;
    private bool _isTurnOfUnknown;

    public SettingsWatch(IReadOnlyList<SettingsTable> devices, DeviceNews news)
    {
        _devices = devices;
        _news = news;
        _points = [.. devices.SelectMany(d => d.Points)];
        _deviceOf = [.. devices.SelectMany((d, i) => d.Points.Select(_ => i))];
        _known = new bool[_points.Length];
        _found = [.. _points.Select(p => new ushort[p.Count])];
        _answeredUs = new long[devices.Count];
        _told = new bool?[devices.Count];
        Facts = [.. devices.Select(_ => new BlockSlot(1))];
        Array.Fill(_answeredUs, -1);
    }

    /// <summary>Slot of the verdict on each device.</summary>
    public BlockSlot[] Facts { get; }

    /// <summary>Settings of all devices.</summary>
    public int Count => _points.Length;

    /// <summary>
    /// The setting to read in this round; −1 for none. Those that are not known take turns with those read again, and among
    /// themselves: one that can never be read must not keep a change of the others from being seen.
    /// </summary>
    public int Due(long nowUs)
    {
        int unknown = NextUnknown();
        int again = NextAgain(nowUs);
        _isTurnOfUnknown = !_isTurnOfUnknown;
        return unknown >= 0 && (again < 0 || _isTurnOfUnknown) ? unknown : again;
    }

    /// <summary>Which device a setting belongs to.</summary>
    public int DeviceOf(int index) => _deviceOf[index];

    /// <summary>Reads one setting and judges it.</summary>
    public ModbusResult Read(int index, IModbusLink link, int timeoutMs, long nowUs)
    {
        SettingPoint point = _points[index];
        SettingsTable device = _devices[_deviceOf[index]];
        ModbusResult result = point.Table is ModbusTable.Coils or ModbusTable.DiscreteInputs
            ? link.ReadBits(device.UnitId, point.Table, point.Address, _found[index], timeoutMs)
            : link.ReadRegisters(device.UnitId, point.Table, point.Address, _found[index], timeoutMs);
        MaskOff(_found[index], point.Mask);
        _unknown = (index + 1) % _points.Length;
        if (index == _again)
        {
            AdvanceAgain(nowUs);
        }

        _known[index] = result.IsGood;
        if (result.IsGood)
        {
            _answeredUs[_deviceOf[index]] = Math.Max(_answeredUs[_deviceOf[index]], nowUs);
            Judge(_deviceOf[index]);
        }

        return result;
    }

    /// <summary>Leaves only the bits of the setting: the others of its register may change as they like.</summary>
    internal static void MaskOff(ushort[] words, ushort mask)
    {
        for (int i = 0; i < words.Length; i++)
        {
            words[i] &= mask;
        }
    }

    /// <summary>A device answered a request sent at that time, µs.</summary>
    public void Answered(byte unitId, long sentUs)
    {
        for (int i = 0; i < _devices.Count; i++)
        {
            if (_devices[i].UnitId == unitId)
            {
                _answeredUs[i] = sentUs;
            }
        }
    }

    /// <summary>A device was silent: nothing is known of its settings until they are read again.</summary>
    public void Forget(byte unitId)
    {
        for (int i = 0; i < _points.Length; i++)
        {
            if (_devices[_deviceOf[i]].UnitId == unitId)
            {
                _known[i] = false;
                _answeredUs[_deviceOf[i]] = -1;
            }
        }
    }

    /// <summary>The connection is gone.</summary>
    public void LinkLost()
    {
        for (int i = 0; i < _devices.Count; i++)
        {
            Forget(_devices[i].UnitId);
            Facts[i].PublishFailure(ReadResult.NotConnected, exceptionCode: 0);
        }
    }

    /// <summary>At the end of a round: what is known of each device, as old as its latest answer.</summary>
    public void Publish()
    {
        for (int i = 0; i < _devices.Count; i++)
        {
            if (IsKnown(i))
            {
                _verdict[0] = _told[i] == true ? (ushort)1 : (ushort)0;
                Facts[i].PublishGood(_verdict, _answeredUs[i]);
            }
        }
    }

    private int NextUnknown()
    {
        for (int n = 0; n < _known.Length; n++)
        {
            int index = (_unknown + n) % _known.Length;
            if (!_known[index] && _answeredUs[_deviceOf[index]] >= 0)
            {
                return index;
            }
        }

        return -1;
    }

    // Passes over the settings of a device that is silent: the minute of the others does not wait for it.
    private int NextAgain(long nowUs)
    {
        while (_points.Length > 0 && nowUs >= _againUs)
        {
            if (_answeredUs[_deviceOf[_again]] >= 0)
            {
                return _again;
            }

            AdvanceAgain(nowUs);
        }

        return -1;
    }

    private void AdvanceAgain(long nowUs)
    {
        _again = (_again + 1) % _points.Length;
        _againUs = _again == 0 ? nowUs + AgainUs : _againUs;
    }

    private bool IsKnown(int device)
    {
        for (int i = 0; i < _known.Length; i++)
        {
            if (_deviceOf[i] == device && !_known[i])
            {
                return false;
            }
        }

        return true;
    }

    private void Judge(int device)
    {
        if (!IsKnown(device))
        {
            return;
        }

        bool same = true;
        for (int i = 0; i < _points.Length; i++)
        {
            same &= _deviceOf[i] != device || IsSame(i);
        }

        if (_told[device] != same)
        {
            bool first = _told[device] is null;
            _told[device] = same;
            if (!(same && first))
            {
                _news.Add(same ? ShellEventId.SettingsAgree : ShellEventId.SettingsDiffer, Describe(device, same));
            }
        }
    }

    private bool IsSame(int index)
    {
        IReadOnlyList<ushort> commissioned = _points[index].Commissioned;
        bool same = commissioned.Count == _found[index].Length;
        for (int w = 0; same && w < _found[index].Length; w++)
        {
            same = _found[index][w] == commissioned[w];
        }

        return same;
    }

    private string Describe(int device, bool same)
    {
        if (same)
        {
            return $"{_devices[device].Device}: all settings as commissioned again";
        }

        var text = new StringBuilder(_devices[device].Device).Append(": settings differ from what was commissioned");
        string separator = ": ";
        for (int i = 0; i < _points.Length && text.Length < 400; i++)
        {
            if (_deviceOf[i] == device && !IsSame(i))
            {
                ushort[] commissioned = [.. _points[i].Commissioned];
                text.Append(CultureInfo.InvariantCulture, $"{separator}{_points[i].Name} is {_points[i].Reading(_found[i])}, was {_points[i].Reading(commissioned)}");
                separator = "; ";
            }
        }

        return text.ToString();
    }
}
