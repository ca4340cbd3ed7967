using System.Globalization;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// What a person has to know of polls that fail while the link stands: which device refuses which registers with which
/// exception, and which device is silent. Each is told once a run: a map or a unit id that is wrong fails every scan, and
/// a device that comes and goes must not fill the journal; the counters of the link go on.
/// </summary>
internal sealed class PollNews(LinkTable table, DeviceNews news)
{
    private const int HighestBit = 31; // exception codes of the standard go up to 11; a maker's higher ones share a bit

    private readonly uint[] _refused = new uint[table.Polls.Count];
    private readonly bool[] _silent = new bool[byte.MaxValue + 1];

    /// <summary>A poll was refused.</summary>
    public void Refused(int index, ModbusExceptionCode code)
    {
        uint bit = 1U << Math.Min((int)code, HighestBit);
        if ((_refused[index] & bit) != 0)
        {
            return;
        }

        _refused[index] |= bit;
        PollRequestTable poll = table.Polls[index];
        string last = poll.Count == 1 ? "" : string.Create(CultureInfo.InvariantCulture, $" to {poll.Address + poll.Count - 1}");
        news.Add(ShellEventId.PollFails, string.Create(CultureInfo.InvariantCulture, $"unit id {poll.UnitId} refuses {AddressNotation.TableName(poll.Table)} {poll.Address}{last}: {ModbusAdvice.Of(code)}"));
    }

    /// <summary>The device of a poll has not answered for several rounds, on a link that stands.</summary>
    public void Silent(int index)
    {
        byte unit = table.Polls[index].UnitId;
        if (!_silent[unit])
        {
            _silent[unit] = true;
            news.Add(ShellEventId.PollFails, string.Create(CultureInfo.InvariantCulture, $"unit id {unit} does not answer; check its power, its cable and the unit id in the site file and in the device"));
        }
    }
}
