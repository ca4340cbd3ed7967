namespace EdgeGuard.Service.Guarding;

/// <summary>How the guard starts its publisher.</summary>
public sealed record PublisherLaunch
{
    /// <summary>The program and its arguments. It ends when its standard input ends, and an empty line on its standard output is a sign of life.</summary>
    public required IReadOnlyList<string> Command { get; init; }

    /// <summary>Memory it may take, MiB.</summary>
    public required int MemoryLimitMb { get; init; }

    /// <summary>Wait before a start after the first early end, ms; doubled with each further one.</summary>
    public int BackOffMs { get; init; } = 100;

    /// <summary>Longest wait before a start, ms.</summary>
    public int BackOffMsMax { get; init; } = 60_000;

    /// <summary>An end within this time of the start is an early one, ms.</summary>
    public int SettledMs { get; init; } = 10_000;

    /// <summary>Time between two looks at its memory, state and signs of life, ms. Stopped by a signal in two looks in a row, it is ended.</summary>
    public int LookMs { get; init; } = 200;

    /// <summary>Without a sign of life for so long it hangs and is ended, ms.</summary>
    public int SilentMs { get; init; } = 5_000;

    /// <summary>Time for the first sign of life, ms: a start on a loaded machine is slow.</summary>
    public int FirstSignMs { get; init; } = 60_000;

    /// <summary>Time for an orderly end, ms.</summary>
    public int StopMs { get; init; } = 3_000;
}
