namespace EdgeGuard.Service.Configuration.Maps;

/// <summary>What a role measures; decides which units a point may have.</summary>
internal enum RoleDimension
{
    Digital = 0,
    Count = 1,
    Temperature = 2,
    MassFlow = 3,
    Power = 4,
    Percent = 5,
    Duration = 6,
    Current = 7,
    LeakageCurrent = 8,
    Resistance = 9,
}
