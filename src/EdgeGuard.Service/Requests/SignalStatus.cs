namespace EdgeGuard.Service.Requests;

/// <summary>One signal at the latest copied scan.</summary>
/// <param name="Role">Name of the role.</param>
/// <param name="Value">Engineering value; absent when not a number.</param>
/// <param name="Good">True when an interlock may rely on it.</param>
/// <param name="Status">OPC UA status code, 8 hexadecimal digits.</param>
/// <param name="AgeMs">Age of the reading, ms.</param>
public sealed record SignalStatus(string Role, double? Value, bool Good, string Status, int AgeMs);
