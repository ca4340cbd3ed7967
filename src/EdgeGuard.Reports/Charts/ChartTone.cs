namespace EdgeGuard.Reports.Charts;

/// <summary>Colour meaning of a band, a mark or a line of a story; always beside a word, never instead of one.</summary>
public enum ChartTone : byte
{
    /// <summary>No meaning.</summary>
    Neutral = 0,

    /// <summary>Heating or holding.</summary>
    Hot = 1,

    /// <summary>Cooling.</summary>
    Cool = 2,

    /// <summary>Waiting or proving.</summary>
    Waiting = 3,

    /// <summary>Tripped, or a limit broken.</summary>
    Fault = 4,
}
