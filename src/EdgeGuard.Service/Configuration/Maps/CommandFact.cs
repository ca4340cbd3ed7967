using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Configuration.Maps;

/// <summary>Name of a command role, the signal that reads it back and how far a read-back may differ.</summary>
internal sealed record CommandFact(string Name, CommandRole Role, SignalRole ReadBack, double Tolerance);
