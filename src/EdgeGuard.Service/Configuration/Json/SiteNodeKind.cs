namespace EdgeGuard.Service.Configuration.Json;

/// <summary>Kind of a positioned JSON value.</summary>
internal enum SiteNodeKind
{
    Null = 0,
    Flag = 1,
    Number = 2,
    Text = 3,
    List = 4,
    Group = 5,
}
