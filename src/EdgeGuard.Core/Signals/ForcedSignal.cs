namespace EdgeGuard.Core.Signals;

/// <summary>One signal a person has forced, with the real value beside it. A default-initialised one is none.</summary>
public struct ForcedSignal
{
    /// <summary>The force is in effect in this scan.</summary>
    public bool Active;

    /// <summary>The signal.</summary>
    public SignalRole Role;

    /// <summary>What the device says, with its own status and age.</summary>
    public SignalValue Real;

    /// <summary>Time until the force expires, s, rounded up.</summary>
    public int SecondsLeft;

    /// <summary>Demands of the real value that did not take effect since the force began.</summary>
    public int Demands;
}
