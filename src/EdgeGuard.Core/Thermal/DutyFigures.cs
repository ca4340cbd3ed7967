namespace EdgeGuard.Core.Thermal;

/// <summary>All that a <see cref="DutyCounter"/> has counted, so that it outlives a run. Times in ms, so that another scan period changes nothing.</summary>
public struct DutyFigures
{
    /// <summary>Energy, Wh, 0 or above.</summary>
    public long WattHours;

    /// <summary>Energy beyond that, J, 0 to 3600.</summary>
    public double RemainderJoule;

    /// <summary>Time with power, ms.</summary>
    public long PoweredMs;

    /// <summary>Time in which the power was not known, ms.</summary>
    public long UnknownMs;

    /// <summary>Times the contactor was seen to close.</summary>
    public int ContactorClosings;

    /// <summary>Times it opened under power.</summary>
    public int OpeningsUnderPower;
}
