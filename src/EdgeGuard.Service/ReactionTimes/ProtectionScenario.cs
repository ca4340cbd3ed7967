namespace EdgeGuard.Service.ReactionTimes;

/// <summary>A fault whose course is computed, so that the time of a function can be held against it.</summary>
public enum ProtectionScenario
{
    /// <summary>The gas is gone at full power: the wire heats as if nothing took heat from it.</summary>
    DryFire = 0,

    /// <summary>Full power with gas: the controller or its sensor is wrong. The rise of dry fire bounds it.</summary>
    Runaway = 1,

    /// <summary>A shorted leg leaves half the power after removal, and no gas is counted on.</summary>
    ResidualPower = 2,
}
