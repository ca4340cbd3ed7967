using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Requests;

/// <summary>A request that has passed all checks of form.</summary>
/// <param name="Kind">What is asked for; never None.</param>
/// <param name="Unit">Index of the unit.</param>
/// <param name="UnitName">Name of the unit.</param>
/// <param name="Person">Who asks, with the user of the connection.</param>
/// <param name="Reason">Why.</param>
public sealed record RequestOrder(RequestKind Kind, int Unit, string UnitName, string Person, string Reason)
{
    /// <summary>Function of a bypass or of an alarm (None: the alarm of the trip); None for every other kind.</summary>
    public FunctionId Function { get; init; }

    /// <summary>Signal of a force; meaningless for every other kind.</summary>
    public SignalRole Signal { get; init; }

    /// <summary>Value of a force; 0 for every other kind.</summary>
    public double Value { get; init; }

    /// <summary>Minutes of a bypass, a force or on the shelf; 0 for every other kind.</summary>
    public ushort Minutes { get; init; }

    /// <summary>Number of what it is about: the signal of a force, the function of every other kind.</summary>
    public int Subject => Kind is RequestKind.Force or RequestKind.Unforce ? (int)Signal : (int)Function;

    /// <summary>It is about one alarm.</summary>
    public bool IsAboutAlarm => AlarmReader.IsAboutAlarm(Kind);

    /// <summary>It comes from another machine.</summary>
    public bool Remote { get; init; }
}
