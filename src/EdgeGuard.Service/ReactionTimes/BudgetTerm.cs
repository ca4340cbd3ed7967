using System.Globalization;

namespace EdgeGuard.Service.ReactionTimes;

/// <summary>One term of a reaction time.</summary>
/// <param name="Kind">What takes the time.</param>
/// <param name="Ms">How long, ms.</param>
public sealed record BudgetTerm(BudgetTermKind Kind, double Ms)
{
    /// <summary>The term in words.</summary>
    public string Name => Kind switch
    {
        BudgetTermKind.SensorLag => "sensor lag",
        BudgetTermKind.MeterDamping => "meter damping",
        BudgetTermKind.Poll => "poll",
        BudgetTermKind.Scan => "scan",
        BudgetTermKind.LostAnswers => "lost answers",
        BudgetTermKind.Delay => "delay",
        BudgetTermKind.Blanking => "blanking",
        BudgetTermKind.Proof => "proof",
        BudgetTermKind.Write => "write",
        BudgetTermKind.Watchdog => "watchdog",
        BudgetTermKind.Staleness => "value grows stale",
        _ => "contactor",
    };

    /// <summary>A time for a reader: seconds with two digits at most.</summary>
    /// <param name="ms">The time, ms.</param>
    public static string Seconds(double ms) =>
        double.IsPositiveInfinity(ms) ? "without end" : string.Create(CultureInfo.InvariantCulture, $"{ms / 1000:0.##} s");

    /// <summary>"meter damping 1.16 s".</summary>
    public override string ToString() => $"{Name} {Seconds(Ms)}";
}
