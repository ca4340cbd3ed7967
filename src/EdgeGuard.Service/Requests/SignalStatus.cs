namespace EdgeGuard.Service.Requests;

/// <summary>One signal at the latest copied scan.</summary>
/// <param name="Role">Name of the role.</param>
/// <param name="Value">Engineering value, the forced one where it is forced; absent when not a number.</param>
/// <param name="Good">True when an interlock may rely on it.</param>
/// <param name="Status">OPC UA status code, 8 hexadecimal digits.</param>
/// <param name="AgeMs">Age of the reading, ms.</param>
public sealed record SignalStatus(string Role, double? Value, bool Good, string Status, int AgeMs)
{
    /// <summary>The force of the signal with its real value; absent when it is not forced.</summary>
    public ForceStatus? Forced { get; init; }
}
