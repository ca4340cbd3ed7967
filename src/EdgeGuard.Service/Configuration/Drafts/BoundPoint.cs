using EdgeGuard.Core.Thermal;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Drafts;

/// <summary>A point of a device bound to a role of a unit.</summary>
/// <param name="Device">The device that holds the point.</param>
/// <param name="Point">The row of its map.</param>
/// <param name="Dimension">What the role measures.</param>
internal sealed record BoundPoint(DeviceDraft Device, RegisterPoint Point, RoleDimension Dimension)
{
    public string Description => $"{Device.Name}.{Point.Name}, {Point.AddressText}";

    /// <summary>Scale and offset from raw to the core's unit.</summary>
    public (double Scale, double Offset) CoreScale(Gas gas)
    {
        (double factor, double shift) = EngineeringUnits.ToCore(Dimension, Point.Unit, gas);
        return (Point.Scale * factor, (Point.Offset * factor) + shift);
    }

    /// <summary>Plausible range in the core's unit.</summary>
    public (double Min, double Max) CoreRange(Gas gas)
    {
        (double factor, double shift) = EngineeringUnits.ToCore(Dimension, Point.Unit, gas);
        double min = double.IsNaN(Point.Min) ? 0 : Point.Min;
        double max = double.IsNaN(Point.Max) ? UnstatedMax : Point.Max;
        return ((min * factor) + shift, (max * factor) + shift);
    }

    /// <summary>Only states and tokens may leave their range unstated.</summary>
    private double UnstatedMax => Dimension switch
    {
        RoleDimension.Digital => 1,
        RoleDimension.Count => ushort.MaxValue,
        _ => double.NaN,
    };
}
