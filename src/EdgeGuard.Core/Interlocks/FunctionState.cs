namespace EdgeGuard.Core.Interlocks;

/// <summary>Verdict of one function in one scan.</summary>
public enum FunctionState : byte
{
    /// <summary>It cannot be judged (sensor not good); votes to trip where the function trips.</summary>
    NotGood = 0,

    /// <summary>Its condition is present and its delay has passed: it demands its reaction.</summary>
    Demand = 1,

    /// <summary>Its condition is present and its delay still runs.</summary>
    Pending = 2,

    /// <summary>Its alarm limit is passed, its trip limit is not.</summary>
    Alarm = 3,

    /// <summary>Its condition is absent.</summary>
    Healthy = 4,

    /// <summary>It is not fitted or not in force in this unit state.</summary>
    Idle = 5,
}
