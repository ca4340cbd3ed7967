namespace EdgeGuard.Service.Requests;

/// <summary>Limits of the request socket; every one of them is tested.</summary>
public static class RequestLimits
{
    /// <summary>Longest request line, bytes, line feed included.</summary>
    public const int LineBytesMax = 4096;

    /// <summary>Longest reason or person, characters.</summary>
    public const int TextCharactersMax = 300;

    /// <summary>Clients served at the same time; a further one is told so and closed.</summary>
    public const int ClientsMax = 8;

    /// <summary>Time in which a client must have sent its line, ms.</summary>
    public const int ReceiveLimitMs = 2_000;

    /// <summary>Time in which the scan must have decided, ms.</summary>
    public const int DecisionLimitMs = 5_000;

    /// <summary>Longest bypass that can be asked for, minutes; a site allows at most this.</summary>
    public const int BypassMinutesMax = 1_440;

    /// <summary>Longest force that can be asked for, minutes: a shift. A site allows at most this.</summary>
    public const int ForceMinutesMax = 480;

    /// <summary>Longest time on the shelf that can be asked for, minutes; a site allows at most this.</summary>
    public const int ShelfMinutesMax = 1_440;

    /// <summary>Longest path of a Unix domain socket on Linux, bytes (sun_path of 108 with its closing zero, unix(7), from memory).</summary>
    public const int SocketPathBytesMax = 107;
}
