namespace EdgeGuard.Core.Interlocks;

/// <summary>Settings of LEAK: earth leakage and insulation, each judged where its signal is fitted.</summary>
public sealed record LeakTable
{
    /// <summary>Earth leakage that is an alarm, mA.</summary>
    public double LeakageAlarmMilliampere { get; init; } = double.PositiveInfinity;

    /// <summary>Earth leakage that shuts down in a controlled way, mA.</summary>
    public double LeakageLimitMilliampere { get; init; } = double.PositiveInfinity;

    /// <summary>Insulation that is an alarm, kΩ.</summary>
    public double InsulationAlarmKiloohm { get; init; }

    /// <summary>Insulation that shuts down in a controlled way, kΩ.</summary>
    public double InsulationLimitKiloohm { get; init; }

    /// <summary>A trend that reaches the alarm limit within this many days of guarding is an alarm; 0: not judged.</summary>
    public int TrendDays { get; init; }

    /// <summary>Delay, ms.</summary>
    public required int DelayMs { get; init; }
}
