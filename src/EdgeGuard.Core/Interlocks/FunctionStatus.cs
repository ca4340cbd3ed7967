namespace EdgeGuard.Core.Interlocks;

/// <summary>Verdict of one function with the figures behind it.</summary>
public struct FunctionStatus
{
    /// <summary>Verdict.</summary>
    public FunctionState State;

    /// <summary>Reaction this verdict asks for if it demands; removal unless the function found something milder.</summary>
    public Reaction Reaction;

    /// <summary>A person has bypassed the function: it is judged and counted, its demand has no effect.</summary>
    public bool Bypassed;

    /// <summary>Time until the bypass expires, s, rounded up; 0 when not bypassed.</summary>
    public int BypassSecondsLeft;

    /// <summary>The real values demand and a forced one keeps that from taking effect: counted, an alarm, no trip.</summary>
    public bool ForcedDemand;

    /// <summary>Which of several conditions was found.</summary>
    public Finding Finding;

    /// <summary>Value judged, in the unit of the function.</summary>
    public double Value;

    /// <summary>Limit in force, same unit.</summary>
    public double Limit;

    /// <summary>Scan in which the condition became present without interruption; −1 when absent.</summary>
    public long SinceScan;
}
