using System.Globalization;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Configuration.Drafts;

namespace EdgeGuard.Service.Probing;

/// <summary>The settings of a device as they are now: read one by one, written as the file that the guard compares with.</summary>
public sealed class SettingsSnapshot
{
    private readonly List<(SettingPoint Point, ushort[] Words)> _read = [];
    private readonly List<(SettingPoint Point, ModbusResult Result)> _failed = [];

    private SettingsSnapshot()
    {
    }

    /// <summary>Settings that were read, with their registers.</summary>
    public IReadOnlyList<(SettingPoint Point, ushort[] Words)> Read => _read;

    /// <summary>Settings that could not be read; a snapshot with any is not written.</summary>
    public IReadOnlyList<(SettingPoint Point, ModbusResult Result)> Failed => _failed;

    /// <summary>Reads every setting of a device, with a pause between two requests; never writes.</summary>
    /// <exception cref="IOException">No connection.</exception>
    public static SettingsSnapshot Take(IModbusLink link, DeviceOptions device, LinkOptions options, Action pause)
    {
        ArgumentNullException.ThrowIfNull(link);
        ArgumentNullException.ThrowIfNull(device);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(pause);
        var snapshot = new SettingsSnapshot();
        foreach (SettingPoint point in device.Settings)
        {
            if (!link.IsConnected)
            {
                link.Connect(options.ConnectMs);
            }

            var words = new ushort[point.Count];
            ModbusResult result = point.Table is ModbusTable.Coils or ModbusTable.DiscreteInputs
                ? link.ReadBits(device.UnitId, point.Table, point.Address, words, options.AnswerMs)
                : link.ReadRegisters(device.UnitId, point.Table, point.Address, words, options.AnswerMs);
            FieldIo.SettingsWatch.MaskOff(words, point.Mask);
            if (result.IsGood)
            {
                snapshot._read.Add((point, words));
            }
            else
            {
                snapshot._failed.Add((point, result));
            }

            pause();
        }

        return snapshot;
    }

    /// <summary>Sentences about settings that are not what a former snapshot says; empty when all agree.</summary>
    public IReadOnlyList<string> Differences()
    {
        return [.. _read
            .Where(r => r.Point.Commissioned.Count > 0 && !r.Words.SequenceEqual(r.Point.Commissioned))
            .Select(r => $"{r.Point.Name} is {r.Point.Reading(r.Words)}, was {r.Point.Reading([.. r.Point.Commissioned])}")];
    }

    /// <summary>Writes the file.</summary>
    public void Write(string device, DateTime takenUtc, TextWriter output)
    {
        ArgumentNullException.ThrowIfNull(output);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"# Settings of {device} as they were on {takenUtc:yyyy-MM-dd'T'HH:mm:ss'Z'}. The guard compares the registers at each connect."));
        output.WriteLine(SnapshotLoader.Header);
        foreach ((SettingPoint point, ushort[] words) in _read)
        {
            string registers = string.Join(' ', words.Select(w => w.ToString("X4", CultureInfo.InvariantCulture)));
            output.WriteLine($"{point.Name},{registers},{point.Reading(words)}");
        }
    }
}
