namespace EdgeGuard.Core.Interlocks;

/// <summary>Facts about the set of <see cref="FunctionId"/> values.</summary>
public static class FunctionIds
{
    /// <summary>Length of arrays indexed by function.</summary>
    public const int Count = (int)FunctionId.Bala + 1;

    /// <summary>Functions evaluated for each unit in each scan: all but None; asserted.</summary>
    public const int EvaluatedEachScan = Count - 1;

    /// <summary>Strongest reaction of a function; a verdict may ask for a milder one. An unknown function removes power.</summary>
    public static Reaction ReactionOf(FunctionId function) => function switch
    {
        FunctionId.Jrnl or FunctionId.Leak or FunctionId.Bala => Reaction.Controlled,
        FunctionId.Cool or FunctionId.Heat or FunctionId.Aftc or FunctionId.Dmnd => Reaction.Alarm,
        _ => Reaction.Removal,
    };

    /// <summary>
    /// Functions that a site may declare bypassable. Never: causes without a signal (START, STOP, SELF), the record
    /// (JRNL), the command path (CMDV, COMM), and HARD, since power that the chain has removed would come back without
    /// a reset. What only alarms has nothing to bypass.
    /// </summary>
    /// <param name="function">The function.</param>
    public static bool MayBeBypassed(FunctionId function) => function
        is FunctionId.Flow or FunctionId.Elem or FunctionId.Outl or FunctionId.Nors or FunctionId.Resd or FunctionId.Sens
            or FunctionId.Phas or FunctionId.Leak or FunctionId.Bala;

    /// <summary>True when a verdict forbids a reset and a permit: a removing function that demands, is on the way to it or cannot judge.</summary>
    public static bool Blocks(FunctionId function, FunctionState state) =>
        ReactionOf(function) == Reaction.Removal
        && state is FunctionState.Demand or FunctionState.Pending or FunctionState.NotGood;

    /// <summary>
    /// True when a verdict forbids a start and a permit: what forbids a reset, and what would shut down again at once.
    /// </summary>
    /// <param name="status">The verdict.</param>
    public static bool BlocksPermit(in FunctionStatus status) =>
        Blocks(in status) || (!status.Bypassed && status is { Reaction: Reaction.Controlled, State: FunctionState.Demand or FunctionState.NotGood });

    /// <summary>The same for a verdict with its reaction and bypass.</summary>
    /// <param name="status">The verdict.</param>
    public static bool Blocks(in FunctionStatus status) =>
        !status.Bypassed && status.Reaction == Reaction.Removal
        && status.State is FunctionState.Demand or FunctionState.Pending or FunctionState.NotGood;
}
