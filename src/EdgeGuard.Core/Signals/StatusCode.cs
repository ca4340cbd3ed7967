namespace EdgeGuard.Core.Signals;

/// <summary>
/// Status of a value as a 32-bit OPC UA status code, so that publication passes it on unchanged.
/// Source: OPC Foundation, UA-Nodeset, Schema/StatusCode.csv.
/// </summary>
public static class StatusCode
{
    /// <summary>The value is good.</summary>
    public const uint Good = 0x00000000;

    /// <summary>The value is not the device's: a person has forced it for a time. Good, since the functions judge it.</summary>
    public const uint GoodLocalOverride = 0x00960000;

    /// <summary>The link is lost; the value is the last usable one and carries its original source time.</summary>
    public const uint UncertainNoCommunicationLastUsableValue = 0x408F0000;

    /// <summary>Non-specific bad; also the meaning of a default-initialised <see cref="SignalValue"/>, see there.</summary>
    public const uint Bad = 0x80000000;

    /// <summary>The device answered with an error or an unusable frame.</summary>
    public const uint BadCommunicationError = 0x80050000;

    /// <summary>The device did not answer within its limit and the hold time has passed.</summary>
    public const uint BadNoCommunication = 0x80310000;

    /// <summary>No answer has arrived since start.</summary>
    public const uint BadWaitingForInitialData = 0x80320000;

    /// <summary>The words cannot be a value in the configured type or word order (NaN, infinite, subnormal).</summary>
    public const uint BadConfigurationError = 0x80890000;

    /// <summary>The signal was never configured.</summary>
    public const uint BadNotConnected = 0x808A0000;

    /// <summary>The value is outside its plausible range or is a sentinel for a broken sensor.</summary>
    public const uint BadSensorFailure = 0x808C0000;

    /// <summary>True when the two severity bits say Good.</summary>
    public static bool IsGood(uint code) => code >> 30 == 0;
}
