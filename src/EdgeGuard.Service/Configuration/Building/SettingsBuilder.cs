using System.Globalization;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Building;

/// <summary>Devices with their settings; the verdict on each that is compared is a block of one word behind all polled ones.</summary>
internal static class SettingsBuilder
{
    public static IReadOnlyList<DeviceOptions> Build(SiteDraft site, int polledBlocks)
    {
        int next = polledBlocks;
        var devices = new List<DeviceOptions>();
        foreach (DeviceDraft device in site.Devices)
        {
            devices.Add(new DeviceOptions
            {
                Name = device.Name!,
                LinkIndex = device.Link,
                UnitId = (byte)device.UnitId,
                Settings = [.. device.Map!.Points.Where(p => p.Setting).Select(p => Point(p, device.Commissioned))],
                SettingsBlock = device.Commissioned is null ? -1 : next++,
            });
        }

        return devices;
    }

    private static SettingPoint Point(RegisterPoint point, IReadOnlyDictionary<string, ushort[]>? commissioned) => new()
    {
        Name = point.Name,
        Table = point.Table,
        Address = (ushort)point.Address,
        Count = point.WordCount,
        Mask = MaskOf(point),
        Commissioned = commissioned?[point.Name] ?? [],
        Reading = words => Reading(point, words),
    };

    private static ushort MaskOf(RegisterPoint point) => !point.IsBitTable && point.Type is WordType.Bit or WordType.BitField
        ? (ushort)(((1 << point.BitCount) - 1) << point.Bit)
        : ushort.MaxValue;

    /// <summary>What registers mean by the map: a number in the unit of the point, a text, or plain hexadecimal.</summary>
    private static string Reading(RegisterPoint point, ushort[] words)
    {
        if (point.TextWords > 0)
        {
            return Probing.WordText.Of(words);
        }

        return WordDecoder.TryDecode(words, point.Type, point.Order, point.Bit, point.BitCount, out double raw)
            ? string.Create(CultureInfo.InvariantCulture, $"{(raw * point.Scale) + point.Offset:G9}{(point.Unit.Length == 0 ? string.Empty : " " + point.Unit)}")
            : string.Join(' ', words.Select(w => w.ToString("X4", CultureInfo.InvariantCulture)));
    }
}
