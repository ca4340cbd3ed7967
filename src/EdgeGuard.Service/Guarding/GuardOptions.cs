using EdgeGuard.Modbus.Client;
using Serilog;

namespace EdgeGuard.Service.Guarding;

/// <summary>What the caller decides about a run.</summary>
public sealed record GuardOptions
{
    /// <summary>Version of the program, for the journal.</summary>
    public required string Version { get; init; }

    /// <summary>Log for people; never used on the scan thread. Threads of the journal and the links write to it, so it must not wait: see <see cref="WaitlessSink"/>.</summary>
    public required ILogger Log { get; init; }

    /// <summary>Commands and answers of a conductor; null for real time.</summary>
    public ConductedConsole? Conductor { get; init; }

    /// <summary>Group whose members may use the request socket; null for none.</summary>
    public string? RequestGroup { get; init; }

    /// <summary>The publisher to keep running; null for none. Not started while conducted.</summary>
    public PublisherLaunch? Publisher { get; init; }

    /// <summary>Makes the connection of a link; null for Modbus TCP. A test passes devices in memory.</summary>
    public Func<LinkPlan, IModbusLink>? LinkFactory { get; init; }
}
