using System.Globalization;
using System.Text;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Service.Configuration;

/// <summary>
/// What a learnt figure rests on, as a digest: the gas, the settings of the function, and each sensor by link, unit id,
/// table, register, type and scale, with the commissioned settings of its device. By register and not by its place in
/// a poll block, so that a device added elsewhere makes nobody learn anew.
/// </summary>
internal static class LearntBases
{
    private static readonly SignalRole[] BalanceRoles =
    [
        SignalRole.Power, SignalRole.GasFlow, SignalRole.GasFlow2, SignalRole.GasFlow3, SignalRole.InletTemperature,
        SignalRole.OutletTemperature, SignalRole.OutletTemperature2, SignalRole.OutletTemperature3,
        SignalRole.ElementTemperature, SignalRole.ElementTemperature2, SignalRole.ElementTemperature3,
    ];

    private static readonly SignalRole[] NoiseRoles =
    [
        SignalRole.GasFlow, SignalRole.GasFlow2, SignalRole.GasFlow3, SignalRole.OutletTemperature, SignalRole.OutletTemperature2,
        SignalRole.OutletTemperature3, SignalRole.ElementTemperature, SignalRole.ElementTemperature2, SignalRole.ElementTemperature3,
    ];

    private static readonly SignalRole[] LeakRoles = [SignalRole.EarthLeakage, SignalRole.Insulation];

    private static readonly SignalRole[] LegRoles =
        [SignalRole.CurrentL1, SignalRole.CurrentL2, SignalRole.CurrentL3, SignalRole.Power, SignalRole.ElementTemperature];

    /// <summary>The bases of a unit.</summary>
    public static LearntBasis Of(SiteConfiguration site, int unit)
    {
        UnitTable table = site.Table.Units[unit];
        return new LearntBasis
        {
            Loss = table.Bala is null ? "-" : SettingsText.Digest(Loss(site, table)),
            Legs = table.Phas?.Alloy is null ? "-" : SettingsText.Digest(Legs(site, table, table.Phas)),
            Leak = table.Leak is not { TrendDays: > 0 } ? "-" : SettingsText.Digest(Leak(site, table, table.Leak)),
            Floors = table.Sens.NoiseMs == 0 ? "-" : SettingsText.Digest(Floors(site, table)),
        };
    }

    private static string Loss(SiteConfiguration site, UnitTable table)
    {
        var text = new StringBuilder();
        var b = table.Bala!.Balance;
        text.Append(CultureInfo.InvariantCulture, $"loss {(int)b.Gas} {b.StoredKJPerK} {b.AmbientC} {b.LossMaxKwPerK}\n");
        AddSensors(text, site, table, BalanceRoles);
        return text.ToString();
    }

    /// <summary>Readings that follow each other in another time differ by something else.</summary>
    private static string Floors(SiteConfiguration site, UnitTable table)
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"noise {site.Table.ScanMs}\n");
        AddSensors(text, site, table, NoiseRoles);
        return text.ToString();
    }

    private static string Legs(SiteConfiguration site, UnitTable table, PhaseTable phas)
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"legs {(int)phas.Connection} {phas.Alloy}\n");
        AddSensors(text, site, table, LegRoles);
        return text.ToString();
    }

    private static string Leak(SiteConfiguration site, UnitTable table, LeakTable leak)
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"leak {leak.LeakageAlarmMilliampere} {leak.InsulationAlarmKiloohm}\n");
        AddSensors(text, site, table, LeakRoles);
        return text.ToString();
    }

    private static void AddSensors(StringBuilder text, SiteConfiguration site, UnitTable table, SignalRole[] roles)
    {
        foreach (VotingTable voting in table.Voting.Where(v => roles.Contains(v.Role)))
        {
            text.Append(CultureInfo.InvariantCulture, $"voting {(int)voting.Role} {(int)voting.Scheme}\n");
        }

        foreach (SignalTable signal in table.Signals.Where(s => roles.Contains(s.Role)))
        {
            PollBlock block = site.Blocks[signal.Block];
            LinkOptions link = site.Links[block.LinkIndex];
            text.Append(CultureInfo.InvariantCulture, $"{(int)signal.Role} {link.Name} {block.DeviceUnitId} {(int)block.Table} {block.Address + signal.WordOffset} {(int)signal.Type} {(int)signal.Order} {signal.Bit} {signal.BitCount} {signal.Scale} {signal.Offset}\n");
            AddDevice(text, site, block);
        }
    }

    /// <summary>A thermocouple input that was set to another type measures another temperature.</summary>
    private static void AddDevice(StringBuilder text, SiteConfiguration site, PollBlock block)
    {
        foreach (DeviceOptions device in site.Devices.Where(d => d.SettingsBlock >= 0 && d.LinkIndex == block.LinkIndex && d.UnitId == block.DeviceUnitId))
        {
            foreach (SettingPoint point in device.Settings)
            {
                text.Append(CultureInfo.InvariantCulture, $"{device.Name} {point.Name} {point.Address} {point.Mask} {string.Join(' ', point.Commissioned)}\n");
            }
        }
    }
}
