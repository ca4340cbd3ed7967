namespace EdgeGuard.Modbus.Transports;

/// <summary>How a client treats an RTU line. The response time-out is that of each call.</summary>
public sealed record RtuLinkOptions
{
    /// <summary>Silence kept before each request, ms, 0 to 1000; 0: t3.5 of the bit rate on a serial line, none over TCP.</summary>
    public int InterFrameGapMs { get; init; }

    /// <summary>Silence after which the line is trusted again once a frame was wrong, ms, 1 to 1000. Longer than the delays of USB adapters (16 ms) and of the network.</summary>
    public int ResyncSilenceMs { get; init; } = 20;

    /// <summary>
    /// After a request without a fitting answer the same unit is asked again only after this time, ms, 0 to 60000,
    /// because a late answer cannot be told from the right one; 0: once more the time-out of that request. Other units
    /// are served meanwhile.
    /// </summary>
    public int LateAnswerGuardMs { get; init; }

    /// <summary>Pause after a broadcast in which the devices carry it out, ms, 0 to 1000.</summary>
    public int TurnaroundMs { get; init; } = Framing.SerialTiming.TypicalTurnaroundMs;

    /// <summary>True when the adapter hears what it sends (two-wire lines): each request is taken off the input again. Without it a write could be taken for its own echo.</summary>
    public bool HasLocalEcho { get; init; }

    /// <summary>RTU over TCP: the connection is closed after so many requests in a row without a byte from anyone, 1 to 100; it may be half open.</summary>
    public int SilentRequestsMax { get; init; } = 3;

    internal void Validate()
    {
        Within(InterFrameGapMs, 0, 1000, nameof(InterFrameGapMs));
        Within(ResyncSilenceMs, 1, 1000, nameof(ResyncSilenceMs));
        Within(LateAnswerGuardMs, 0, 60_000, nameof(LateAnswerGuardMs));
        Within(TurnaroundMs, 0, 1000, nameof(TurnaroundMs));
        Within(SilentRequestsMax, 1, 100, nameof(SilentRequestsMax));
    }

    private static void Within(int value, int min, int max, string name)
    {
        if (value < min || value > max)
        {
            throw new ArgumentOutOfRangeException(name, value, $"Must be {min} to {max}.");
        }
    }
}
