using EdgeGuard.Core.Signals;

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

    /// <summary>
    /// True when the verdict of a function rests on a signal that may be forced. What only alarms (COOL, HEAT, AFTC) goes on
    /// with real values.
    /// </summary>
    /// <param name="function">The function.</param>
    /// <param name="role">The signal.</param>
    public static bool RestsOn(FunctionId function, SignalRole role) => function switch
    {
        FunctionId.Flow => IsFlow(role) || IsElement(role) || role == SignalRole.InletTemperature,
        FunctionId.Elem => IsElement(role),
        FunctionId.Outl => IsOutlet(role),
        FunctionId.Nors or FunctionId.Sens => IsElement(role) || IsOutlet(role) || IsFlow(role),
        FunctionId.Bala => IsElement(role) || IsOutlet(role) || IsFlow(role) || role == SignalRole.InletTemperature,
        FunctionId.Phas => role is SignalRole.CurrentL1 or SignalRole.CurrentL2 or SignalRole.CurrentL3,
        FunctionId.Leak => role is SignalRole.EarthLeakage or SignalRole.Insulation,
        _ => false,
    };

    /// <summary>The roles of <see cref="RestsOn"/> as one bit each.</summary>
    internal static ulong InputsOf(FunctionId function)
    {
        ulong inputs = 0;
        for (int role = 0; role < SignalRoles.Count; role++)
        {
            inputs |= RestsOn(function, (SignalRole)role) ? 1UL << role : 0;
        }

        return inputs;
    }

    private static bool IsElement(SignalRole role) => role is SignalRole.ElementTemperature or SignalRole.ElementTemperature2 or SignalRole.ElementTemperature3;

    private static bool IsOutlet(SignalRole role) => role is SignalRole.OutletTemperature or SignalRole.OutletTemperature2 or SignalRole.OutletTemperature3;

    private static bool IsFlow(SignalRole role) => role is SignalRole.GasFlow or SignalRole.GasFlow2 or SignalRole.GasFlow3;

    /// <summary>Functions that judge by something they have learnt, which a person can let them learn anew.</summary>
    /// <param name="function">The function.</param>
    public static bool Learns(FunctionId function) => function is FunctionId.Sens or FunctionId.Phas or FunctionId.Bala;

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
