namespace EdgeGuard.Service.ReactionTimes;

/// <summary>A part of the time between a fault and the removal of power.</summary>
public enum BudgetTermKind
{
    /// <summary>Lag of a temperature sensor: behind a steady rise it shows what was that long ago.</summary>
    SensorLag = 0,

    /// <summary>Damping of the flow meter, from the end of its range down to the limit.</summary>
    MeterDamping = 1,

    /// <summary>Age of a value when the scan judges it.</summary>
    Poll = 2,

    /// <summary>A change just after the poll waits for the next scan.</summary>
    Scan = 3,

    /// <summary>Answers lost in a row.</summary>
    LostAnswers = 4,

    /// <summary>Trip delay, rounded up to whole scans.</summary>
    Delay = 5,

    /// <summary>Blanking after removal.</summary>
    Blanking = 6,

    /// <summary>Proof of residual power.</summary>
    Proof = 7,

    /// <summary>Until the write is answered.</summary>
    Write = 8,

    /// <summary>The write never arrives: the cabinet's watchdog removes power.</summary>
    Watchdog = 9,

    /// <summary>The contactor opens.</summary>
    Contactor = 10,

    /// <summary>All answers are lost: the latest value counts as good until it is stale.</summary>
    Staleness = 11,
}
