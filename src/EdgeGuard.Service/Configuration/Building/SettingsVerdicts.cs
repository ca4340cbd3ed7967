using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Configuration.Building;

/// <summary>
/// Which verdicts on settings bind which unit: that of its controller, and one for every other device from which it takes
/// a point, whether named as its meter or by "DEVICE.POINT" alone. Several others are combined into one word.
/// </summary>
internal sealed class SettingsVerdicts
{
    private readonly IReadOnlyList<DeviceOptions> _devices;
    private readonly Dictionary<UnitDraft, int> _others = [];

    /// <summary>Finds the devices of every unit.</summary>
    /// <param name="site">The site.</param>
    /// <param name="devices">Its devices with the blocks of their verdicts.</param>
    /// <param name="firstBlock">Index of the first combined block.</param>
    public SettingsVerdicts(SiteDraft site, IReadOnlyList<DeviceOptions> devices, int firstBlock)
    {
        _devices = devices;
        var combined = new List<CombinedVerdictTable>();
        foreach (UnitDraft unit in site.Units)
        {
            int[] parts = [.. Others(unit).Select(BlockOf).Where(static b => b >= 0).Order()];
            if (parts.Length > 1)
            {
                combined.Add(new CombinedVerdictTable { Block = firstBlock + combined.Count, Parts = parts });
            }

            _others[unit] = parts.Length switch
            {
                0 => -1,
                1 => parts[0],
                _ => combined[^1].Block,
            };
        }

        Combined = combined;
    }

    /// <summary>Verdicts made of several.</summary>
    public IReadOnlyList<CombinedVerdictTable> Combined { get; }

    /// <summary>The verdicts as signals of a unit.</summary>
    public IEnumerable<SignalTable> Signals(UnitDraft unit, double scanMs)
    {
        if (unit.Controller is { } controller && BlockOf(controller) is var own and >= 0)
        {
            yield return Signal(unit, SignalRole.ControllerSettings, own, scanMs);
        }

        if (_others[unit] is var others and >= 0)
        {
            yield return Signal(unit, SignalRole.MeterSettings, others, scanMs);
        }
    }

    /// <summary>Devices of a unit beside its controller; a meter counts even where all its points are taken from elsewhere.</summary>
    private static IEnumerable<DeviceDraft> Others(UnitDraft unit)
    {
        IEnumerable<DeviceDraft> bound = unit.BoundSignals.Values.Concat(unit.BoundCommands.Values).Select(static b => b.Device);
        return (unit.Meter is { } meter ? bound.Append(meter) : bound).Where(d => !ReferenceEquals(d, unit.Controller)).Distinct();
    }

    private int BlockOf(DeviceDraft device) => _devices[device.Index].SettingsBlock;

    private static SignalTable Signal(UnitDraft unit, SignalRole role, int block, double scanMs) => new()
    {
        Role = role,
        Block = block,
        WordOffset = 0,
        Type = WordType.UInt16,
        RangeMin = 0,
        RangeMax = 1,
        StaleMs = (int)unit.StaleMs(scanMs),
        HoldMs = (int)unit.HoldMs(scanMs),
    };
}
