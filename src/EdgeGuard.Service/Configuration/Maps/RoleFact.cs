using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Configuration.Maps;

/// <summary>Name and dimension of a signal role.</summary>
internal sealed record RoleFact(string Name, SignalRole Role, RoleDimension Dimension);
