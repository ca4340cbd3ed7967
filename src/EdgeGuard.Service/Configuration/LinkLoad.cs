namespace EdgeGuard.Service.Configuration;

/// <summary>What polling and cyclic writing ask of a link, computed from the settings.</summary>
public sealed record LinkLoad
{
    /// <summary>Read requests of the link, those of slower rates included.</summary>
    public required int Requests { get; init; }

    /// <summary>Registers and bits they read, gaps included.</summary>
    public required int Values { get; init; }

    /// <summary>Mean bus time of polling in a scan, ms.</summary>
    public required double PollMs { get; init; }

    /// <summary>Bus time of polling in the scan in which every request is due, ms.</summary>
    public required double WorstPollMs { get; init; }

    /// <summary>Bus time of the writes of a scan under a permit (permit token and led setpoint of each enforced unit), ms.</summary>
    public required double WriteMs { get; init; }

    /// <summary>The longest single transaction, ms: a removal waits for it at most, if the device answers.</summary>
    public required double LongestMs { get; init; }

    /// <summary>True when every answer delay, and the rate of a serial line, is stated in the site file.</summary>
    public required bool Stated { get; init; }

    /// <summary>Mean bus time of a scan under a permit, ms.</summary>
    public double CycleMs => PollMs + WriteMs;
}
