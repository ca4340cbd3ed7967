using EdgeGuard.Core.Interlocks;
using EdgeGuard.Service.Configuration.Drafts;

namespace EdgeGuard.Service.Configuration.Building;

/// <summary>Makes the written points of a unit, one place a role.</summary>
internal static class CommandBuilder
{
    public static CommandPoint?[] Build(UnitDraft unit)
    {
        var points = new CommandPoint?[CommandRoles.Count];
        foreach ((CommandRole role, BoundPoint bound) in unit.BoundCommands)
        {
            (double scale, double offset) = bound.CoreScale(unit.Gas);
            (double min, double max) = bound.CoreRange(unit.Gas);
            points[(int)role] = new CommandPoint
            {
                Unit = unit.Index,
                Role = role,
                LinkIndex = bound.Device.Link,
                DeviceUnitId = (byte)bound.Device.UnitId,
                Table = bound.Point.Table,
                Address = (ushort)bound.Point.Address,
                Type = bound.Point.Type,
                Order = bound.Point.Order,
                Scale = scale,
                Offset = offset,
                Min = min,
                Max = max,
                Volatile = bound.Point.Volatile,
                Description = bound.Description,
            };
        }

        return points;
    }
}
