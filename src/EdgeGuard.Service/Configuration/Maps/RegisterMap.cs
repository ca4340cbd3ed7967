namespace EdgeGuard.Service.Configuration.Maps;

/// <summary>A register map; points with a fault are left out, <see cref="Complete"/> is false then.</summary>
internal sealed record RegisterMap(string File, IReadOnlyList<RegisterPoint> Points, bool Complete)
{
    public RegisterPoint? Find(string name) => Points.FirstOrDefault(p => string.Equals(p.Name, name, StringComparison.Ordinal));
}
