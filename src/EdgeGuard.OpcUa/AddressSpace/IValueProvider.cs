namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>Makes the value of a variable at the moment it is read, such as the current time or a counter of the server.</summary>
public interface IValueProvider
{
    /// <summary>The value now; called by many threads at once, so it must not wait and should not allocate.</summary>
    /// <param name="caller">Who asks; for the sampling of a monitored item the owner of its session.</param>
    /// <param name="now">Time of the request.</param>
    DataValue Read(CallerContext caller, UaDateTime now);
}
