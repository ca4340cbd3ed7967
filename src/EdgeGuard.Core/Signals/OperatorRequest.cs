namespace EdgeGuard.Core.Signals;

/// <summary>At most one request per unit and scan. Person and reason stand in the journal under the same id.</summary>
public struct OperatorRequest
{
    /// <summary>What is asked for.</summary>
    public RequestKind Kind;

    /// <summary>Identity of the request; positive, never reused within a run.</summary>
    public long Id;

    /// <summary>Function to be bypassed or taken into force again, or whose alarm is meant (None the alarm of the trip); None for every other kind.</summary>
    public Interlocks.FunctionId Function;

    /// <summary>Time of a bypass, a force or on the shelf, minutes; 0 for every other kind.</summary>
    public ushort Minutes;

    /// <summary>Signal to be forced or released again; meaningless for every other kind.</summary>
    public SignalRole Signal;

    /// <summary>Value to force, in the engineering unit of the signal; 0 for every other kind.</summary>
    public double Value;

    /// <summary>True when the request arrived from outside the machine (remote reset is off unless configured).</summary>
    public bool Remote;
}
