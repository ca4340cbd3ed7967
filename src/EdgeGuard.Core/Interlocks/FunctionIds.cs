namespace EdgeGuard.Core.Interlocks;

/// <summary>Facts about the set of <see cref="FunctionId"/> values.</summary>
public static class FunctionIds
{
    /// <summary>Length of arrays indexed by function.</summary>
    public const int Count = (int)FunctionId.Self + 1;

    /// <summary>Functions evaluated for each unit in each scan: all but None; asserted.</summary>
    public const int EvaluatedEachScan = Count - 1;

    /// <summary>Reaction of a function in this release; an unknown function removes power.</summary>
    public static Reaction ReactionOf(FunctionId function) => function switch
    {
        FunctionId.Jrnl => Reaction.Controlled,
        FunctionId.Cool or FunctionId.Heat or FunctionId.Aftc or FunctionId.Dmnd => Reaction.Alarm,
        _ => Reaction.Removal,
    };

    /// <summary>True when a verdict forbids a reset and a permit: a removing function that demands, is on the way to it or cannot judge.</summary>
    public static bool Blocks(FunctionId function, FunctionState state) =>
        ReactionOf(function) == Reaction.Removal
        && state is FunctionState.Demand or FunctionState.Pending or FunctionState.NotGood;
}
