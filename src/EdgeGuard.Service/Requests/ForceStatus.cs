namespace EdgeGuard.Service.Requests;

/// <summary>The force of one signal at the latest copied scan.</summary>
/// <param name="RealValue">What the device says; absent when that is not good.</param>
/// <param name="RealStatus">Status of the real value, OPC UA status code, 8 hexadecimal digits.</param>
/// <param name="SecondsLeft">Time until the force expires, s.</param>
/// <param name="Demands">Demands of the real value that did not take effect since the force began.</param>
public sealed record ForceStatus(double? RealValue, string RealStatus, int SecondsLeft, int Demands);
