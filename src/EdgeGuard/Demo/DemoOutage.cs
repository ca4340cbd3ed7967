namespace EdgeGuard.Demo;

/// <summary>A fault on command that the guard must answer with a trip, and how the unit comes back from it.</summary>
internal sealed record DemoOutage
{
    /// <summary>Unit concerned.</summary>
    public required string Unit { get; init; }

    /// <summary>Name of the fault at the virtual plant.</summary>
    public required string Fault { get; init; }

    /// <summary>The fault in the table of figures.</summary>
    public required string What { get; init; }

    /// <summary>The fault in the story.</summary>
    public required string Told { get; init; }

    /// <summary>Function that must trip.</summary>
    public required string Function { get; init; }

    /// <summary>Longest time from the fault to power off, ms.</summary>
    public required int LimitMs { get; init; }

    /// <summary>Time from power proved off to the repair, s.</summary>
    public required int UntilRepairS { get; init; }

    /// <summary>The repair in the story.</summary>
    public required string RepairTold { get; init; }

    /// <summary>Time from the repair to the reset, s: what the fault left in the windows of the functions must be gone.</summary>
    public required int UntilResetS { get; init; }

    /// <summary>Reason of the reset.</summary>
    public required string Repaired { get; init; }

    /// <summary>Reason of the start.</summary>
    public required string GoesOn { get; init; }
}
