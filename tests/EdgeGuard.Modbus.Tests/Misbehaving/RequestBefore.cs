namespace EdgeGuard.Modbus.Tests.Misbehaving;

/// <summary>What became of the request before the one that meets a fault.</summary>
internal enum RequestBefore
{
    /// <summary>The same request to unit 1, answered well.</summary>
    Answered = 0,

    /// <summary>The same request to unit 2, not answered in time.</summary>
    OtherUnitSilent = 1,

    /// <summary>A request of another function to unit 1, not answered in time.</summary>
    OtherFunctionSilent = 2,

    /// <summary>The same request to unit 1, not answered in time.</summary>
    SameSilent = 3,
}
